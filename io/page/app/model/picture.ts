import type { Sight, Vec3 } from "../data/wire";
import { floorUnder, zoneAt } from "./floor";
import { toMm } from "./numbers";
import { missOfPlan, missOfSight, type Miss } from "./reasons";
import { rowsOf, type Row } from "./rows";
import { isAsPlanned, isMoved, sameplace, type Station } from "./setup";
import { changesOf, standings, tallyOf, type Changes, type Standing, type Tally } from "./standing";
import type { Store } from "./store";
import type { Ties } from "./ties";

// All that is shown, worked out once from the state and from what has been traced.

export interface StationNote {
  body: string | null; // what it would cut
  isOutside: boolean; // of every zone
  isLoose: boolean; // not tied to the rest
  floor: number; // scene units
  full: number; // features it measures
  stylus: number;
  nests: number; // it takes by full target
}

export interface Picture {
  stations: readonly Station[];
  notes: Map<number, StationNote>;
  standings: Standing[];
  changes: Changes;
  tally: Tally;
  rows: Row[];
  ties: Ties;
  isAsPlanned: boolean;
  isTracing: boolean;
  sights: Sight[];
  nearest: (number | null)[] | null; // for each feature one of the sights, once all are known
}

export function pictureOf(store: Store): Picture {
  const { plan, scene, setup } = store;
  const known = store.known();
  const now = standings(plan, setup.stations, known.marks);
  const changes = changesOf(plan, now);
  const picture: Picture = {
    stations: setup.stations,
    notes: new Map(),
    standings: now,
    changes,
    tally: tallyOf(plan, now, scene.rules.stations_per_feature),
    rows: rowsOf(plan, setup.stations, now, changes),
    ties: known.ties,
    isAsPlanned: isAsPlanned(setup, plan),
    isTracing: known.isTracing,
    sights: known.sights,
    nearest: known.nearest,
  };
  for (const station of setup.stations) {
    const nests = known.marks.get(station.id)?.nests ?? [];
    picture.notes.set(station.id, {
      ...placeNotes(store, station),
      body: known.bodies.get(station.id) ?? null,
      isLoose: known.ties.loose.includes(station.id),
      full: countOf(now, station.id, "full-target"),
      stylus: countOf(now, station.id, "offset-stylus"),
      nests: nests.filter((mark) => mark.verdict === "full-target").length,
    });
  }
  return picture;
}

function countOf(now: readonly Standing[], id: number, verdict: Standing["verdict"]): number {
  return now.filter((s) => s.station === id && s.verdict === verdict).length;
}

function placeNotes(store: Store, station: Station): { isOutside: boolean; floor: number } {
  const at = toMm(store.units, station.at);
  const { scene, units } = store;
  // A place of the plan is one of its candidates, fixed ones among them: nothing to be told.
  const isOutside = isMoved(station) && scene.zones.length > 0 && zoneAt(scene, at) === null;
  return { isOutside, floor: floorUnder(scene, at) / units.mm };
}

/** Where a blocked feature comes nearest, and why it fails there; null while it is being traced. */
export function missOf(store: Store, picture: Picture, feature: number): Miss | null {
  const nearest = picture.nearest?.[feature];
  const sight = typeof nearest === "number" ? picture.sights[nearest] : undefined;
  if (sight) return missOfSight(sight, feature);
  const planned = picture.isAsPlanned ? missOfPlan(store.plan, feature) : null;
  const isHere = picture.stations.some((station) => planned && sameplace(station.at, planned.at));
  return isHere ? planned : null;
}

/** The name of the station that stands at a place of a sight. */
export function stationAt(picture: Picture, at: Vec3): Station | null {
  return picture.stations.find((station) => sameplace(station.at, at)) ?? null;
}
