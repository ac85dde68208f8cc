import assert from "node:assert/strict";
import { test } from "node:test";

import { moveStation, takeAway } from "../../app/model/setup.ts";
import { Tracer } from "../../app/model/tracer.ts";
import { full } from "./made.mjs";

const mm = { name: "mm", mm: 1 };

/** The first two stations are tied where both have been traced. */
const tied = ([a, b]) =>
  a.length > 0 && b.length > 0
    ? { links: [{ a: 0, b: 1, nests: [0] }], loose: [], lines: [] }
    : { links: [], loose: [1], lines: [] };

/** Answers when it is told to, and remembers what it was asked. */
function slowEngine() {
  const asked = [];
  const waiting = [];
  const answer = (what, value) =>
    new Promise((resolve) => {
      asked.push(what);
      waiting.push(() => resolve(value));
    });
  return {
    asked,
    /** Lets the engine answer until nothing is asked any more. */
    async settle() {
      for (let quiet = 0; quiet < 3;) {
        const next = waiting.shift();
        if (next) next();
        quiet = next ? 0 : quiet + 1;
        await new Promise((resolve) => setTimeout(resolve, 0));
      }
    },
    async step() {
      waiting.shift()?.();
      await new Promise((resolve) => setTimeout(resolve, 0));
    },
    marks: (at) => answer(`marks ${at}`, { features: [full("ball", at[0])], nests: [full()] }),
    sight: (at) => answer(`sight ${at}`, { at, features: [], nests: [] }),
    // At once, and not among what was asked: it is asked whenever marks are new.
    ties: (nests) => Promise.resolve(tied(nests)),
    // At once, too: the last place with parts takes the first touch, the first place the second.
    together: (places) =>
      Promise.resolve(
        places.every(([own]) => Array.isArray(own))
          ? [{ ...full("ball", 1), touches: [places.length - 1, 0, null] }]
          : [null],
      ),
    nearest: (places) => Promise.resolve([places.length - 1]),
    canStand: (at) => answer(`stand ${at}`, at[0] > 100 ? "column" : null),
    atHand: (use) => answer(`use ${use.hiddenBodies} ${use.targets}`, undefined),
  };
}

const station = (id, x, up = [0, 0, 1]) => ({
  id,
  name: `S${id}`,
  at: [x, 0, 0],
  up,
  planned: [x, 0, 0],
});
const setup = { stations: [station(1, 1), station(2, 2)], away: [], targets: null };
const plain = { first: null, sights: false };

test("while one place is traced the newest is kept for next, those between are never asked", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  tracer.want(setup, plain);
  await engine.settle();
  engine.asked.length = 0;
  let now = setup;
  for (const x of [10, 20, 30]) {
    now = moveStation(setup, 2, [x, 0, 0]);
    tracer.want(now, { first: 2, sights: false });
  }
  await engine.settle();
  const marks = engine.asked.filter((what) => what.startsWith("marks"));
  assert.deepEqual(marks, ["marks 30,0,0"]);
  assert.equal(tracer.known(now).marks.get(2).features[0].margin, 30);
});

test("an instrument that hangs is asked as it hangs, and is not taken for an upright one", async () => {
  const asked = [];
  const engine = {
    ...slowEngine(),
    marks: (at, up) => {
      asked.push(`${at} up ${up}`);
      return Promise.resolve({ features: [full("ball", up[2])], nests: [] });
    },
    canStand: () => Promise.resolve(null),
  };
  const tracer = new Tracer(engine, mm, () => {});
  const both = { ...setup, stations: [station(1, 5), station(2, 5, [0, 0, -1])] };
  tracer.want(both, plain);
  for (let i = 0; i < 20; i += 1) await new Promise((resolve) => setTimeout(resolve, 0));
  assert.deepEqual(asked.sort(), ["5,0,0 up 0,0,-1", "5,0,0 up 0,0,1"]);
  assert.equal(tracer.known(both).marks.get(1).features[0].margin, 1);
  assert.equal(tracer.known(both).marks.get(2).features[0].margin, -1);
});

test("until a place is traced the last known marks stand in, and it is said", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  tracer.want(setup, plain);
  await engine.settle();
  assert.equal(tracer.known(setup).isTracing, false);
  const moved = moveStation(setup, 1, [50, 0, 0]);
  tracer.want(moved, plain);
  assert.equal(tracer.known(moved).isTracing, true);
  assert.equal(tracer.known(moved).marks.get(1).features[0].margin, 1);
  await engine.settle();
  assert.equal(tracer.known(moved).isTracing, false);
  assert.equal(tracer.known(moved).marks.get(1).features[0].margin, 50);
});

