// The page in a real browser. Plans the demo and a small scene with hostile names, opens their pages
// and works them; every check is told by its name.
//   node run_app.mjs STANDPOINT SCENES_FOLDER WORK_FOLDER [part of a check's name]

import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";

import { movingChecks } from "./app/moving_checks.mjs";
import { otherChecks } from "./app/other_checks.mjs";
import { Program } from "./app/program.mjs";
import { readingChecks } from "./app/reading_checks.mjs";
import { openPage, startBrowser } from "./browser.mjs";

const [binary, scenes, work] = process.argv.slice(2, 5).map((name) => resolve(name));
const wanted = process.argv[5] ?? "";
mkdirSync(work, { recursive: true });
const program = new Program(binary, work);
let failed = 0;

async function run(checks, context) {
  for (const [name, check] of Object.entries(checks)) {
    if (!name.includes(wanted)) continue;
    const start = performance.now();
    try {
      await check(context);
      console.log(`ok      ${name} (${((performance.now() - start) / 1000).toFixed(1)} s)`);
    } catch (error) {
      failed += 1;
      console.log(`FAILED  ${name}\n${error.stack}`);
      await context.page?.screenshot({ path: join(work, `failed-${failed}.png`) });
      await context.again?.(); // what it left half done is not to fail the next
    }
  }
}

const hostileName = `</script><b>&"'<img src=x onerror="globalThis.struck=1">`;
function madeHostile(scene) {
  scene.name = hostileName;
  scene.features.forEach((feature, i) => (feature.name = `${hostileName} ${i}`));
  scene.bodies[0].name = `${hostileName} part`;
  scene.bodies[1].name = `${hostileName} wire`;
  return scene;
}

const scene = program.sceneCopy("demo-scene", join(scenes, "demo"));
const demo = program.plan(scene, "demo");
const hostile = program.plan(
  program.sceneCopy("hostile-scene", join(scenes, "wire"), madeHostile),
  "hostile",
);
const shot = (page, name) => page.screenshot({ path: join(work, `${name}.png`) });

const browser = await startBrowser();
try {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const start = performance.now();
  const { page, ready, complaints } = await openPage(
    { newPage: () => context.newPage() },
    demo.page,
  );
  console.log(`ready: ${ready} after ${((performance.now() - start) / 1000).toFixed(2)} s`);
  if (ready !== "yes") throw new Error(`the page is not ready: ${ready}`);
  const again = async () => {
    await page.reload({ waitUntil: "commit" });
    await page.waitForFunction(() => document.documentElement.dataset.ready === "yes");
  };
  const folder = join(scenes, "demo");
  await run(
    { ...movingChecks, ...readingChecks },
    { page, again, program, scene, folder, work, plan: demo.plan },
  );
  if (complaints.length > 0) {
    failed += 1;
    console.log(
      `FAILED  nothing is complained of, nothing asked from outside\n${complaints.join("\n")}`,
    );
  }
  await context.close();
  await run(otherChecks, {
    browser,
    demo,
    hostile: { ...hostile, body: `${hostileName} wire` },
    shot,
  });
} finally {
  await browser.close();
}
process.exit(failed === 0 ? 0 : 1);
