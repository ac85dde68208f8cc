import { Plane, Raycaster, Vector2, Vector3 } from "three";
import type { Viewport } from "./viewport";

// From a pointer to a place on a station's own level. Where the level is seen on edge, as in an
// elevation, the station moves across the view only.

export interface Grip {
  start: Vector3; // where the station was, less the origin
  plane: Plane;
  grabbed: Vector3; // where the pointer took hold, in that plane
}

const kLevelSeen = 0.12; // least sine of the angle between the view and the level

export function takeHold(viewport: Viewport, x: number, y: number, at: Vector3): Grip | null {
  const view = new Vector3();
  viewport.camera.getWorldDirection(view);
  const level = new Plane().setFromNormalAndCoplanarPoint(new Vector3(0, 0, 1), at);
  const facing = new Vector3(view.x, view.y, 0).normalize();
  const upright = new Plane().setFromNormalAndCoplanarPoint(facing, at);
  const ray = rayAt(viewport, x, y);
  const plane = Math.abs(ray.direction.z) > kLevelSeen ? level : upright;
  const grabbed = ray.intersectPlane(plane, new Vector3());
  return grabbed && { start: at.clone(), plane, grabbed };
}

/** Where the station is to go; null where the pointer misses the level (above the horizon). */
export function placeAt(viewport: Viewport, grip: Grip, x: number, y: number): Vector3 | null {
  const ray = rayAt(viewport, x, y);
  const hit = ray.intersectPlane(grip.plane, new Vector3());
  if (!hit) return null;
  const farthest = 200_000; // mm; a pointer near the horizon would send it out of sight
  if (hit.distanceTo(grip.start) > farthest) return null;
  const shift = hit.sub(grip.grabbed);
  return grip.start.clone().add(new Vector3(shift.x, shift.y, 0));
}

function rayAt(viewport: Viewport, x: number, y: number) {
  const caster = new Raycaster();
  const pointer = new Vector2((x / viewport.width) * 2 - 1, 1 - (y / viewport.height) * 2);
  caster.setFromCamera(pointer, viewport.camera);
  return caster.ray;
}
