import type { Cause, PlanData, SceneData, Sight, Touch, Vec3 } from "../data/wire";
import { lengthText, step, withUnit, type Units } from "./numbers";

// Why a feature is blocked, in sentences: the words of the program's own tables.

function blocker(cause: Cause): string {
  if (cause.body === null) return "a body";
  return cause.face ? `${cause.body}, ${cause.face}` : cause.body;
}

function depth(units: Units, cause: Cause, what: string): string {
  if (cause.margin === null) return "";
  return cause.margin < 0
    ? `, which stands ${withUnit(units, -cause.margin, step.margin)} deep in ${what}`
    : `, which comes within ${withUnit(units, cause.margin, step.margin)} of ${what}`;
}

function rangeWords(scene: SceneData, units: Units, cause: Cause): string {
  const { low, high } = scene.instrument.range;
  const allowed = `its range is ${lengthText(units, low / units.mm, step.place)} to ${withUnit(units, high / units.mm, step.place)}`;
  if (cause.distance === null) return `out of the instrument's range; ${allowed}`;
  return `out of range, ${withUnit(units, cause.distance, step.place)} from the instrument; ${allowed}`;
}

const degrees = (rad: number) => ((rad * 180) / Math.PI).toFixed(0);

function acceptanceWords(scene: SceneData, cause: Cause): string {
  const ball = scene.full_targets.find((target) => target.name === cause.target);
  if (ball) {
    return `cannot be rolled far enough: facing the instrument within its acceptance of ${degrees(ball.acceptance_rad)} degrees, it would rest on its reflector`;
  }
  const stylus = scene.offset_styli.find((target) => target.name === cause.target);
  if (stylus?.kind === "two-ball") {
    return `cannot be held so that the beam comes within ${degrees(stylus.acceptance_rad ?? 0)} degrees of square to its rod`;
  }
  return "cannot be turned to face the instrument";
}

function beamWords(units: Units, cause: Cause): string {
  const where =
    cause.distance === null
      ? ""
      : ` ${withUnit(units, cause.distance, step.place)} from the instrument`;
  return `beam broken${where} by ${blocker(cause)}${depth(units, cause, "it")}`;
}

/** Why one target does not reach, with the target's name before it. */
export function causeSentence(scene: SceneData, units: Units, cause: Cause): string {
  const { low, high } = scene.instrument.elevation_rad;
  switch (cause.cause) {
    case "out-of-range":
      return `${cause.target}: ${rangeWords(scene, units, cause)}.`;
    case "elevation":
      return `${cause.target}: too steep for the instrument, whose elevation is ${degrees(low)} to ${degrees(high)} degrees.`;
    case "no-fit":
      return cause.body === null
        ? `${cause.target}: its ball is too large or too small for this feature.`
        : `${cause.target}: does not fit at the contact: in the way is ${blocker(cause)}${depth(units, cause, "its ball")}.`;
    case "acceptance":
      return `${cause.target}: ${acceptanceWords(scene, cause)}.`;
    case "beam":
      return `${cause.target}: ${beamWords(units, cause)}.`;
    case "shank":
    case "head":
      return `${cause.target}: ${cause.cause} cannot be held clear of ${blocker(cause)}${depth(units, cause, "it")}.`;
  }
}

/** Of many touches one cause a target is enough: the one that comes nearest to reaching. */
export function nearestCauses(touches: readonly Touch[]): Cause[] {
  const nearest = new Map<string, Cause>();
  const gap = (cause: Cause) => cause.margin ?? -Infinity;
  for (const cause of touches.flatMap((touch) => touch.causes ?? [])) {
    const known = nearest.get(cause.target);
    if (!known || gap(cause) > gap(known)) nearest.set(cause.target, cause);
  }
  return [...nearest.values()];
}

/** Where a blocked feature comes nearest to being reached, and what stands in the way there. */
export interface Miss {
  at: Vec3; // of the station, scene units
  touches: Touch[];
  causes: Cause[];
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
  return touches ? { at: sight.at, touches, causes: nearestCauses(touches) } : null;
}

/** As the plan tells it. */
export function missOfPlan(plan: PlanData, feature: number): Miss | null {
  const miss = plan.features[feature]?.nearest_miss;
  if (!miss || miss.at === null) return null;
  return { at: miss.at, touches: miss.touches, causes: nearestCauses(miss.touches) };
}

/** A beam that is drawn to the point of contact. */
export function contactOf(miss: Miss): Cause | null {
  const struck = miss.causes.filter((cause) => cause.at !== null && cause.body !== null);
  return struck.find((cause) => cause.cause === "beam") ?? struck[0] ?? null;
}
