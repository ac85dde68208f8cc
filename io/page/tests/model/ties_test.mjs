import assert from "node:assert/strict";
import { test } from "node:test";

import { areOffOneLine, principal, tiesOf } from "../../src/model/ties.ts";
import { blocked, drawn, full, madeScene, stylus } from "./made.mjs";

test("a flat isosceles triangle is off one line from a height of 3/40 of its base on", () => {
  // Its best line is parallel to the base at a third of the height; the apex is 2/3 h away.
  const triangle = (h) => [
    [0, 0, 0],
    [1000, 0, 0],
    [500, h, 0],
  ];
  assert.equal(areOffOneLine(triangle(75.01)), true);
  assert.equal(areOffOneLine(triangle(74.99)), false);
});

test("fewer than three places, equal places and places in a row are in one line", () => {
  assert.equal(areOffOneLine([]), false);
  assert.equal(
    areOffOneLine([
      [0, 0, 0],
      [1, 5, 9],
    ]),
    false,
  );
  assert.equal(
    areOffOneLine([
      [1, 2, 3],
      [1, 2, 3],
      [1, 2, 3],
    ]),
    false,
  );
  assert.equal(
    areOffOneLine([
      [0, 0, 0],
      [1, 2, 3],
      [2, 4, 6],
      [50, 100, 150],
    ]),
    false,
  );
});

/** Least squares by trying directions, finer and finer about the best so far. */
function farthestFromBestLine(points) {
  const n = points.length;
  const mean = [0, 1, 2].map((k) => points.reduce((s, p) => s + p[k], 0) / n);
  const off = points.map((p) => p.map((v, k) => v - mean[k]));
  const distances = (d) =>
    off.map((p) => {
      const along = p[0] * d[0] + p[1] * d[1] + p[2] * d[2];
      return Math.hypot(...p.map((v, k) => v - along * d[k]));
    });
  const direction = (t, f) => [Math.sin(t) * Math.cos(f), Math.sin(t) * Math.sin(f), Math.cos(t)];
  const sum = (d) => distances(d).reduce((s, v) => s + v * v, 0);
  let best = { t: 0, f: 0, s: Infinity };
  for (
    let step = Math.PI / 40, half = 40, c = { t: Math.PI / 2, f: 0 };
    step > 1e-7;
    step /= 4, half = 6, c = best
  ) {
    const centre = { ...c };
    for (let i = -half; i <= half; i += 1) {
      for (let j = -half; j <= half; j += 1) {
        const [t, f] = [centre.t + i * step, centre.f + j * step];
        const s = sum(direction(t, f));
        if (s < best.s) best = { t, f, s };
      }
    }
  }
  return Math.max(...distances(direction(best.t, best.f)));
}

test("random nests agree with a search for the best line", () => {
  let [on, off] = [0, 0];
  for (let seed = 1; seed <= 60; seed += 1) {
    const draw = drawn(seed);
    const flat = 10 ** (-2 * draw());
    const points = Array.from({ length: 3 + Math.floor(draw() * 4) }, () => {
      const u = draw() * 4000;
      return [
        u + 400 * flat * draw(),
        0.3 * u + 900 * flat * draw(),
        0.1 * u + 500 * flat * draw(),
      ];
    });
    const spread = Math.max(
      ...points.flatMap((p) =>
        points.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])),
      ),
    );
    const ratio = (20 * farthestFromBestLine(points)) / spread;
    if (Math.abs(ratio - 1) < 1e-3) continue; // finer than the search
    assert.equal(areOffOneLine(points), ratio > 1, `seed ${seed}, ratio ${ratio}`);
    if (ratio > 1) off += 1;
    else on += 1;
  }
  assert.ok(on > 5 && off > 5, `${on} in line, ${off} not`);
});

test("the principal axes rebuild their matrix", () => {
  for (let seed = 1; seed <= 50; seed += 1) {
    const draw = drawn(seed);
    const [a, b, c, d, e, f] = Array.from({ length: 6 }, () => draw() * 2 - 1);
    const m = [
      [a, d, e],
      [d, b, f],
      [e, f, c],
    ];
    const { axes, values } = principal(m);
    assert.ok(values[0] >= values[1] && values[1] >= values[2]);
    for (let r = 0; r < 3; r += 1) {
      for (let s = 0; s < 3; s += 1) {
        const sum = axes.reduce((t, axis, i) => t + values[i] * axis[r] * axis[s], 0);
        assert.ok(Math.abs(sum - m[r][s]) < 1e-12, `seed ${seed}`);
      }
    }
  }
});

const nests = [
  [0, 0, 0],
  [4000, 0, 0],
  [0, 3000, 0],
  [2000, 0, 0],
].map((at, i) => ({ name: `N${i}`, at }));
const sees = (...which) => ({
  features: [],
  nests: nests.map((_, i) => (which.includes(i) ? full() : blocked())),
});

test("stations are tied by three nests off one line, also by way of a third station", () => {
  const scene = madeScene({ nests });
  const marks = new Map([
    [0, sees(0, 1, 2)],
    [1, sees(0, 1, 2, 3)],
    [2, sees(1, 2, 3)],
    [3, sees(0, 1, 3)],
  ]);
  const ties = tiesOf(scene, [0, 1, 2, 3], marks);
  assert.deepEqual(
    ties.links.map(({ a, b }) => [a, b]),
    [
      [0, 1],
      [1, 2],
    ],
  );
  assert.deepEqual(ties.links[0].nests, [0, 1, 2]);
  assert.deepEqual(ties.loose, [3]); // 0, 1 and 3 lie in one line
});

test("a nest by stylus counts only where the rules say so; without nests no tie is asked", () => {
  const by = { features: [], nests: nests.map(() => stylus()) };
  const marks = new Map([
    [0, by],
    [1, by],
  ]);
  assert.deepEqual(tiesOf(madeScene({ nests }), [0, 1], marks).loose, [1]);
  const rules = { ...madeScene().rules, ties_by_stylus: true };
  assert.deepEqual(tiesOf(madeScene({ nests, rules }), [0, 1], marks).loose, []);
  const none = tiesOf(madeScene(), [0, 1], new Map());
  assert.deepEqual([none.areAsked, none.loose], [false, []]);
});
