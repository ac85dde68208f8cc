import assert from "node:assert/strict";
import { test } from "node:test";

import { among, byId, lineSentence, nestVerdicts, tiesOfPlan } from "../../app/model/ties.ts";
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
    lines: [],
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
  const line = { nests: [0, 1, 3], ends: [0, 3], off: 404.1 };
  const answer = {
    links: [{ a: 0, b: 1, nests: [0, 1, 2] }],
    loose: [2],
    lines: [{ a: 0, b: 2, ...line }],
  };
  const ties = {
    links: [{ a: 7, b: 4, nests: [0, 1, 2] }],
    loose: [9],
    lines: [{ a: 7, b: 9, ...line }],
  };
  assert.deepEqual(byId([7, 4, 9], answer), ties);
  assert.deepEqual(among([7, 9], ties), {
    links: [],
    loose: [9],
    lines: [{ a: 7, b: 9, ...line }],
  });
  assert.deepEqual(among([7, 4], ties).lines, []);
});

test("nests in one line are named, with how far off it one more must stand", () => {
  const line = { a: 1, b: 2, nests: [0, 1, 3], ends: [0, 3], off: 404.1 };
  const names = ["N0", "N1", "N2", "N3"];
  const say = (one, units) => lineSentence(one, names, (id) => `S${id}`, units);
  assert.equal(
    say(line, { name: "mm", mm: 1 }),
    "S1 and S2 share N0, N1 and N3. These would be enough to tie them, but they are all in one line. One more nest that both see would tie them if it stands at least 405 mm off the line from N0 to N3, between these two.",
  );
  assert.match(say({ ...line, off: 0.4041 }, { name: "m", mm: 1000 }), /at least 0\.405 m off/);
  assert.match(say({ ...line, off: 0 }, { name: "mm", mm: 1 }), /all in one place\.$/);
});
