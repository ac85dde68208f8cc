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
  up: Vec3 | undefined; // how the instrument stands there; upright where it is undefined
  touches: Touch[];
  causes: Cause[];
  reasons: readonly string[] | null; // sentences; null: not known yet
}

/** What the engine needs to tell from which place a feature comes nearest to being reached: how many
 * touches are reached, and the margin. */
export type Nearness = readonly [number, number | null];

export function nearnessOf(sight: Sight): Nearness[] {
  return sight.features.map(({ touches, margin }) => [
    touches.filter((touch) => touch.verdict !== "blocked").length,
    margin,
  ]);
}

/** From one place. */
export function missOfSight(sight: Sight, feature: number): Miss | null {
  const touches = sight.features[feature]?.touches;
  if (!touches) return null;
  const reasons = sight.reasons[feature] ?? [];
  return { at: sight.at, up: sight.up, touches, causes: nearestCauses(touches), reasons };
}

/** As the plan tells it, which has no sentences. */
export function missOfPlan(plan: PlanData, feature: number): Miss | null {
  const miss = plan.features[feature]?.nearest_miss;
  if (!miss || miss.at === null) return null;
  const causes = nearestCauses(miss.touches);
  return { at: miss.at, up: miss.up, touches: miss.touches, causes, reasons: null };
}

/** A beam that is drawn to the point of contact. */
export function contactOf(miss: Miss): Cause | null {
  const struck = miss.causes.filter((cause) => cause.at !== null && cause.body !== null);
  return struck.find((cause) => cause.cause === "beam") ?? struck[0] ?? null;
}
