import type { Mark, Marks, PlanData, PlanStation, Shared, Verdict } from "../data/wire";
import type { Station } from "./setup";

// How each feature stands with all stations taken together, and against the plan.

/** A feature as the present stations have it. */
export interface Status {
  verdict: Verdict;
  station: number | null; // id of the one that measures it; null where several share it
  shared: readonly (number | null)[] | null; // then for each touch the id of its station
  target: string | null;
  margin: number | null; // scene units
  from: number; // how many stations reach it
}

const rank: Record<Verdict, number> = { "full-target": 2, "offset-stylus": 1, blocked: 0 };

/** What the plan says of one of its stations, for as long as nothing better is known: the features
 * it measures; all others count as not reached from it. */
export function marksOfPlan(plan: PlanData, station: PlanStation, nests: readonly string[]): Marks {
  const unseen: Mark = { verdict: "blocked", target: null, margin: null };
  return {
    features: plan.features.map((feature) =>
      feature.station === station.name
        ? { verdict: feature.verdict, target: feature.target, margin: feature.margin }
        : unseen,
    ),
    nests: nests.map((name) =>
      station.nests.includes(name) ? { ...unseen, verdict: "full-target" as const } : unseen,
    ),
  };
}

/** What the plan says of features that several of its stations take together; stations have their
 * places in its list as ids. */
export function sharedOfPlan(plan: PlanData): (Shared | null)[] {
  const idOf = (name: string | null | undefined) => {
    const id = plan.stations.findIndex((station) => station.name === name);
    return id < 0 ? null : id;
  };
  return plan.features.map((feature) =>
    feature.stations
      ? {
          verdict: feature.verdict,
          target: feature.target,
          margin: feature.margin,
          touches: (feature.touches ?? []).map((touch) => idOf(touch.station)),
        }
      : null,
  );
}

/** The stations that share a feature, each once. */
export function sharersOf(touches: readonly (number | null)[]): number[] {
  return [...new Set(touches.filter((id): id is number => id !== null))].sort((a, b) => a - b);
}

function isBetter(a: Mark, b: Mark): boolean {
  if (rank[a.verdict] !== rank[b.verdict]) return rank[a.verdict] > rank[b.verdict];
  return (a.margin ?? -Infinity) > (b.margin ?? -Infinity);
}

/** Each feature goes to the station that sees it best: full target before offset stylus, then the
 * larger margin. The plan's own station keeps it where no other has a better state, so that a
 * station that did not move keeps its list. */
export function statusesOf(
  plan: PlanData,
  stations: readonly Station[],
  marks: ReadonlyMap<number, Marks>,
  shared: readonly (Shared | null)[] = [],
): Status[] {
  const isHere = (id: number) => stations.some((station) => station.id === id);
  return plan.features.map((feature, i) => {
    let best: { mark: Mark; id: number; isPlanned: boolean } | null = null;
    let from = 0;
    for (const station of stations) {
      const mark = marks.get(station.id)?.features[i];
      if (!mark || mark.verdict === "blocked") continue;
      from += 1;
      const isPlanned = station.planned !== null && station.name === feature.station;
      const isWinner =
        best === null ||
        rank[mark.verdict] > rank[best.mark.verdict] ||
        (mark.verdict === best.mark.verdict &&
          (isPlanned || (!best.isPlanned && isBetter(mark, best.mark))));
      if (isWinner) best = { mark, id: station.id, isPlanned };
    }
    const together = shared[i];
    if (best === null && together && sharersOf(together.touches).every(isHere)) {
      const { verdict, target, margin, touches } = together;
      return { verdict, target, margin, station: null, shared: touches, from: 1 };
    }
    if (best === null) {
      return {
        verdict: "blocked",
        station: null,
        shared: null,
        target: null,
        margin: null,
        from: 0,
      };
    }
    const { verdict, target, margin } = best.mark;
    return { verdict, target, margin, station: best.id, shared: null, from };
  });
}

/** Against the plan. "stronger": now by full target, "weaker": now only by offset stylus. */
export type Change = "same" | "gained" | "lost" | "stronger" | "weaker";

export function changeOf(planned: Verdict, now: Verdict): Change {
  if (planned === now) return "same";
  if (planned === "blocked") return "gained";
  if (now === "blocked") return "lost";
  return now === "full-target" ? "stronger" : "weaker";
}

export interface Tally {
  required: number;
  reached: number; // of the required
  full: number; // of the required, by full target
  stylus: number;
  blocked: number; // of the required
  further: number; // not required, in all
  furtherReached: number;
  tooFew: number; // required and reached, but from fewer stations than asked
}

export function tallyOf(plan: PlanData, now: readonly Status[], asked: number): Tally {
  const tally: Tally = {
    required: 0,
    reached: 0,
    full: 0,
    stylus: 0,
    blocked: 0,
    further: 0,
    furtherReached: 0,
    tooFew: 0,
  };
  plan.features.forEach((feature, i) => {
    const status = now[i];
    if (!status) return;
    const isReached = status.verdict !== "blocked";
    if (!feature.required) {
      tally.further += 1;
      tally.furtherReached += isReached ? 1 : 0;
      return;
    }
    tally.required += 1;
    tally.reached += isReached ? 1 : 0;
    tally.blocked += isReached ? 0 : 1;
    tally.full += status.verdict === "full-target" ? 1 : 0;
    tally.stylus += status.verdict === "offset-stylus" ? 1 : 0;
    tally.tooFew += isReached && status.from < asked ? 1 : 0;
  });
  return tally;
}

export interface Changes {
  of: Change[]; // for each feature
  gained: number[]; // indices of features
  lost: number[];
  stronger: number[];
  weaker: number[];
}

export function changesOf(plan: PlanData, now: readonly Status[]): Changes {
  const of = plan.features.map((feature, i) =>
    changeOf(feature.verdict, now[i]?.verdict ?? "blocked"),
  );
  const those = (kind: Change) => of.flatMap((change, i) => (change === kind ? [i] : []));
  return {
    of,
    gained: those("gained"),
    lost: those("lost"),
    stronger: those("stronger"),
    weaker: those("weaker"),
  };
}
