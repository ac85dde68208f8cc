import assert from "node:assert/strict";
import { test } from "node:test";

import { setupOfPlan } from "../../app/model/setup.ts";
import {
  changesOf,
  marksOfPlan,
  sharedOfPlan,
  statusesOf,
  tallyOf,
} from "../../app/model/status.ts";
import { blocked, drawn, full, madeFeature, madePlan, stylus } from "./made.mjs";

const at = (name) => ({ name, at: [0, 0, 0], zone: null, nests: [] });

function planned() {
  return madePlan(
    [
      madeFeature("a", "full-target", "S1", "ball", 5),
      madeFeature("b", "offset-stylus", "S2", "rod", 7),
      madeFeature("c", "blocked", null),
      madeFeature("d", "full-target", "S2", "ball", 3, { required: false }),
    ],
    [at("S1"), at("S2")],
  );
}
const marked = (...features) => ({ features, nests: [] });

test("a station keeps its features while no other has a better state", () => {
  const plan = planned();
  const { stations } = setupOfPlan(plan);
  const marks = new Map([
    [0, marked(full("ball", 5), stylus("rod", 90), blocked(), full("ball", 40))],
    [1, marked(full("ball", 50), stylus("rod", 7), blocked(), full("ball", 3))],
  ]);
  const now = statusesOf(plan, stations, marks);
  assert.deepEqual(
    now.map((s) => s.station),
    [0, 1, null, 1],
  );
  assert.deepEqual(
    now.map((s) => s.margin),
    [5, 7, null, 3],
  );
  assert.deepEqual(
    now.map((s) => s.from),
    [2, 2, 0, 2],
  );
});

test("a full target from elsewhere wins over the station's own offset stylus", () => {
  const plan = planned();
  const { stations } = setupOfPlan(plan);
  const marks = new Map([
    [0, marked(stylus(), full("ball", 1), blocked(), blocked())],
    [1, marked(full(), stylus(), full(), blocked())],
  ]);
  const now = statusesOf(plan, stations, marks);
  assert.deepEqual(
    now.map((s) => s.station),
    [1, 0, 1, null],
  );
  const changes = changesOf(plan, now);
  assert.deepEqual(changes.of, ["same", "stronger", "gained", "lost"]);
  const tally = tallyOf(plan, now, 1);
  assert.deepEqual(
    [tally.required, tally.reached, tally.full, tally.stylus, tally.blocked],
    [3, 3, 3, 0, 0],
  );
  assert.deepEqual([tally.further, tally.furtherReached, tally.tooFew], [1, 0, 0]);
  assert.equal(tallyOf(plan, now, 2).tooFew, 1); // c is reached once, a and b twice
});

test("before anything is traced the plan stands as it was written", () => {
  const plan = planned();
  const { stations } = setupOfPlan(plan);
  const marks = new Map(plan.stations.map((s, i) => [i, marksOfPlan(plan, s, [])]));
  const now = statusesOf(plan, stations, marks);
  plan.features.forEach((feature, i) => {
    assert.equal(now[i].verdict, feature.verdict);
    assert.equal(now[i].margin, feature.margin);
  });
  assert.ok(changesOf(plan, now).of.every((change) => change === "same"));
});

test("whatever the marks, each feature has the best state and the counts add up", () => {
  const order = ["blocked", "offset-stylus", "full-target"];
  for (let seed = 1; seed <= 200; seed += 1) {
    const draw = drawn(seed);
    const names = ["S1", "S2", "S3"];
    const mark = () =>
      [blocked(), stylus("rod", draw() * 50), full("ball", draw() * 50)][Math.floor(draw() * 3)];
    const features = Array.from({ length: 12 }, (_, i) => {
      const { verdict, target, margin } = mark();
      const station = verdict === "blocked" ? null : names[Math.floor(draw() * 3)];
      return madeFeature(`f${i}`, verdict, station, target, margin, { required: draw() < 0.8 });
    });
    const plan = madePlan(features, names.map(at));
    const { stations } = setupOfPlan(plan);
    const marks = new Map(stations.map((s) => [s.id, marked(...features.map(mark))]));
    const now = statusesOf(plan, stations, marks);
    features.forEach((feature, i) => {
      const all = stations.map((s) => marks.get(s.id).features[i]);
      const best = Math.max(...all.map((m) => order.indexOf(m.verdict)));
      assert.equal(order.indexOf(now[i].verdict), best, `seed ${seed}, feature ${i}`);
      if (best === 0) return assert.equal(now[i].station, null);
      const equal = stations.filter(
        (s) => order.indexOf(marks.get(s.id).features[i].verdict) === best,
      );
      const own = equal.find((s) => s.name === feature.station);
      const widest = equal.reduce((a, b) =>
        marks.get(b.id).features[i].margin > marks.get(a.id).features[i].margin ? b : a,
      );
      assert.equal(now[i].station, (own ?? widest).id, `seed ${seed}, feature ${i}`);
    });
    const tally = tallyOf(plan, now, 1);
    assert.equal(tally.full + tally.stylus + tally.blocked, tally.required);
    assert.equal(tally.required + tally.further, 12);
  }
});

test("a feature that stations share counts while all of them stand and none takes it alone", () => {
  const touches = [{ station: "S2" }, { station: "S1" }, { station: null }];
  const plan = madePlan(
    [madeFeature("top", "full-target", null, "ball", 4, { stations: ["S1", "S2"], touches })],
    [at("S1"), at("S2")],
  );
  const { stations } = setupOfPlan(plan);
  const shared = sharedOfPlan(plan);
  assert.deepEqual(shared[0].touches, [1, 0, null]);
  const none = new Map(stations.map(({ id }) => [id, marked(blocked())]));
  const [status] = statusesOf(plan, stations, none, shared);
  assert.deepEqual(
    [status.verdict, status.station, status.shared, status.margin, status.from],
    ["full-target", null, [1, 0, null], 4, 1],
  );
  assert.equal(statusesOf(plan, stations.slice(0, 1), none, shared)[0].verdict, "blocked");
  assert.equal(statusesOf(plan, stations, none, [null])[0].verdict, "blocked");
  const alone = new Map([...none, [1, marked(stylus("rod", 2))]]);
  const [by] = statusesOf(plan, stations, alone, shared);
  assert.deepEqual([by.verdict, by.station, by.shared], ["offset-stylus", 1, null]);
});
