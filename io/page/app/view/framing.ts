import { Vector3 } from "three";

// Where a camera must be to see all of some points.

export interface Frame {
  right: Vector3;
  top: Vector3;
  back: Vector3; // toward the camera; all unit
}

export function frameOf(back: Vector3, up: Vector3): Frame {
  const right = new Vector3().crossVectors(up, back).normalize();
  return { right, top: new Vector3().crossVectors(back, right).normalize(), back };
}

export interface Framing {
  target: Vector3; // middle of the image
  distance: number; // of the camera from it, along back
}

/** Half widths of the image at distance 1, across and up. */
export interface Lens {
  x: number;
  y: number;
}

const kRounds = 8; // each brings the middle nearer; the shift shrinks by the depth over the distance

/** Sees all points with perspective, as near as can be, their outline in the image's middle. */
export function framePerspective(points: readonly Vector3[], frame: Frame, lens: Lens): Framing {
  const target = middle(points);
  let distance = 1;
  for (let round = 0; round < kRounds; round += 1) {
    distance = distanceToSee(points, target, frame, lens);
    const [x, y] = [new Span(), new Span()];
    for (const point of points) {
      const p = point.clone().sub(target);
      const depth = Math.max(1, distance - p.dot(frame.back));
      x.add(p.dot(frame.right) / depth);
      y.add(p.dot(frame.top) / depth);
    }
    target.addScaledVector(frame.right, x.middle * distance);
    target.addScaledVector(frame.top, y.middle * distance);
  }
  return { target, distance: distanceToSee(points, target, frame, lens) };
}

/** A point p off the target is in the image from d on, where |p . side| = lens (d - p . back). */
function distanceToSee(
  points: readonly Vector3[],
  target: Vector3,
  { right, top, back }: Frame,
  lens: Lens,
): number {
  let distance = 1;
  for (const point of points) {
    const p = point.clone().sub(target);
    const across = Math.abs(p.dot(right)) / lens.x;
    const up = Math.abs(p.dot(top)) / lens.y;
    distance = Math.max(distance, Math.max(across, up) + p.dot(back));
  }
  return distance;
}

/** Without perspective: the middle, and half width and half height. */
export function frameStraight(
  points: readonly Vector3[],
  { right, top, back }: Frame,
): { target: Vector3; halfWidth: number; halfHeight: number } {
  const [x, y, z] = [new Span(), new Span(), new Span()];
  for (const p of points) {
    x.add(p.dot(right));
    y.add(p.dot(top));
    z.add(p.dot(back));
  }
  const target = right.clone().multiplyScalar(x.middle);
  target.addScaledVector(top, y.middle).addScaledVector(back, z.middle);
  return { target, halfWidth: x.half, halfHeight: y.half };
}

class Span {
  private low = Infinity;
  private high = -Infinity;
  add(value: number): void {
    this.low = Math.min(this.low, value);
    this.high = Math.max(this.high, value);
  }
  get middle(): number {
    return this.high < this.low ? 0 : (this.low + this.high) / 2;
  }
  get half(): number {
    return this.high < this.low ? 1 : Math.max(1, (this.high - this.low) / 2);
  }
}

function middle(points: readonly Vector3[]): Vector3 {
  const sum = new Vector3();
  for (const point of points) sum.add(point);
  return sum.divideScalar(Math.max(1, points.length));
}
