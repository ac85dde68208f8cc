import type { PlanData, Vec3 } from "../data/wire";

// What the user changes: where stations stand, which bodies are away, which targets are at hand.
// Values are never altered in place, so that undo is to go back to an older value.

export interface Station {
  id: number; // of its own for the whole session
  name: string;
  at: Vec3; // measuring centre, scene units
  up: Vec3; // unit: the instrument's standing axis
  planned: Vec3 | null; // where the plan has it; null for one that was added
}

export interface Setup {
  stations: readonly Station[];
  away: readonly string[]; // names of bodies taken away
  targets: readonly string[] | null; // at hand; null: all
}

export const upright: Vec3 = [0, 0, 1];

export function setupOfPlan(plan: PlanData): Setup {
  const stations = plan.stations.map((station, i) => ({
    id: i,
    name: station.name,
    at: station.at,
    up: station.up ?? upright,
    planned: station.at,
  }));
  return { stations, away: [], targets: null };
}

export function sameplace(a: Vec3, b: Vec3): boolean {
  return a[0] === b[0] && a[1] === b[1] && a[2] === b[2];
}

export function isMoved(station: Station): boolean {
  return station.planned === null || !sameplace(station.at, station.planned);
}

export function isAsPlanned(setup: Setup, plan: PlanData): boolean {
  return (
    setup.stations.length === plan.stations.length &&
    !setup.stations.some(isMoved) &&
    setup.away.length === 0 &&
    setup.targets === null
  );
}

export function moveStation(setup: Setup, id: number, at: Vec3): Setup {
  return {
    ...setup,
    stations: setup.stations.map((station) => (station.id === id ? { ...station, at } : station)),
  };
}

/** "S1", "S2", ...: the first that no station and no name in `taken` has. */
export function freeName(setup: Setup, taken: readonly string[]): string {
  const used = new Set([...taken, ...setup.stations.map((station) => station.name)]);
  let n = 1;
  while (used.has(`S${n}`)) n += 1;
  return `S${n}`;
}

/** `id` must be of no station that the session ever had: marks are remembered by it. */
export function addStation(
  setup: Setup,
  id: number,
  name: string,
  at: Vec3,
  up: Vec3 = upright,
): Setup {
  return { ...setup, stations: [...setup.stations, { id, name, at, up, planned: null }] };
}

export function dropStation(setup: Setup, id: number): Setup {
  return { ...setup, stations: setup.stations.filter((station) => station.id !== id) };
}

/** Stations of the plan that were dropped, as the plan has them. */
export function droppedStations(setup: Setup, plan: PlanData): Station[] {
  const here = new Set(setup.stations.map((station) => station.id));
  return setupOfPlan(plan).stations.filter((station) => !here.has(station.id));
}

/** A dropped station of the plan comes back to its place in the list. */
export function putBack(setup: Setup, station: Station): Setup {
  const stations = [...setup.stations, station].sort((a, b) => a.id - b.id);
  return { ...setup, stations };
}

export function takeAway(setup: Setup, body: string, isAway: boolean): Setup {
  const others = setup.away.filter((name) => name !== body);
  return { ...setup, away: isAway ? [...others, body].sort() : others };
}

/** `all`: the names of all targets of the scene, in its order. */
export function putAtHand(
  setup: Setup,
  all: readonly string[],
  target: string,
  isAtHand: boolean,
): Setup {
  const now = setup.targets ?? all;
  const next = all.filter((name) => (name === target ? isAtHand : now.includes(name)));
  return { ...setup, targets: next.length === all.length ? null : next };
}
