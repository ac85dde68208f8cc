import assert from "node:assert/strict";
import { test } from "node:test";

import {
  causeSentence,
  contactOf,
  missOfPlan,
  missOfSight,
  nearestCauses,
  nearnessOf,
} from "../../app/model/reasons.ts";
import { madeFeature, madePlan, madeScene } from "./made.mjs";

const mm = { name: "mm", mm: 1 };
const cause = (target, kind, more = {}) => ({
  target,
  cause: kind,
  body: null,
  distance: null,
  margin: null,
  at: null,
  ...more,
});
const say = (one, units = mm, scene = madeScene()) => causeSentence(scene, units, one);

test("every cause has its sentence, with place and depth where they are known", () => {
  const struck = {
    body: "column",
    face: "face 3",
    distance: 1834.2,
    margin: -12.42,
    at: [0, 0, 0],
  };
  assert.equal(
    say(cause("ball", "beam", struck)),
    "ball: beam broken 1834 mm from the instrument by column, face 3, which stands 12.4 mm deep in it.",
  );
  assert.equal(
    say(cause("ball", "out-of-range", { distance: 41000 })),
    "ball: out of range, 41000 mm from the instrument; its range is 400 to 40000 mm.",
  );
  assert.equal(
    say(cause("ball", "elevation")),
    "ball: too steep for the instrument, whose elevation is -57 to 72 degrees.",
  );
  assert.match(say(cause("ball", "acceptance")), /within its acceptance of 30 degrees/);
  assert.match(say(cause("rod", "acceptance")), /within 30 degrees of square to its rod/);
  assert.match(say(cause("mirror", "acceptance")), /cannot be turned to face/);
  assert.match(say(cause("ball", "no-fit")), /too large or too small/);
  assert.equal(
    say(cause("ball", "no-fit", { body: "stand", margin: -1.34 })),
    "ball: does not fit at the contact: in the way is stand, which stands 1.3 mm deep in its ball.",
  );
  assert.equal(
    say(cause("rod", "shank", { body: "stand", margin: 0.5 })),
    "rod: shank cannot be held clear of stand, which comes within 0.5 mm of it.",
  );
  assert.match(
    say(cause("rod", "head", { body: "stand" })),
    /^rod: head cannot be held clear of stand\.$/,
  );
});

test("lengths are in scene units, the instrument's range too", () => {
  const scene = madeScene({ units: "m", mm_per_unit: 1000 });
  assert.match(
    say(cause("ball", "out-of-range", { distance: 0.3 }), { name: "m", mm: 1000 }, scene),
    /0\.300 m from the instrument; its range is 0\.400 to 40\.000 m/,
  );
});

test("of many touches each target's nearest cause is told", () => {
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
  const sight = (x, margin, ...touches) => ({ at: [x, 0, 0], features: [{ touches, margin }], nests: [] });
  const a = sight(1, -1, touch("blocked", -1), touch("blocked", -2));
  const b = sight(2, -50, touch("full-target", 3), touch("blocked", -50));
  assert.deepEqual([a, b, sight(3, null, touch("blocked", null))].map((one) => nearnessOf(one)[0]), [
    [0, -1],
    [1, -50],
    [0, null],
  ]);
  assert.equal(missOfSight(b, 0).at[0], 2);
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
