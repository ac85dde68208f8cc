import assert from "node:assert/strict";
import { test } from "node:test";

import { among, byId, nestVerdicts, tiesOfPlan } from "../../app/model/ties.ts";
import { blocked, full, madePlan, madeScene, stylus } from "./made.mjs";

const nests = ["N0", "N1", "N2", "N3"].map((name) => ({ name, at: [0, 0, 0] }));

test("until the engine answers, the plan's own ties hold", () => {
  const places = ["S1", "S2", "S3"].map((name) => ({ name, at: [0, 0, 0], zone: null, nests: [] }));
  const plan = {
    ...madePlan([], places),
    links: [
      { stations: ["S1", "S3"], nests: ["N0", "N1", "N3"] },
      { stations: ["S2", "S3"], nests: ["N1", "N2", "N3"] },
    ],
  };
  assert.deepEqual(tiesOfPlan(plan, madeScene({ nests })), {
    links: [
      { a: 0, b: 2, nests: [0, 1, 3] },
      { a: 1, b: 2, nests: [1, 2, 3] },
    ],
    loose: [],
  });
});

test("the engine is asked by lists, and its answer is told by stations' ids", () => {
  const marks = new Map([
    [7, { features: [], nests: [full(), stylus(), blocked()] }],
    [4, { features: [], nests: [full(), full(), full()] }],
  ]);
  assert.deepEqual(nestVerdicts([7, 4, 9], marks), [
    ["full-target", "offset-stylus", "blocked"],
    ["full-target", "full-target", "full-target"],
    [],
  ]);
  const answer = { links: [{ a: 0, b: 1, nests: [0, 1, 2] }], loose: [2] };
  const ties = { links: [{ a: 7, b: 4, nests: [0, 1, 2] }], loose: [9] };
  assert.deepEqual(byId([7, 4, 9], answer), ties);
  assert.deepEqual(among([7, 9], ties), { links: [], loose: [9] });
});
