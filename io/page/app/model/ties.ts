import type { Marks, PlanData, SceneData, Verdict } from "../data/wire";
import { listOf, step, withUnit, type Units } from "./numbers";

// Which stations are tied by shared nests (contract section 4): the engine tells, and before it has
// the plan does.

export interface Tie {
  a: number; // ids of stations
  b: number;
  nests: number[];
}

/** Two stations that share enough nests to be tied, but all of them in one line. */
export interface Line extends Tie {
  ends: [number, number]; // the two nests that are farthest apart
  off: number; // scene units: how far off the line through them one more nest must stand
}

export interface Ties {
  links: Tie[];
  loose: number[]; // ids of stations that are not tied to the first; empty: all are tied
  lines: Line[];
}

/** What the plan says; its stations have their places in its list as ids. */
export function tiesOfPlan(plan: PlanData, scene: SceneData): Ties {
  const idOf = (name: string | undefined) => plan.stations.findIndex((s) => s.name === name);
  const nestOf = (name: string) => scene.nests.findIndex((nest) => nest.name === name);
  const links = plan.links.map(({ stations: [a, b], nests }) => ({
    a: idOf(a),
    b: idOf(b),
    nests: nests.map(nestOf),
  }));
  return { links, loose: [], lines: [] };
}

/** What the engine is asked: for each station the verdicts of its nests, none where nothing is known
 * of it yet. */
export function nestVerdicts(
  ids: readonly number[],
  marks: ReadonlyMap<number, Marks>,
): Verdict[][] {
  return ids.map((id) => (marks.get(id)?.nests ?? []).map((mark) => mark.verdict));
}

/** The engine's answer about the stations in that order. */
export function byId(
  ids: readonly number[],
  answer: { links: readonly Tie[]; loose: readonly number[]; lines: readonly Line[] },
): Ties {
  const id = (index: number) => ids[index] as number;
  return {
    links: answer.links.map(({ a, b, nests }) => ({ a: id(a), b: id(b), nests })),
    loose: answer.loose.map(id),
    lines: answer.lines.map((line) => ({ ...line, a: id(line.a), b: id(line.b) })),
  };
}

/** What is left of them among fewer stations, until it is known. */
export function among(ids: readonly number[], ties: Ties): Ties {
  return {
    links: ties.links.filter(({ a, b }) => ids.includes(a) && ids.includes(b)),
    loose: ties.loose.filter((id) => ids.includes(id)),
    lines: ties.lines.filter(({ a, b }) => ids.includes(a) && ids.includes(b)),
  };
}

/** Two stations that nests in one line do not tie: which nests, and what would end it. */
export function lineSentence(
  line: Line,
  nestNames: readonly string[],
  stationName: (id: number) => string,
  units: Units,
): string {
  const nest = (index: number) => nestNames[index] ?? "";
  const shared = `${stationName(line.a)} and ${stationName(line.b)} share ${listOf(line.nests.map(nest))}. These would be enough to tie them, but they are all in one`;
  if (!(line.off > 0)) return `${shared} place.`;
  // Rounded up: less would not be enough.
  const off = (Math.ceil((line.off * units.mm) / step.place) * step.place) / units.mm;
  return `${shared} line. One more nest that both see would tie them if it stands at least ${withUnit(units, off, step.place)} off the line from ${nest(line.ends[0])} to ${nest(line.ends[1])}, between these two.`;
}
