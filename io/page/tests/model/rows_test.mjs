import assert from "node:assert/strict";
import { test } from "node:test";

import { listed, rowsOf, tableText, wholeList } from "../../app/model/rows.ts";
import { moveStation, setupOfPlan } from "../../app/model/setup.ts";
import { changesOf, marksOfPlan, statusesOf } from "../../app/model/status.ts";
import { madeFeature, madePlan } from "./made.mjs";

const row = (index, name, verdict, station, target, margin, uncertainty, change = "same") => ({
  index,
  name,
  verdict,
  station,
  target,
  margin,
  uncertainty,
  change,
  required: true,
  isAligned: false,
});
const rows = [
  row(0, "pad-10", "full-target", "S1", "ball-38", 9, 0.03),
  row(1, "pad-2", "offset-stylus", "S2", "rod-2x", 100, 0.05, "weaker"),
  row(2, "bore", "blocked", "", "", null, null, "lost"),
  row(3, "pad-2b", "full-target", "S2", "ball-38", 9, null),
];
const order = (change) => listed(rows, { ...wholeList, ...change }).map((r) => r.index);

test("names sort by the numbers in them; equal rows keep the scene's order", () => {
  assert.deepEqual(order({}), [0, 1, 2, 3]);
  assert.deepEqual(order({ sort: "feature" }), [2, 1, 3, 0]);
  assert.deepEqual(order({ sort: "margin" }), [0, 3, 1, 2]);
  assert.deepEqual(order({ sort: "state" }), [2, 1, 0, 3]);
});

test("features that hold the part's frame come first, unless something else is asked for", () => {
  const some = rows.map((r) => ({ ...r, isAligned: r.index === 1 || r.index === 3 }));
  const ordered = (change) => listed(some, { ...wholeList, ...change }).map((r) => r.index);
  assert.deepEqual(ordered({}), [1, 3, 0, 2]);
  assert.deepEqual(ordered({ sort: "feature" }), [2, 1, 3, 0]);
  const plan = {
    ...madePlan(
      [madeFeature("a", "full-target", "S1", "ball", 5)],
      [{ name: "S1", at: [0, 0, 0], zone: null, nests: [] }],
    ),
    alignment: { features: ["a"] },
  };
  const { stations } = setupOfPlan(plan);
  const now = statusesOf(plan, stations, new Map([[0, marksOfPlan(plan, plan.stations[0], [])]]));
  assert.equal(rowsOf(plan, stations, now, changesOf(plan, now))[0].isAligned, true);
});

test("what has no value comes last, either way round", () => {
  assert.deepEqual(order({ sort: "margin", isDescending: true }), [1, 0, 3, 2]);
  assert.deepEqual(order({ sort: "uncertainty" }), [0, 1, 2, 3]);
  assert.deepEqual(order({ sort: "uncertainty", isDescending: true }), [1, 0, 2, 3]);
  assert.deepEqual(order({ sort: "station", isDescending: true }), [1, 3, 0, 2]);
});

test("filters hold together: words, states, station, changes", () => {
  assert.deepEqual(order({ words: "PAD s2" }), [1, 3]);
  assert.deepEqual(order({ words: "pad s2", states: ["full-target"] }), [3]);
  assert.deepEqual(order({ states: ["full-target", "blocked"] }), [0, 2, 3]);
  assert.deepEqual(order({ station: "S1" }), [0]);
  assert.deepEqual(order({ isChangedOnly: true }), [1, 2]);
  assert.deepEqual(order({ words: "nothing like it" }), []);
});

test("the copied list has a line for each row and the unit in its head", () => {
  const lines = tableText(rows.slice(1, 3), "mm").replace(/\n$/, "").split("\n");
  assert.equal(lines[0], "feature\tstate\tstation\ttarget\tmargin (mm)\tU as planned (mm)");
  assert.equal(lines[1], "pad-2\toffset-stylus\tS2\trod-2x\t100\t0.05");
  assert.equal(lines[2], "bore\tblocked\t\t\t\t");
});

test("the plan's uncertainty is shown only while its station and target hold", () => {
  const uncertainty = { covariance: [], expanded: 0.04 };
  const plan = madePlan(
    [madeFeature("a", "full-target", "S1", "ball", 5, { uncertainty })],
    [{ name: "S1", at: [0, 0, 0], zone: null, nests: [] }],
  );
  const start = setupOfPlan(plan);
  const marks = new Map([[0, marksOfPlan(plan, plan.stations[0], [])]]);
  const of = (setup) => {
    const now = statusesOf(plan, setup.stations, marks);
    return rowsOf(plan, setup.stations, now, changesOf(plan, now))[0].uncertainty;
  };
  assert.equal(of(start), 0.04);
  assert.equal(of(moveStation(start, 0, [1, 0, 0])), null);
});
