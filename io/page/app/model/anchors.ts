import type { Cause, SceneFeature, Touch, Vec3 } from "../data/wire";

// Where a feature's mark is drawn, mm.

export function mean(points: readonly Vec3[]): Vec3 {
  const sum = points.reduce<Vec3>((s, p) => [s[0] + p[0], s[1] + p[1], s[2] + p[2]], [0, 0, 0]);
  const n = Math.max(1, points.length);
  return [sum[0] / n, sum[1] / n, sum[2] / n];
}

export function anchorOf(feature: SceneFeature): Vec3 {
  if (feature.points) return mean(feature.points);
  if (feature.from && feature.to) return mean([feature.from, feature.to]);
  if (feature.touches) return mean(feature.touches.map((touch) => touch.at));
  const centre = feature.at ?? feature.centre ?? [0, 0, 0];
  if (!feature.toward) return centre;
  const { toward, radius = 0 } = feature;
  return [
    centre[0] + toward[0] * radius,
    centre[1] + toward[1] * radius,
    centre[2] + toward[2] * radius,
  ];
}

/** Where a beam to a touch aims: the optical centre that the planner tells, of the cause's target
 * where the touch is blocked. On a hole's rim it is no radius away from the contact. */
export function centreOf(touch: Touch, cause: Cause | null = null): Vec3 {
  return cause?.optical_centre ?? touch.optical_centre ?? touch.at;
}

/** Of the touches that are reached the one nearest to their middle: a beam drawn to it is a beam
 * that is really measured. Null where none is. */
export function middleTouch(touches: readonly Touch[]): Touch | null {
  const reached = touches.filter((touch) => touch.verdict !== "blocked");
  const middle = mean(reached.map((touch) => touch.at));
  const far = (touch: Touch) =>
    Math.hypot(touch.at[0] - middle[0], touch.at[1] - middle[1], touch.at[2] - middle[2]);
  return reached.reduce<Touch | null>(
    (best, touch) => (!best || far(touch) < far(best) ? touch : best),
    null,
  );
}
