import type { Cause, PlanData, Sight, Touch, Vec3 } from "../data/wire";

// Where a blocked feature comes nearest to being reached. Why it fails there is worded by the engine.

/** Of many touches one cause a target is drawn: the one that comes nearest to reaching. */
export function nearestCauses(touches: readonly Touch[]): Cause[] {
  const nearest = new Map<string, Cause>();
  const gap = (cause: Cause) => cause.margin ?? -Infinity;
  for (const cause of touches.flatMap((touch) => touch.causes ?? [])) {
    const known = nearest.get(cause.target);
    if (!known || gap(cause) > gap(known)) nearest.set(cause.target, cause);
  }
  return [...nearest.values()];
}

/** Where a blocked feature comes nearest to being reached, and what blocks it there. */
export interface Miss {
  at: Vec3; // of the station, scene units
  touches: Touch[];
  causes: Cause[];
  reasons: readonly string[] | null; // sentences; null: not known yet
}

function nearness(touches: readonly Touch[]): [number, number] {
  const reached = touches.filter((touch) => touch.verdict !== "blocked").length;
  const margins = touches.flatMap((touch) =>
    touch.verdict === "blocked" && touch.margin !== null ? [touch.margin] : [],
  );
  return [reached, margins.length > 0 ? Math.max(...margins) : -Infinity];
}

/** From the sights of the present stations: of these the one with most touches reached, then with
 * the largest margin of a blocked one. */
export function missOfSights(sights: readonly Sight[], feature: number): Miss | null {
  let best: { miss: Miss; rank: [number, number] } | null = null;
  for (const sight of sights) {
    const touches = sight.features[feature]?.touches ?? [];
    const rank = nearness(touches);
    const isNearer =
      best === null ||
      rank[0] > best.rank[0] ||
      (rank[0] === best.rank[0] && rank[1] > best.rank[1]);
    if (isNearer) {
      const reasons = sight.reasons[feature] ?? [];
      best = { miss: { at: sight.at, touches, causes: nearestCauses(touches), reasons }, rank };
    }
  }
  return best ? best.miss : null;
}

/** As the plan tells it, which has no sentences. */
export function missOfPlan(plan: PlanData, feature: number): Miss | null {
  const miss = plan.features[feature]?.nearest_miss;
  if (!miss || miss.at === null) return null;
  return { at: miss.at, touches: miss.touches, causes: nearestCauses(miss.touches), reasons: null };
}

/** A beam that is drawn to the point of contact. */
export function contactOf(miss: Miss): Cause | null {
  const struck = miss.causes.filter((cause) => cause.at !== null && cause.body !== null);
  return struck.find((cause) => cause.cause === "beam") ?? struck[0] ?? null;
}
