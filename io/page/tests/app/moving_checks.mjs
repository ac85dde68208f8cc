// The page of the demo, in the hands of a user who moves things. Each check but those that follow a
// drag leaves the page as the plan has it.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";

import {
  agreesWithProgram,
  backToPlan,
  drag,
  drawn,
  places,
  rows,
  sentence,
  traced,
} from "./page_hands.mjs";

const sightsOf = (program, scene, stations) =>
  new Map([...stations].map(([name, at]) => [name, program.sight(scene, at)]));

export const movingChecks = {
  async "a station dragged by the mouse is marked as the program marks it there"(the) {
    const { page, plan, program, scene } = the;
    const before = await places(page);
    await drag(page, "S2", 70, -60);
    await traced(page);
    const after = await places(page);
    assert.notDeepEqual(after.get("S2"), before.get("S2"));
    assert.equal(after.get("S2")[2], before.get("S2")[2]); // on its own level
    assert.deepEqual(after.get("S1"), before.get("S1"));
    const shown = await rows(page);
    agreesWithProgram(shown, sightsOf(program, scene, after), plan);
    const differ = plan.features.filter(
      (feature) => shown.get(feature.name).verdict !== feature.verdict,
    );
    assert.ok(differ.length > 0, "the drag is to change something");
    assert.equal(
      [...shown.values()].filter((row) => /gained|lost|was by/.test(row.change)).length,
      differ.length,
    );
    the.dragged = { after, shown, sentence: await sentence(page) };
  },

  async "undo gives the plan back and redo the drag"({ page, dragged, plan }) {
    const isToldOnSheet = () => page.locator(".sheet .moved-notice").evaluate((p) => !p.hidden);
    assert.ok(await isToldOnSheet(), "a print would not say that stations were moved");
    await page.getByRole("button", { name: "Undo" }).click();
    await traced(page);
    assert.ok(!(await isToldOnSheet()));
    for (const feature of plan.features) {
      assert.equal((await rows(page)).get(feature.name).verdict, feature.verdict);
    }
    await page.keyboard.press("Control+Shift+Z");
    await traced(page);
    assert.equal(await sentence(page), dragged.sentence);
    assert.deepEqual(await rows(page), dragged.shown);
  },

  async "the exported stations are accepted by the program in place of the scene's own"(the) {
    const { page, program, folder, dragged } = the;
    await page.getByRole("button", { name: "Export stations" }).click();
    const [file] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Download" }).click(),
    ]);
    assert.equal(file.suggestedFilename(), "stations.json");
    const fragment = JSON.parse(readFileSync(await file.path(), "utf8"));
    await page.keyboard.press("Escape");
    const at = new Map(fragment.stations.fixed.map((place) => [place.name, place.at]));
    assert.deepEqual(at, dragged.after);
    const copy = program.sceneCopy("exported", folder, (scene) => {
      scene.stations.fixed = fragment.stations.fixed;
      return scene;
    });
    program.check(copy);
    await backToPlan(page);
  },

  async "what a fixture hides is traced as the program does without it"({
    page,
    plan,
    program,
    folder,
  }) {
    const scene = JSON.parse(readFileSync(join(folder, "scene.json"), "utf8"));
    const fixtures = scene.bodies.filter((one) => one.role === "fixture").map((one) => one.name);
    const away = fixtures.filter((name) => name.startsWith("stand-"));
    assert.ok(away.length > 0);
    await page.getByRole("tab", { name: "What if" }).click();
    for (const name of away) await page.getByLabel(name, { exact: true }).uncheck();
    await traced(page);
    await page.getByRole("tab", { name: "Features" }).click();
    const copy = program.sceneCopy("without", folder, (one) => {
      one.bodies = one.bodies.filter((body) => !away.includes(body.name));
      return one;
    });
    const shown = await rows(page);
    const stations = plan.stations.map((station) => [station.name, station.at]);
    agreesWithProgram(shown, sightsOf(program, copy, stations), plan);
    await backToPlan(page);
    await page.getByRole("tab", { name: "What if" }).click();
    assert.ok(await page.getByLabel(away[0], { exact: true }).isChecked());
    await page.getByRole("tab", { name: "Features" }).click();
  },

  async "without the styluses only full targets are left, and the last target cannot be taken away"({
    page,
    plan,
  }) {
    await page.getByRole("tab", { name: "What if" }).click();
    await page.getByLabel(/mirror-6/).uncheck();
    await page.getByLabel(/rod-2x/).uncheck();
    await traced(page);
    assert.ok(await page.getByLabel(/ball-38/).isDisabled());
    await page.getByRole("tab", { name: "Features" }).click();
    const shown = await rows(page);
    for (const feature of plan.features) {
      const { verdict, station } = shown.get(feature.name);
      // What none takes alone by full target several may take together.
      if (verdict === "full-target" && station.includes(" + ")) continue;
      assert.equal(
        verdict,
        feature.verdict === "full-target" ? "full-target" : "blocked",
        feature.name,
      );
    }
    await backToPlan(page);
  },

  async "typed coordinates: a bad one is told, a good one is traced, a place inside a body is named"(
    the,
  ) {
    const { page, plan, program, scene } = the;
    await page.getByRole("tab", { name: "Stations" }).click();
    const x = page.getByLabel("S3: x, mm");
    await x.fill("two metres");
    await x.press("Enter");
    assert.match(
      await page.locator(".station-card .fault").nth(2).innerText(),
      /“two metres” is not a length in mm/,
    );
    await x.fill("-3200,5");
    await x.press("Enter");
    await traced(page);
    const height = page.getByLabel(/S3: height of the measuring centre/);
    await height.fill("1300");
    await height.press("Enter");
    await traced(page);
    await page.getByRole("tab", { name: "Features" }).click();
    const stations = new Map(plan.stations.map((station) => [station.name, station.at]));
    stations.set("S3", [-3200.5, stations.get("S3")[1], 1300]);
    agreesWithProgram(await rows(page), sightsOf(program, scene, stations), plan);
    await page.getByRole("tab", { name: "Stations" }).click();
    for (const [field, value] of [
      ["x", "1000"],
      ["y", "-500"],
      ["z", "600"],
    ]) {
      await page.getByLabel(`S3: ${field}, mm`).fill(value);
      await page.getByLabel(`S3: ${field}, mm`).press("Enter");
    }
    await traced(page);
    await page
      .getByText("S3 cannot stand there: the instrument would cut into bedplate.")
      .first()
      .waitFor();
    await page.getByText("S3 stands outside the zones of the scene.").first().waitFor();
    const untied = page.getByText(/^S3 is not tied to S1: stations must share 3 nests/);
    await untied.first().waitFor();
    await page.getByRole("tab", { name: "Features" }).click();
    await backToPlan(page);
    await untied.first().waitFor({ state: "detached" });
  },

  async "a station is added, moved and removed; a removed one of the plan comes back"({
    page,
    plan,
    program,
    scene,
  }) {
    await page.getByRole("tab", { name: "Stations" }).click();
    await page.getByRole("button", { name: "Add a station" }).click();
    await traced(page);
    const all = await places(page);
    assert.deepEqual([...all.keys()], ["S1", "S2", "S3", "S4"]);
    agreesWithProgram(await rows(page), sightsOf(program, scene, all), plan);
    await page.getByRole("tab", { name: "Stations" }).click();
    const remove = (i) =>
      page.locator(".station-card").nth(i).getByRole("button", { name: "Remove" }).click();
    await remove(3);
    await remove(0);
    await traced(page);
    const fewer = await places(page);
    assert.deepEqual([...fewer.keys()], ["S2", "S3"]);
    agreesWithProgram(await rows(page), sightsOf(program, scene, fewer), plan);
    await page.getByRole("tab", { name: "Stations" }).click();
    await page.getByRole("button", { name: "Put S1 back" }).click();
    await traced(page);
    assert.match(await page.locator(".against").innerText(), /^As planned/);
    await page.getByRole("tab", { name: "Features" }).click();
  },

  async "with the keyboard alone: a station is moved and put back, a feature is chosen"({ page }) {
    const before = await places(page);
    await page.locator("canvas").focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowRight");
    const focused = () =>
      page.evaluate(() => {
        const element = document.getElementById("live").shadowRoot.activeElement;
        return element.dataset.station ?? element.className;
      });
    for (let i = 0; i < 12 && (await focused()) !== "1"; i += 1) await page.keyboard.press("Tab");
    assert.equal(await focused(), "1"); // the handle of S2
    for (const key of ["ArrowRight", "ArrowRight", "PageUp"]) await page.keyboard.press(key);
    await traced(page);
    const [a, b] = [before.get("S2"), (await places(page)).get("S2")];
    assert.equal(Math.abs(b[0] - a[0]) + Math.abs(b[1] - a[1]), 100);
    assert.equal(b[2] - a[2], 50);
    for (let i = 0; i < 3; i += 1) await page.keyboard.press("Control+Z");
    await traced(page);
    assert.deepEqual(await places(page), before);
    await page.getByRole("searchbox").focus();
    await page.keyboard.type("keel-middle");
    await drawn(page);
    for (let i = 0; i < 20 && (await focused()) !== "name"; i += 1)
      await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "keel-middle" }).waitFor();
    await page.getByRole("button", { name: "Close" }).first().click();
    await page.getByRole("searchbox").fill("");
  },
};
