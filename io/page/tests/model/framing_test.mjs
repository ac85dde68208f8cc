import assert from "node:assert/strict";
import { test } from "node:test";

import { Vector3 } from "three";

import { niceScale } from "../../app/view/ellipsoids.ts";
import { framePerspective, frameOf, frameStraight } from "../../app/view/framing.ts";
import { drawn } from "./made.mjs";

const up = new Vector3(0, 0, 1);

test("all points are seen, and two borders of the image are touched", () => {
  for (let seed = 1; seed <= 60; seed += 1) {
    const draw = drawn(seed);
    const points = Array.from(
      { length: 12 },
      () => new Vector3(draw() * 6000, draw() * 4000, draw() * 2000),
    );
    const back = new Vector3(draw() - 0.5, draw() - 0.5, draw() * 0.9).normalize();
    const frame = frameOf(back, up);
    const lens = { x: 0.1 + draw() * 0.5, y: 0.1 + draw() * 0.5 };
    const { target, distance } = framePerspective(points, frame, lens);
    const eye = target.clone().addScaledVector(back, distance);
    const seen = points.map((p) => {
      const q = p.clone().sub(eye);
      const depth = -q.dot(back);
      assert.ok(depth > 0, `seed ${seed}`);
      return [q.dot(frame.right) / depth / lens.x, q.dot(frame.top) / depth / lens.y];
    });
    const [x, y] = [0, 1].map((k) => [
      Math.min(...seen.map((s) => s[k])),
      Math.max(...seen.map((s) => s[k])),
    ]);
    for (const [low, high] of [x, y]) {
      assert.ok(low > -1.000001 && high < 1.000001, `seed ${seed}: ${low} to ${high}`);
      assert.ok(Math.abs(low + high) < 0.02, `seed ${seed}: not in the middle, ${low} to ${high}`);
    }
    assert.ok(Math.max(x[1], y[1]) > 0.98, `seed ${seed}: farther than need be`);
  }
});

test("a straight view has the middle and half sizes of what it shows", () => {
  const points = [new Vector3(1000, 0, 0), new Vector3(5000, 900, 300)];
  const { target, halfWidth, halfHeight } = frameStraight(
    points,
    frameOf(new Vector3(0, -1, 0), up),
  );
  assert.ok(target.distanceTo(new Vector3(3000, 450, 150)) < 1e-9);
  assert.equal(halfWidth, 2000);
  assert.equal(halfHeight, 150);
});

test("ellipsoids are enlarged by 1, 2 or 5 times a power of ten, the largest that fits", () => {
  assert.equal(niceScale(0.072, 150), 2000);
  assert.equal(niceScale(0.072, 400), 5000);
  assert.equal(niceScale(10, 100), 10);
  assert.equal(niceScale(0, 100), 1);
  for (let seed = 1; seed <= 50; seed += 1) {
    const draw = drawn(seed);
    const [worst, largest] = [10 ** (-3 * draw()), 10 ** (3 * draw())];
    const scale = niceScale(worst, largest);
    assert.ok(scale * worst <= largest && 2.5 * scale * worst > largest, `seed ${seed}`);
  }
});
