// The page of the demo, in the hands of a user who looks. Each check leaves the page as the plan has
// it.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";

import { graveFaults } from "./faults.mjs";
import { backToPlan, drag, drawn, names, places, rows, sentence, traced } from "./page_hands.mjs";

export const readingChecks = {
  async "the sentence and the list are those of plan.json"({ page, plan }) {
    const required = plan.features.filter((feature) => feature.required);
    const count = (verdict) => required.filter((feature) => feature.verdict === verdict).length;
    const blocked = count("blocked");
    assert.equal(
      await sentence(page),
      `${required.length - blocked} of ${required.length} required features reached: ` +
        `${count("full-target")} by full target, ${count("offset-stylus")} by offset stylus; ${blocked} blocked.`,
    );
    const shown = await rows(page);
    assert.equal(shown.size, plan.features.length);
    for (const feature of plan.features) {
      const row = shown.get(feature.name);
      assert.equal(row.verdict, feature.verdict);
      assert.equal(row.station, feature.station ?? "–");
      const u = feature.uncertainty ? feature.uncertainty.expanded.toFixed(3) : "–";
      assert.equal(row.uncertainty, u, feature.name);
    }
  },

  async "a blocked feature is one click away, with cause, contact and a look along its beam"({
    page,
    plan,
    program,
    scene,
  }) {
    await page.locator(".sentence .link").click();
    const blocked = plan.features.filter((feature) => feature.verdict === "blocked");
    assert.deepEqual(
      await names(page),
      blocked.map((feature) => feature.name),
    );
    const first = blocked.find((feature) => feature.required);
    const card = page.getByRole("region", { name: "Selected feature" });
    await card.getByRole("heading", { name: first.name }).waitFor();
    // The sentences are the program's own, from the place that the card names.
    const place = first.nearest_miss.at;
    const said = program.sightText(scene, place);
    await card.getByText("The nearest miss is from").waitFor();
    const reasons = (await card.locator("p").allTextContents()).slice(1);
    assert.ok(reasons.length > 0);
    for (const reason of reasons) {
      const words = reason.replace(/\.$/, "");
      assert.ok(said.includes(words), `"${words}" is not in what sight says:\n${said}`);
    }
    await card.getByRole("button", { name: "Look along the beam" }).click();
    const bar = page.locator(".beam-bar");
    assert.match(await bar.innerText(), new RegExp(`to ${first.name}\\. The ring is the beam`));
    await page.keyboard.press("Escape");
    await bar.waitFor({ state: "hidden" });
    await page
      .getByRole("group", { name: "Show only" })
      .getByRole("button", { name: /blocked/ })
      .click();
    await card.getByRole("button", { name: "Close" }).click();
  },

  async "filters and sorting change the list and nothing else"({ page, plan }) {
    const all = await names(page);
    assert.deepEqual(
      all,
      plan.features.map((feature) => feature.name),
    );
    await page.getByRole("searchbox").fill("bore s3");
    const found = plan.features.filter(
      (f) => f.station === "S3" && /bore/.test(`${f.name} ${f.target}`),
    );
    assert.deepEqual(
      await names(page),
      found.map((f) => f.name),
    );
    await page.getByRole("searchbox").fill("");
    await page.getByLabel("Station", { exact: true }).selectOption("S1");
    const own = plan.features.filter((feature) => feature.station === "S1");
    assert.equal((await names(page)).length, own.length);
    await page.getByRole("button", { name: "Margin" }).click();
    const margins = [...(await rows(page)).values()].map((row) => Number(row.margin));
    assert.deepEqual(
      margins,
      [...margins].sort((a, b) => a - b),
    );
    await page.getByRole("button", { name: "Margin" }).click();
    const falling = [...(await rows(page)).values()].map((row) => Number(row.margin));
    assert.deepEqual(falling, [...margins].reverse());
    assert.equal(
      await page.getByRole("columnheader", { name: "Margin" }).getAttribute("aria-sort"),
      "descending",
    );
    await page.getByRole("button", { name: "Margin" }).click();
    await page.getByLabel("Station", { exact: true }).selectOption("");
    assert.deepEqual(await names(page), all);
  },

  async "selection is tied both ways: a row to its mark, a mark to its row"({ page, plan }) {
    const { name } = plan.features[8];
    await page.getByRole("button", { name, exact: true }).click();
    const label = page.locator(".label.feature", { hasText: name });
    await label.waitFor();
    const box = await label.boundingBox(); // its mark is 9 pixels to the left, in the middle of its height
    await page.getByRole("button", { name, exact: true }).click();
    await page.locator("#live tbody tr.selected").waitFor({ state: "detached" });
    await page.mouse.click(box.x - 9, box.y + box.height / 2);
    await page.locator("#live tbody tr.selected").waitFor();
    assert.equal(await page.locator("#live tbody tr.selected .name").textContent(), name);
    await page.getByRole("button", { name: "Close" }).first().click();
  },

  async "top view and elevations carry dimensions, which move with the station"({ page, plan }) {
    await page.getByRole("button", { name: "Front", exact: true }).click();
    await drawn(page);
    const heights = plan.stations.map((station) => String(Math.round(station.at[2])));
    const texts = await page.locator(".sizes text").allTextContents();
    for (const height of heights) assert.ok(texts.includes(height), `${height} in ${texts}`);
    await page.getByRole("button", { name: "Top", exact: true }).click();
    await drawn(page);
    const before = await page.locator(".sizes text").allTextContents();
    await drag(page, "S3", -40, 0);
    await traced(page);
    assert.notDeepEqual(await page.locator(".sizes text").allTextContents(), before);
    const moved = (await places(page)).get("S3");
    const planned = plan.stations.find((station) => station.name === "S3").at;
    assert.ok(moved[0] < planned[0] && moved[1] === planned[1], String(moved));
    await page.getByRole("button", { name: "Free", exact: true }).click();
    await backToPlan(page);
  },

  async "the list is copied with its numbers"({ page, plan }) {
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.getByRole("button", { name: "Copy list" }).click();
    await page.getByRole("button", { name: "Copied" }).waitFor();
    const text = await page.evaluate(() => navigator.clipboard.readText());
    const lines = text.replace(/\n$/, "").split("\n");
    assert.equal(lines.length, plan.features.length + 1);
    const first = plan.features[0];
    const expected = [
      first.name,
      first.verdict,
      first.station,
      first.target,
      first.margin,
      first.uncertainty.expanded,
    ];
    assert.equal(lines[1], expected.join("\t"));
  },

  async "no grave fault of accessibility in any list, dialog or on the sheet"({ page }) {
    for (const tab of ["Stations", "What if", "Features"]) {
      await page.getByRole("tab", { name: tab }).click();
      await drawn(page);
      assert.deepEqual(await graveFaults(page), [], tab);
    }
    await page.locator(".show summary").click();
    await page.locator(".sentence .link").click();
    await page.getByRole("heading", { name: "keel-middle" }).waitFor();
    assert.deepEqual(await graveFaults(page), [], "a blocked feature, and what is shown");
    await page.locator(".show summary").click();
    await page.getByRole("button", { name: "Export stations" }).click();
    assert.deepEqual(await graveFaults(page), [], "export of the stations");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Set-up sheet" }).click();
    assert.deepEqual(await graveFaults(page), [], "sheet");
    await page.getByRole("button", { name: "Back to the live view" }).click();
  },

  async "the sheet opens and closes, and it is what is printed"({ page, work, plan }) {
    await page.getByRole("button", { name: "Set-up sheet" }).click();
    await page.getByRole("button", { name: "Back to the live view" }).waitFor();
    assert.ok(await page.locator("body > .sheet").isVisible());
    assert.ok(!(await page.locator("#live canvas").isVisible()));
    await page.getByRole("button", { name: "Back to the live view" }).click();
    assert.ok(!(await page.locator("body > .sheet").isVisible()));
    const file = join(work, "page.pdf");
    writeFileSync(file, await page.pdf({ format: "A4" }));
    const text = execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
    for (const { name } of plan.features) assert.ok(text.includes(name), `${name} is not on paper`);
    for (const { name } of plan.stations) assert.ok(text.includes(name));
    assert.doesNotMatch(text, /Drag a station|Export stations|Find a feature|Stations were moved/);
  },
};
