import type { PlanData, Sight, Touch, Vec3 } from "../data/wire";
import { floorUnder, keepOutAt, zoneAt } from "./floor";
import { toMm } from "./numbers";
import { missOfPlan, missOfSight, type Miss } from "./reasons";
import { rowsOf, type Row } from "./rows";
import { isAsPlanned, isMoved, sameplace, upright, type Station } from "./setup";
import { changesOf, statusesOf, tallyOf, type Changes, type Status, type Tally } from "./status";
import type { Store } from "./store";
import type { Ties } from "./ties";

// What the present set-up gives: all that is shown, worked out once.

export interface StationNote {
  body: string | null; // what it would cut
  isOutside: boolean; // of every zone
  keepOut: string | null; // over which it stands
  isLoose: boolean; // not tied to the rest
  floor: number; // scene units
  full: number; // features it measures
  stylus: number;
  nests: number; // it takes by full target
}

export interface Outcome {
  stations: readonly Station[];
  notes: Map<number, StationNote>;
  statuses: Status[];
  changes: Changes;
  tally: Tally;
  rows: Row[];
  ties: Ties;
  isAsPlanned: boolean;
  isTracing: boolean;
  sights: Sight[];
  nearest: (number | null)[] | null; // for each feature one of the sights, once all are known
}

export function outcomeOf(store: Store): Outcome {
  const { plan, scene, setup } = store;
  const known = store.known();
  const now = statusesOf(plan, setup.stations, known.marks, known.shared);
  const changes = changesOf(plan, now);
  const outcome: Outcome = {
    stations: setup.stations,
    notes: new Map(),
    statuses: now,
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
    outcome.notes.set(station.id, {
      ...placeNotes(store, station),
      body: known.bodies.get(station.id) ?? null,
      isLoose: known.ties.loose.includes(station.id),
      full: countOf(now, station.id, "full-target"),
      stylus: countOf(now, station.id, "offset-stylus"),
      nests: nests.filter((mark) => mark.verdict === "full-target").length,
    });
  }
  return outcome;
}

function countOf(now: readonly Status[], id: number, verdict: Status["verdict"]): number {
  return now.filter((s) => (s.station === id || s.shared?.includes(id)) && s.verdict === verdict)
    .length;
}

function placeNotes(
  store: Store,
  station: Station,
): { isOutside: boolean; keepOut: string | null; floor: number } {
  const at = toMm(store.units, station.at);
  const { scene, units } = store;
  // A place of the plan is one of its candidates, fixed ones among them: nothing to be told.
  const isOutside = isMoved(station) && scene.zones.length > 0 && zoneAt(scene, at) === null;
  const keepOut = keepOutAt(scene, at);
  return { isOutside, keepOut, floor: floorUnder(scene, at) / units.mm };
}

/** Where a blocked feature comes nearest, and why it fails there; null while it is being traced. */
export function missOf(store: Store, outcome: Outcome, feature: number): Miss | null {
  const nearest = outcome.nearest?.[feature];
  const sight = typeof nearest === "number" ? outcome.sights[nearest] : undefined;
  if (sight) return missOfSight(sight, feature);
  const planned = outcome.isAsPlanned ? missOfPlan(store.plan, feature) : null;
  const there = outcome.sights.find((one) => planned && isFrom(one, planned));
  if (there) return missOfSight(there, feature);
  const isHere = outcome.stations.some((station) => planned && isFrom(station, planned));
  return isHere ? planned : null;
}

interface Stance {
  at: Vec3;
  up?: Vec3 | undefined;
}

/** Whether both are of an instrument that stands in the same place in the same way. */
function isFrom(a: Stance, b: Stance): boolean {
  return sameplace(a.at, b.at) && sameplace(a.up ?? upright, b.up ?? upright);
}

/** The touches of a feature that several stations take, each as taken where one takes it: from the
 * plan, or from any sight, as all have the same touches. */
export function sharedTouches(plan: PlanData, outcome: Outcome, feature: number): Touch[] | null {
  const status = outcome.statuses[feature];
  const touches =
    plan.features[feature]?.touches ?? outcome.sights[0]?.features[feature]?.touches ?? null;
  if (!status?.shared || touches?.length !== status.shared.length) return null;
  const taken = status.shared;
  return touches.map((touch, t) => ({
    ...touch,
    verdict: taken[t] === null ? "blocked" : status.verdict,
  }));
}

/** The station that stands as a sight was looked from. */
export function stationAt(outcome: Outcome, from: Stance): Station | null {
  return outcome.stations.find((station) => isFrom(station, from)) ?? null;
}
