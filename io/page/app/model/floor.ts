import type { SceneData, Vec2, Vec3, Zone } from "../data/wire";
import { upright } from "./setup";

// Zones and floors, mm. The zones are where the planner looks for places; the user may leave them,
// and is told.

/** Whether a point lies in a simple polygon; its border counts as inside. */
export function isInside(polygon: readonly Vec2[], x: number, y: number): boolean {
  let inside = false;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    const side = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
    const within = (p: number, q: number, v: number) => v >= Math.min(p, q) && v <= Math.max(p, q);
    if (side === 0 && within(a[0], b[0], x) && within(a[1], b[1], y)) inside = true;
  });
  if (inside) return true;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1])) {
      inside = !inside;
    }
  });
  return inside;
}

export function zoneAt(scene: SceneData, at: Vec3): Zone | null {
  const isPlaceOf = (zone: Zone) =>
    isInside(zone.polygon, at[0], at[1]) &&
    !zone.holes.some((hole) => isInside(hole, at[0], at[1]));
  return scene.zones.find(isPlaceOf) ?? null;
}

/** The name of the first keep-out under a place. */
export function keepOutAt(scene: SceneData, at: Vec3): string | null {
  return scene.keep_outs.find((one) => isInside(one.polygon, at[0], at[1]))?.name ?? null;
}

function distanceTo(polygon: readonly Vec2[], x: number, y: number): number {
  let least = Infinity;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy);
    const s = Math.min(1, Math.max(0, t));
    least = Math.min(least, Math.hypot(a[0] + s * dx - x, a[1] + s * dy - y));
  });
  return least;
}

/** The floor that a stand here is on: its zone's, else that of the nearest zone, else zero. */
export function floorUnder(scene: SceneData, at: Vec3): number {
  const own = zoneAt(scene, at);
  if (own) return own.floor;
  const ranked = scene.zones
    .map((zone) => ({ zone, distance: distanceTo(zone.polygon, at[0], at[1]) }))
    .sort((a, b) => a.distance - b.distance);
  return ranked[0]?.zone.floor ?? 0;
}

/** Where a station that is added first stands: of the zones' middles the one farthest from all
 * stations, at the zone's first height and in its first way; without zones beside the box of the features. */
export function placeForNew(
  scene: SceneData,
  stations: readonly Vec3[],
  beside: Vec3,
): { at: Vec3; up: Vec3 } {
  let best: { at: Vec3; up: Vec3; distance: number } | null = null;
  for (const zone of scene.zones) {
    const at = middleOf(zone);
    const up = zone.instrument_ups[0] ?? upright;
    const distance = Math.min(...stations.map((s) => Math.hypot(s[0] - at[0], s[1] - at[1])), 1e12);
    if (!best || distance > best.distance) best = { at, up, distance };
  }
  return best ?? { at: beside, up: upright };
}

function middleOf(zone: Zone): Vec3 {
  const z = zone.floor + (zone.heights[0] ?? 0);
  const xs = zone.polygon.map((corner) => corner[0]);
  const ys = zone.polygon.map((corner) => corner[1]);
  const x = (Math.min(...xs) + Math.max(...xs)) / 2;
  const y = (Math.min(...ys) + Math.max(...ys)) / 2;
  const corner = zone.polygon[0] ?? [x, y];
  return isInside(zone.polygon, x, y) ? [x, y, z] : [corner[0], corner[1], z];
}
