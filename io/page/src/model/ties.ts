import type { Marks, PlanData, SceneData, Verdict } from "../data/wire";

// Which stations are tied by shared nests (contract section 4): the engine tells, and before it has
// the plan does.

export interface Tie {
  a: number; // ids of stations
  b: number;
  nests: number[];
}

export interface Ties {
  links: Tie[];
  loose: number[]; // ids of stations that are not tied to the first; empty: all are tied
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
  return { links, loose: [] };
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
  answer: { links: readonly Tie[]; loose: readonly number[] },
): Ties {
  const id = (index: number) => ids[index] as number;
  return {
    links: answer.links.map(({ a, b, nests }) => ({ a: id(a), b: id(b), nests })),
    loose: answer.loose.map(id),
  };
}

/** What is left of them among fewer stations, until it is known. */
export function among(ids: readonly number[], ties: Ties): Ties {
  return {
    links: ties.links.filter(({ a, b }) => ids.includes(a) && ids.includes(b)),
    loose: ties.loose.filter((id) => ids.includes(id)),
  };
}
