import assert from "node:assert/strict";
import { test } from "node:test";

import { advance, begin, redo, undo } from "../../app/model/history.ts";
import {
  addStation,
  droppedStations,
  dropStation,
  freeName,
  isAsPlanned,
  moveStation,
  putAtHand,
  putBack,
  setupOfPlan,
  takeAway,
} from "../../app/model/setup.ts";
import { madePlan } from "./made.mjs";

const plan = madePlan(
  [],
  [
    { name: "S1", at: [0, 0, 1000], zone: null, nests: [] },
    { name: "S2", at: [5000, 0, 1000], zone: null, nests: [] },
  ],
);

test("a moved station is not as planned; back in its place it is", () => {
  const start = setupOfPlan(plan);
  assert.ok(isAsPlanned(start, plan));
  const moved = moveStation(start, 1, [5000, 10, 1000]);
  assert.ok(!isAsPlanned(moved, plan));
  assert.deepEqual(start.stations[1].at, [5000, 0, 1000]);
  assert.ok(isAsPlanned(moveStation(moved, 1, [5000, 0, 1000]), plan));
});

test("a dropped station of the plan can be put back to its place in the list", () => {
  const without = dropStation(setupOfPlan(plan), 0);
  assert.deepEqual(
    droppedStations(without, plan).map((s) => s.name),
    ["S1"],
  );
  const again = putBack(without, droppedStations(without, plan)[0]);
  assert.deepEqual(
    again.stations.map((s) => s.name),
    ["S1", "S2"],
  );
  assert.ok(isAsPlanned(again, plan));
});

test("an added station gets a name that nothing has, and is not as planned", () => {
  const start = setupOfPlan(plan);
  assert.equal(freeName(start, ["S3"]), "S4");
  const more = addStation(start, 7, "S4", [1, 2, 3]);
  assert.ok(!isAsPlanned(more, plan));
  assert.equal(more.stations[2].planned, null);
});

test("bodies and targets taken away and brought back leave no trace", () => {
  const start = setupOfPlan(plan);
  const away = takeAway(takeAway(start, "b", true), "a", true);
  assert.deepEqual(away.away, ["a", "b"]);
  assert.ok(isAsPlanned(takeAway(takeAway(away, "a", false), "b", false), plan));
  const all = ["ball", "mirror", "rod"];
  const fewer = putAtHand(start, all, "mirror", false);
  assert.deepEqual(fewer.targets, ["ball", "rod"]);
  assert.equal(putAtHand(fewer, all, "mirror", true).targets, null);
});

test("undo and redo walk along what was done; a new step forgets what was undone", () => {
  let history = begin("a");
  history = advance(advance(history, "b"), "c");
  assert.equal(advance(history, "c"), history);
  history = undo(history);
  assert.equal(history.now, "b");
  assert.equal(redo(history).now, "c");
  assert.equal(undo(undo(undo(history))).now, "a");
  history = advance(history, "d");
  assert.deepEqual([history.now, history.future.length, undo(history).now], ["d", 0, "b"]);
});

test("only so many steps are kept, the newest", () => {
  let history = begin(0);
  for (let i = 1; i <= 300; i += 1) history = advance(history, i);
  assert.equal(history.past.length, 200);
  assert.equal(undo(history).now, 299);
});