test("ties are those of the marks at hand, of the plan before, and keep up with a drag", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  const planned = { links: [{ a: 1, b: 2, nests: [3] }], loose: [], lines: [] };
  tracer.assumeTies(planned);
  assert.deepEqual(tracer.known(setup).ties, planned);
  tracer.want(setup, plain);
  await new Promise((resolve) => setTimeout(resolve, 0));
  assert.deepEqual(tracer.known(setup).ties, { links: [], loose: [2], lines: [] }); // nothing is traced
  await engine.settle();
  assert.deepEqual(tracer.known(setup).ties, {
    links: [{ a: 1, b: 2, nests: [0] }],
    loose: [],
    lines: [],
  });
  // Two steps of a drag, the second while the first is being answered.
  tracer.want(moveStation(setup, 2, [50, 0, 0]), { first: 2, sights: false });
  const further = moveStation(setup, 2, [60, 0, 0]);
  tracer.want(further, { first: 2, sights: false });
  assert.deepEqual(tracer.known(further).ties.links, [{ a: 1, b: 2, nests: [0] }]);
  await engine.settle();
  assert.deepEqual(tracer.known(further).ties.links, [{ a: 1, b: 2, nests: [0] }]);
});

test("a place that was traced before is not asked again", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  const moved = moveStation(setup, 1, [50, 0, 0]);
  for (const each of [setup, moved]) {
    tracer.want(each, plain);
    await engine.settle();
  }
  const count = engine.asked.length;
  tracer.want(setup, plain);
  await engine.settle();
  assert.equal(engine.asked.length, count);
  assert.equal(tracer.known(setup).marks.get(1).features[0].margin, 1);
});

test("the held station is asked first, and what it would cut is told", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  const moved = moveStation(setup, 2, [500, 0, 0]);
  tracer.want(moved, { first: 2, sights: false });
  await engine.settle();
  assert.deepEqual(engine.asked.slice(0, 2), ["stand 500,0,0", "marks 500,0,0"]);
  assert.deepEqual([...tracer.known(moved).bodies], [[2, "column"]]);
});

test("what is at hand is set before its marks are asked, and its marks are kept apart", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  tracer.want(setup, plain);
  await engine.settle();
  engine.asked.length = 0;
  const without = takeAway(setup, "crate", true);
  tracer.want(without, plain);
  await engine.settle();
  assert.equal(engine.asked[0], "use crate null");
  assert.equal(engine.asked.filter((what) => what.startsWith("marks")).length, 2);
  tracer.want(setup, plain);
  await engine.settle();
  assert.equal(engine.asked.filter((what) => what.startsWith("marks")).length, 2);
});

test("sights are asked last, and not while a station is held", async () => {
  const engine = slowEngine();
  const tracer = new Tracer(engine, mm, () => {});
  tracer.want(setup, plain);
  await engine.settle();
  assert.ok(!engine.asked.some((what) => what.startsWith("sight")));
  assert.equal(tracer.known(setup).nearest, null);
  tracer.want(setup, { first: null, sights: true });
  for (let i = 0; i < 40 && tracer.known(setup).sights.length < 2; i += 1) {
    await new Promise((resolve) => setTimeout(resolve, 50));
    await engine.settle();
  }
  assert.equal(tracer.known(setup).sights.length, 2);
  assert.deepEqual(engine.asked.slice(-2), ["sight 1,0,0", "sight 2,0,0"]);
  assert.deepEqual(tracer.known(setup).nearest, [1], "the engine's answer about both");
});

test("a fault of the engine is told once and nothing more is asked", async () => {
  const faults = [];
  const engine = { ...slowEngine(), canStand: () => Promise.reject(new Error("out of memory")) };
  const tracer = new Tracer(engine, mm, (fault) => fault && faults.push(fault.message));
  tracer.want(setup, plain);
  await new Promise((resolve) => setTimeout(resolve, 5));
  tracer.want(moveStation(setup, 1, [9, 0, 0]), plain);
  await new Promise((resolve) => setTimeout(resolve, 5));
  assert.deepEqual(faults, ["out of memory"]);
});

test("what stations take together is asked once the marks of all are known, and told by their ids", async () => {
  const engine = slowEngine();
  const parts = [{ target: "ball", margins: [null, 4, null] }];
  engine.marks = (at) =>
    Promise.resolve({
      features: [{ verdict: "blocked", target: null, margin: null, parts }],
      nests: [full("ball", at[0])],
    });
  const tracer = new Tracer(engine, mm, () => {});
  const planned = [{ ...full("ball", 9), touches: [1, 2, 2] }];
  tracer.assumeShared(planned);
  assert.deepEqual(tracer.known(setup).shared, planned, "the plan's, while nothing is traced");
  tracer.want(setup, plain);
  await engine.settle();
  const shared = tracer.known(setup).shared;
  assert.deepEqual(shared, [{ ...full("ball", 1), touches: [2, 1, null] }]);
});
