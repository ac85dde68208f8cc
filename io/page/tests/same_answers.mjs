// The page's engine against the program, text for text: see tests/page/write_sights.cpp.

import assert from "node:assert/strict";
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { after, test } from "node:test";

import { loadEngineClass } from "./node_engine.mjs";

const folder = process.argv[2];
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".places"))
  .map((name) => name.slice(0, -".places".length));
assert(names.length > 20, "the program wrote no scenes");

const { PageEngine, out } = await loadEngineClass();
after(() => rmSync(out, { force: true }));

const verdicts = new Map();
let links = 0;
let sentences = 0;
let shared = 0;

/** What marks() says must be what sight() says of the whole. */
function marksOf(sight) {
  const summary = ({ verdict, target, margin }) => {
    verdicts.set(verdict, (verdicts.get(verdict) ?? 0) + 1);
    return { verdict, target, margin: verdict === "blocked" ? null : margin };
  };
  return { features: sight.features.map(summary), nests: sight.nests.map(summary) };
}

/** The marks without the parts of blocked features, which sight() does not tell. A touch that a
 * part reaches is one that sight() has as reached. */
function withoutParts(marks, sight, where) {
  marks.features.forEach(({ verdict, parts = [] }, f) => {
    const { touches } = sight.features[f];
    if (parts.length > 0) assert.equal(verdict, "blocked", where);
    for (const { target, margins } of parts) {
      assert.equal(margins.length, touches.length, where);
      const reached = margins.flatMap((margin, t) => (margin === null ? [] : [t]));
      assert(reached.length > 0, `${target}, ${where}`);
      for (const t of reached)
        assert.notEqual(touches[t].verdict, "blocked", `${target}, ${where}`);
      shared += reached.length;
    }
  });
  const features = marks.features.map(({ verdict, target, margin }) => ({
    verdict,
    target,
    margin,
  }));
  return { ...marks, features };
}

/** With a sight come the reasons of what is blocked: a sentence for each target that was tried. */
function checkReasons(engine, at, up, text, where) {
  const { reasons, ...sight } = engine.sight(at, up);
  assert.deepEqual(sight, JSON.parse(text), where);
  sight.features.forEach(({ name, verdict, touches }, f) => {
    const tried = verdict === "blocked" ? touches.flatMap(({ causes }) => causes) : [];
    const targets = new Set(tried.map(({ target }) => target));
    assert.equal(reasons[f].length, targets.size, `${name}, ${where}`);
    for (const target of targets) {
      const own = reasons[f].filter((reason) => reason.startsWith(`${target}: `));
      assert.equal(own.length, 1, `${name}, ${target}, ${where}`);
    }
    sentences += reasons[f].length;
  });
}

for (const name of names) {
  const read = (ending) => readFileSync(join(folder, `${name}.${ending}`), "utf8");
  test(name, async () => {
    const { engine } = await PageEngine.load(read("json"), read("meshes"));
    const places = JSON.parse(read("places"));
    const sights = read("sights").split("\0");
    const ties = read("ties").split("\0");
    assert.equal(sights.length, places.length + 1);
    const nests = sights
      .slice(0, -1)
      .map((sight) => JSON.parse(sight).nests.map(({ verdict }) => verdict));
    const seen = [];
    let inUse = "";
    places.forEach(({ at, up, use, stand }, i) => {
      if (JSON.stringify(use) !== inUse) engine.useAtHand(use);
      inUse = JSON.stringify(use);
      // Quick marks first, so that sight() meets whatever they leave behind.
      const marks = engine.marks(at, up);
      assert.equal(engine.sightText(at, up), sights[i], `place ${i} of ${name}`);
      const sight = JSON.parse(sights[i]);
      const where = `marks, place ${i} of ${name}`;
      assert.deepEqual(withoutParts(marks, sight, where), marksOf(sight), where);
      assert.equal(engine.canStand(at, up), stand, `canStand, place ${i} of ${name}`);
      assert.equal(
        engine.tiesText(nests.slice(Math.max(0, i - 3), i + 1)),
        ties[i],
        `ties, place ${i} of ${name}`,
      );
      if (i % 5 === 0) checkReasons(engine, at, up, sights[i], `place ${i} of ${name}`);
      links += JSON.parse(ties[i]).links.length;
      seen.push(JSON.parse(sights[i]));
    });
    const near = seen.map(({ features }) =>
      features.map(({ touches, margin }) => [
        touches.filter((t) => t.verdict !== "blocked").length,
        margin,
      ]),
    );
    const nearest = engine.nearest(near);
    assert.equal(nearest.length, seen[0].features.length);
    nearest.forEach((place, f) => {
      const key = ([reached, margin]) => reached * 1e9 + (margin ?? -1e8);
      const best = Math.max(...near.map((of) => key(of[f])));
      assert.equal(
        place,
        near.findIndex((of) => key(of[f]) === best),
        `nearest, feature ${f} of ${name}`,
      );
    });
  });
}

test("the scenes show every verdict", () => {
  assert.deepEqual([...verdicts.keys()].sort(), ["blocked", "full-target", "offset-stylus"]);
  for (const count of verdicts.values()) assert(count > 100);
  assert(links > 20, "and ties");
  assert(sentences > 100, "and reasons");
  assert(shared > 20, "and touches of features that are not taken whole");
});
