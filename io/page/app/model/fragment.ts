import type { SceneData, Vec3 } from "../data/wire";
import { fromMm, type Units } from "./numbers";
import { sameplace, upright, type Station } from "./setup";

// The stations as the scene file has them: its `stations.fixed`, whole, to replace the old one.

interface FixedStation {
  name: string;
  at: number[];
  keep?: boolean;
  cost?: number;
  instrument_up?: number[];
  instrument_ups?: number[][];
}

/** Fixed stations and zones share one name space. */
function nameInScene(scene: SceneData, station: Station): string {
  const zones = new Set(scene.zones.map((zone) => zone.name));
  let name = station.name;
  while (zones.has(name)) name += " station";
  return name;
}

/** What the scene file says of how an instrument stands: nothing of one that stands upright. */
function standing(ups: readonly Vec3[]): Pick<FixedStation, "instrument_up" | "instrument_ups"> {
  const [up, ...others] = ups;
  if (others.length > 0) return { instrument_ups: ups.map((one) => [...one]) };
  return up === undefined || sameplace(up, upright) ? {} : { instrument_up: [...up] };
}

/** Every present station with `keep`, so that a new plan is made round them; then the scene's fixed
 * stations that the user did not turn into stations, as candidates. */
export function fixedStations(
  scene: SceneData,
  units: Units,
  stations: readonly Station[],
): FixedStation[] {
  const kept = stations.map((station) => ({
    name: nameInScene(scene, station),
    at: [...station.at],
    keep: true,
    ...standing([station.up]),
  }));
  const taken = new Set(kept.map((one) => one.name));
  const others = scene.fixed_stations
    .filter((one) => !taken.has(one.name))
    .map((one) => ({
      name: one.name,
      at: [...fromMm(units, one.at)],
      ...(one.cost === 1 ? {} : { cost: one.cost }),
      ...standing(one.instrument_ups),
    }));
  return [...kept, ...others];
}

export function fragmentText(scene: SceneData, units: Units, stations: readonly Station[]): string {
  const lines = fixedStations(scene, units, stations).map((one) => `    ${JSON.stringify(one)}`);
  return `{\n  "stations": {"fixed": [\n${lines.join(",\n")}\n  ]}\n}\n`;
}
