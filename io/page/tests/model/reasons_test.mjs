import assert from "node:assert/strict";
import { test } from "node:test";

import {
  contactOf,
  missOfPlan,
  missOfSight,
  nearestCauses,
  nearnessOf,
} from "../../app/model/reasons.ts";
import { madeFeature, madePlan } from "./made.mjs";

const cause = (target, kind, more = {}) => ({
  target,
  cause: kind,
  body: null,
  distance: null,
  margin: null,
  at: null,
  ...more,
});

test("of many touches each target's nearest cause is drawn", () => {
  const touches = [
    {
      at: [0, 0, 0],
      verdict: "blocked",
      margin: -9,
      causes: [cause("ball", "beam", { margin: -9 }), cause("rod", "acceptance")],
    },
    {
      at: [1, 0, 0],
      verdict: "blocked",
      margin: -2,
      causes: [cause("ball", "beam", { margin: -2 })],
    },
  ];
  assert.deepEqual(
    nearestCauses(touches).map((c) => [c.target, c.margin]),
    [
      ["ball", -2],
      ["rod", null],
    ],
  );
});

test("the engine is told how near each feature comes, and which sight is nearest is its answer", () => {
  const touch = (verdict, margin) => ({ at: [0, 0, 0], verdict, margin, causes: [] });
  const sight = (x, margin, ...touches) => ({
    at: [x, 0, 0],
    features: [{ touches, margin }],
    nests: [],
    reasons: [[`as seen from ${x}`]],
  });
  const a = sight(1, -1, touch("blocked", -1), touch("blocked", -2));
  const b = sight(2, -50, touch("full-target", 3), touch("blocked", -50));
  assert.deepEqual(
    [a, b, sight(3, null, touch("blocked", null))].map((one) => nearnessOf(one)[0]),
    [
      [0, -1],
      [1, -50],
      [0, null],
    ],
  );
  const miss = missOfSight(b, 0);
  assert.equal(miss.at[0], 2);
  assert.deepEqual(miss.reasons, ["as seen from 2"]); // in the engine's words
  assert.equal(missOfSight(b, 1), null);
});

test("the drawn beam is a broken one where there is one, else what strikes the stylus", () => {
  const at = [1, 2, 3];
  const shank = cause("rod", "shank", { body: "b", at });
  const beam = cause("ball", "beam", { body: "b", at });
  assert.equal(contactOf({ causes: [cause("ball", "acceptance"), shank, beam] }), beam);
  assert.equal(contactOf({ causes: [shank] }), shank);
  assert.equal(contactOf({ causes: [cause("ball", "acceptance")] }), null);
  const plan = madePlan([madeFeature("a", "blocked", null)], []);
  assert.equal(missOfPlan(plan, 0), null);
});

test("the plan has no sentences: they are waited for, not made up", () => {
  const touches = [
    { at: [0, 0, 0], verdict: "blocked", margin: -3, causes: [cause("ball", "beam")] },
  ];
  const feature = madeFeature("a", "blocked", null, null, null, {
    nearest_miss: { at: [1, 2, 3], touches },
  });
  const miss = missOfPlan(madePlan([feature], []), 0);
  assert.deepEqual(miss.at, [1, 2, 3]);
  assert.equal(miss.reasons, null);
  assert.equal(miss.causes.length, 1);
});
