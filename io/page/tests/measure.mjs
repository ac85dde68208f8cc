// Measures a page in headless Chromium: how large it is, how long until it is ready, how long
// quick marks and a whole sight take from places along a line. Run in the build tree:
//   node --preserve-symlinks --preserve-symlinks-main tests/measure.mjs PAGE X,Y,Z X,Y,Z
// The line's ends are in mm; the engine is asked through a second client of its own.

import { readFileSync, rmSync, statSync } from "node:fs";
import { resolve } from "node:path";

import { loadEngineClass } from "./node_engine.mjs";
import { openPage, startBrowser } from "./browser.mjs";

const file = resolve(process.argv[2]);
const [from, to] = process.argv.slice(3, 5).map((text) => text.split(",").map(Number));
if (![from, to].flat().every(Number.isFinite)) throw new Error("say where: PAGE X,Y,Z X,Y,Z");

const html = readFileSync(file, "utf8");
const block = (id) => {
  const begin = html.indexOf(">", html.indexOf(`id="${id}"`)) + 1;
  return html.slice(begin, html.indexOf("</script>", begin));
};
const meshes = block("mesh-data");
const scene = block("scene-data");
console.log(
  `page ${(statSync(file).size / 1e6).toFixed(2)} MB, of it meshes ${(meshes.length / 1e6).toFixed(2)} MB`,
);

const browser = await startBrowser();
const begin = performance.now();
const { ready, complaints } = await openPage(browser, file);
console.log(`opened in ${(performance.now() - begin).toFixed(0)} ms: ${ready}`, complaints);
await browser.close();

const timed = async (what, work) => {
  const start = performance.now();
  const result = await work();
  console.log(`${what} ${(performance.now() - start).toFixed(0)} ms`);
  return result;
};
const { PageEngine, out } = await loadEngineClass();
process.on("exit", () => rmSync(out, { force: true }));
const { engine } = await timed("engine loaded (Node.js)", () => PageEngine.load(scene, meshes));
const steps = 20;
// Processor time: what the clock says when nothing else runs.
const cpu = () => process.cpuUsage().user / 1000;
const times = { marks: [], sight: [] };
const verdicts = {};
for (let i = 0; i <= steps; ++i) {
  const at = from.map((x, axis) => x + ((to[axis] - x) * i) / steps);
  for (const what of ["marks", "sight"]) {
    if (what === "sight" && i % 5 !== 0) continue;
    const start = cpu();
    const answer = engine[what](at);
    times[what].push(cpu() - start);
    if (what === "marks")
      for (const { verdict } of answer.features) verdicts[verdict] = (verdicts[verdict] ?? 0) + 1;
  }
}
for (const [what, list] of Object.entries(times)) {
  const sorted = list.slice(1).sort((a, b) => a - b);
  console.log(
    `${what}: first ${list[0].toFixed(0)} ms, then median ${sorted[sorted.length >> 1].toFixed(0)} ms, most ${sorted.at(-1).toFixed(0)} ms`,
  );
}
console.log(verdicts);
