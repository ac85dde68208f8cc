// Every import of the app points down the list in DEVELOPERS.md, and none comes back to where it
// started. First the checker, on small made-up lists; then the app.

import assert from "node:assert/strict";
import { test } from "node:test";

import { brokenArrows, importsOf } from "./arrows.mjs";

const made = (lists) => brokenArrows(new Map(Object.entries(lists)), ["main.ts", "top", "low"]);

test("an import from a higher folder is told, one from a lower or its own is not", () => {
  assert.deepEqual(
    made({ "main.ts": ["top/a.ts", "low/b.ts"], "top/a.ts": ["low/b.ts"], "low/b.ts": [] }),
    [],
  );
  assert.deepEqual(made({ "top/a.ts": ["top/c.ts"], "top/c.ts": [] }), []);
  assert.deepEqual(made({ "top/a.ts": [], "low/b.ts": ["top/a.ts"] }), [
    "low/b.ts imports top/a.ts, which stands above it",
  ]);
});

test("a circle is told with all its files, also within one folder", () => {
  assert.deepEqual(
    made({ "low/a.ts": ["low/b.ts"], "low/b.ts": ["low/c.ts"], "low/c.ts": ["low/b.ts"] }),
    ["a circle: low/b.ts -> low/c.ts -> low/b.ts"],
  );
  assert.deepEqual(made({ "low/a.ts": ["low/a.ts"] }), ["a circle: low/a.ts -> low/a.ts"]);
  // Two ways down to one file are no circle.
  assert.deepEqual(
    made({ "top/a.ts": ["low/b.ts", "low/c.ts"], "low/b.ts": ["low/c.ts"], "low/c.ts": [] }),
    [],
  );
});

test("a file outside the order is told", () => {
  assert.deepEqual(made({ "side/a.ts": [] }), ["side/a.ts is not in the order"]);
});

test("the app's imports point down, and there is no circle", () => {
  const imports = importsOf("app");
  // That they were found at all: of types, too.
  assert.ok(imports.size > 40, `${imports.size} files`);
  assert.ok(imports.get("main.ts").includes("app.ts"));
  assert.ok(imports.get("view/labels.ts").includes("view/viewport.ts"));
  const order = ["main.ts", "app.ts", "ui", "view", "model", "engine", "data"];
  assert.deepEqual(brokenArrows(imports, order), []);
});
