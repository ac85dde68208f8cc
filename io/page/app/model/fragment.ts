import type { SceneData } from "../data/wire";
import { fromMm, type Units } from "./numbers";
import type { Station } from "./setup";

// The stations as a piece of a scene file: its `stations.fixed`, whole, so that it can be put in
// place of what the scene has there.

interface FixedPlace {
  name: string;
  at: number[];
  keep?: boolean;
}

/** Fixed places and zones share one name space. */
function nameInScene(scene: SceneData, station: Station): string {
  const zones = new Set(scene.zones.map((zone) => zone.name));
  let name = station.name;
  while (zones.has(name)) name += " station";
  return name;
}

/** Every present station with `keep`, so that a new plan is made round them; then the scene's fixed
 * places that the user did not turn into stations, as candidates. */
export function fixedPlaces(
  scene: SceneData,
  units: Units,
  stations: readonly Station[],
): FixedPlace[] {
  const kept = stations.map((station) => ({
    name: nameInScene(scene, station),
    at: [...station.at],
    keep: true,
  }));
  const taken = new Set(kept.map((place) => place.name));
  const others = scene.fixed_stations
    .filter((place) => !taken.has(place.name))
    .map((place) => ({ name: place.name, at: [...fromMm(units, place.at)] }));
  return [...kept, ...others];
}

export function fragmentText(scene: SceneData, units: Units, stations: readonly Station[]): string {
  const places = fixedPlaces(scene, units, stations).map((place) => `    ${JSON.stringify(place)}`);
  return `{\n  "stations": {"fixed": [\n${places.join(",\n")}\n  ]}\n}\n`;
}
