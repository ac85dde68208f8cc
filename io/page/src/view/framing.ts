import { Box3, Vector3 } from "three";

// Where a camera must be to see a box whole.

/** Distance from the box's centre along `back` (unit, toward the camera) at which a perspective
 * camera sees all corners: each corner c needs (c . side) / tan(half angle) + c . back. */
export function distanceToSee(
  box: Box3,
  back: Vector3,
  up: Vector3,
  tanX: number,
  tanY: number,
): number {
  const [right, top] = frame(back, up);
  let distance = 0;
  for (const corner of cornersOf(box)) {
    const x = Math.abs(corner.dot(right)) / tanX;
    const y = Math.abs(corner.dot(top)) / tanY;
    distance = Math.max(distance, Math.max(x, y) + corner.dot(back));
  }
  return distance;
}

/** Half width and half height of a box seen along `back` without perspective. */
export function halfSizes(box: Box3, back: Vector3, up: Vector3): [number, number] {
  const [right, top] = frame(back, up);
  const size = (axis: Vector3) => Math.max(...cornersOf(box).map((c) => Math.abs(c.dot(axis))));
  return [size(right), size(top)];
}

function frame(back: Vector3, up: Vector3): [Vector3, Vector3] {
  const right = new Vector3().crossVectors(up, back).normalize();
  return [right, new Vector3().crossVectors(back, right).normalize()];
}

/** Relative to the centre. */
function cornersOf(box: Box3): Vector3[] {
  const half = box.getSize(new Vector3()).multiplyScalar(0.5);
  const signs = [-1, 1];
  return signs.flatMap((x) =>
    signs.flatMap((y) => signs.map((z) => new Vector3(x * half.x, y * half.y, z * half.z))),
  );
}
