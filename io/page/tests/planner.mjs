// The planner as WebAssembly against the program, text for text: tests/page/planner_module.cpp.
//   node planner.mjs PLANNER.JS ORACLE PROGRAM SCENES FOLDER

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { test } from "node:test";

const [moduleFile, oracle, program, scenes, folder] = process.argv.slice(2);
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

// "type": "module" of the package beside does not hold for what Emscripten writes.
const commonFile = join(folder, "planner.cjs");
writeFileSync(commonFile, readFileSync(moduleFile));
const planner = await createRequire(commonFile)(commonFile)();

/** What a command prints; it must end with one of these codes. */
function run(file, args, codes = [0]) {
  const done = spawnSync(file, args, { encoding: "utf8", maxBuffer: 1 << 28 });
  assert(codes.includes(done.status), `${file} ${args.join(" ")}: ${done.stdout}${done.stderr}`);
  return done.stdout;
}

/** `bytes` in the module's memory while `use` runs. */
function withBytes(bytes, use) {
  const at = planner._malloc(bytes.length + 1);
  planner.HEAPU8.set(bytes, at);
  planner.HEAPU8[at + bytes.length] = 0;
  try {
    return use(at);
  } finally {
    planner._free(at);
  }
}

const textAt = (pointer) => planner.UTF8ToString(pointer);

/** The first line in which two texts differ: whole plans would drown it. */
function assertSameText(ours, theirs, what) {
  if (ours === theirs) return;
  const a = ours.split("\n");
  const b = theirs.split("\n");
  const at = a.findIndex((line, i) => line !== b[i]);
  const unlike = a.filter((line, i) => line !== b[i]).length;
  assert.fail(
    `${what}: ${unlike} lines differ, line ${at + 1} first:\nWebAssembly ${a[at]}\nprogram     ${b[at]}`,
  );
}

/** The scene with its meshes' paths whole, so that it can stand in another folder. */
function sceneOf(name, change = () => {}) {
  const scene = JSON.parse(readFileSync(join(scenes, name, "scene.json"), "utf8"));
  for (const body of scene.bodies) body.mesh = join(scenes, name, body.mesh);
  change(scene);
  return JSON.stringify(scene);
}

/** Angles whose sine no table holds. */
function turned(scene) {
  scene.bodies.forEach((body, i) => {
    body.pose = { ...body.pose, rotate_xyz_deg: [0.3 * i - 0.7, 0.11 * i, 7.3 - i] };
  });
}

/** Without features that several stations share. */
function unshared(scene) {
  scene.rules = { ...scene.rules, split_features: false };
}

function comparePlans(label, text) {
  const here = join(folder, label);
  mkdirSync(here);
  const file = join(here, "scene.json");
  writeFileSync(file, text);
  run(oracle, ["bodies", file, join(here, "bodies")]);
  const bodies = readFileSync(join(here, "bodies"));
  const read = withBytes(Buffer.from(text), (json) =>
    withBytes(bodies, (at) => textAt(planner._planner_read(json, at, bodies.length))),
  );
  assert.match(read, /^\d+ bodies$/);
  const ours = textAt(planner._planner_plan()).split("\u0001");
  assert.equal(ours.length, 3, ours[0]);
  // 1: some feature is blocked, which is an answer too.
  run(program, ["plan", file, "-o", here, "--quiet"], [0, 1]);
  ["plan.json", "stations.csv", "touches.csv"].forEach((name, i) => {
    assertSameText(ours[i], readFileSync(join(here, name), "utf8"), `${label}: ${name}`);
  });
  return { file, plan: join(here, "plan.json") };
}

for (const name of ["wire", "dowel", "nests"]) {
  test(`${name}: the plan is the program's`, () => void comparePlans(name, sceneOf(name)));
}
test("demo: the plan is the program's, and its rehearsal", () => {
  // What stations share takes the integer solver, which is not here.
  const { file, plan } = comparePlans("demo", sceneOf("demo", unshared));
  const theirs = run(program, ["rehearse", file, "--plan", plan, "--trials", "300", "--json"]);
  assertSameText(textAt(planner._planner_rehearse(300)), theirs, "rehearsal");
});
test("wire with turned bodies: the plan is the program's", () =>
  void comparePlans("turned", sceneOf("wire", turned)));

/** A double as a whole number of 2^-1074, from its hexadecimal text. */
function wholeOf(hexadecimal) {
  const [, sign, before, after = "", exponent] = /^(-?)0x(\d)\.?([0-9a-f]*)p([+-]\d+)$/.exec(
    hexadecimal,
  );
  const digits = BigInt(`0x${before}${after}`);
  const shifted = digits << BigInt(Number(exponent) + 1074 - 4 * after.length);
  return sign === "-" ? -shifted : shifted;
}

/** Whether a point is in or on a triangle, in whole numbers. */
function isInTriangle([ax, ay, bx, by, cx, cy, x, y]) {
  const side = (px, py, qx, qy) => (qx - px) * (y - py) - (qy - py) * (x - px);
  const sides = [side(ax, ay, bx, by), side(bx, by, cx, cy), side(cx, cy, ax, ay)];
  return sides.every((s) => s >= 0n) || sides.every((s) => s <= 0n);
}

test("single figures are the program's", () => {
  const file = join(folder, "figures.txt");
  run(oracle, ["figures", file]);
  const ours = textAt(planner._planner_figures());
  assertSameText(ours, readFileSync(file, "utf8"), "figures");
  for (const kind of [
    "functions",
    "draws",
    "quantile",
    "number",
    "length",
    "polygon",
    "pose",
    "nest",
  ]) {
    assert(ours.includes(`\n${kind} `) || ours.startsWith(`${kind} `), kind);
  }
});

test("which side of an edge a point lies on is told exactly", () => {
  const lines = textAt(planner._planner_figures())
    .split("\n")
    .filter((line) => line.startsWith("polygon "));
  const counts = { in: 0, out: 0 };
  for (const line of lines) {
    const words = line.split(" ");
    assert.equal(words[10], isInTriangle(words.slice(2, 10).map(wholeOf)) ? "in" : "out", line);
    counts[words[10]] += 1;
  }
  assert(counts.in > 500 && counts.out > 500, JSON.stringify(counts));
});

test("a small cover is solved exactly without the integer solver, and a large one says that there is none", () => {
  // Five points of nine meet every line of the plane (Fulkerson, Nemhauser and Trotter, 1974).
  assert.equal(textAt(planner._planner_cover(2)), "5");
  assert.match(textAt(planner._planner_cover(4)), /^!.*integer solver/);
});
