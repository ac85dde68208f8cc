import assert from "node:assert/strict";
import { test } from "node:test";

import { principal } from "../../app/view/principal.ts";
import { drawn } from "./made.mjs";

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
