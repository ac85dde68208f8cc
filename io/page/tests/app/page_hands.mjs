// What a person does with the page and reads on it, for the tests. The app lives in an open shadow
// tree, which Playwright's locators see through.

import assert from "node:assert/strict";

/** What was just done is shown: the app draws in the frame after a change. */
export async function drawn(page) {
  await page.evaluate(
    () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))),
  );
}

/** All marks are those of the present places. */
export async function traced(page) {
  await drawn(page);
  await page.waitForFunction(() => document.documentElement.dataset.traced === "yes", null, {
    timeout: 120_000,
  });
  await drawn(page);
}

// The sheet has tables too.
const rowsOfList = "#live tbody tr";

/** What the list of features shows now, by name. */
export async function rows(page) {
  await drawn(page);
  const read = await page.locator(rowsOfList).evaluateAll((all) =>
    all.map((row) => ({
      name: row.querySelector(".name").textContent,
      verdict: row.dataset.verdict,
      change: row.querySelector(".change").textContent,
      station: row.querySelector("td.station").textContent,
      target: row.querySelector("td.target").textContent,
      margin: row.querySelector("td.margin").textContent,
      uncertainty: row.querySelector("td.uncertainty").textContent,
    })),
  );
  return new Map(read.map((row) => [row.name, row]));
}

/** The order of names in the list. */
export async function names(page) {
  await drawn(page);
  return page.locator(`${rowsOfList} .name`).allTextContents();
}

export const sentence = (page) => page.locator(".sentence").textContent();

/** Places of the stations as their cards have them, scene units, by name. */
export async function places(page) {
  await page.getByRole("tab", { name: "Stations" }).click();
  await drawn(page);
  const read = await page
    .locator(".station-card")
    .evaluateAll((cards) =>
      cards.map((card) => [
        card.querySelector(".name").textContent,
        ["x", "y", "z"].map((field) => Number(card.querySelector(`[data-field=${field}]`).value)),
      ]),
    );
  await page.getByRole("tab", { name: "Features" }).click();
  return new Map(read);
}

/** Drags a station's handle with the mouse, in steps as a hand does. */
export async function drag(page, station, dx, dy) {
  await drawn(page);
  const handle = page.locator(".handle", { hasText: new RegExp(`^${station}$`) });
  const box = await handle.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 8; i += 1) {
    await page.mouse.move(x + (dx * i) / 8, y + (dy * i) / 8);
    await page.waitForTimeout(20);
  }
  await page.mouse.up();
}

export async function backToPlan(page) {
  const back = page.locator(".against").getByRole("button", { name: "Back to the plan" });
  if (await back.isVisible()) await back.click();
  await traced(page);
}

const rank = { blocked: 0, "offset-stylus": 1, "full-target": 2 };

/** A feature that no station takes alone may be taken by several: then together they reach more of
 * its touches by such a target than any of them does. Whether that is enough, the engine's own
 * tests say. */
function isShared(row, marks) {
  const reached = marks.map((mark) =>
    mark.touches.map((touch) => rank[touch.verdict] >= Math.max(1, rank[row.verdict])),
  );
  const together = marks[0].touches.filter((_, t) => reached.some((one) => one[t])).length;
  const alone = Math.max(...reached.map((one) => one.filter(Boolean).length));
  const names = row.station.split(" + ");
  return (
    row.verdict !== "blocked" &&
    together > alone &&
    names.length > 1 &&
    names.every((name) => marks.some((mark) => mark.station === name))
  );
}

/** The rows must be what the program says of the same places: `sights` by station, `plan` as
 * written. The best state wins; of equal ones the plan's own station, then the larger margin. */
export function agreesWithProgram(shown, sights, plan, mmPerUnit = 1) {
  const decimals = mmPerUnit === 1 ? 1 : 4;
  plan.features.forEach((feature, i) => {
    const marks = [...sights].map(([station, sight]) => ({ station, ...sight.features[i] }));
    const best = Math.max(...marks.map((mark) => rank[mark.verdict]));
    const row = shown.get(feature.name);
    assert.ok(row, `${feature.name} is not in the list`);
    if (best === 0 && isShared(row, marks)) return undefined;
    assert.equal(rank[row.verdict], best, `${feature.name}: ${row.verdict}`);
    if (best === 0) return assert.deepEqual([row.station, row.target, row.margin], ["–", "–", "–"]);
    const equal = marks.filter((mark) => rank[mark.verdict] === best);
    const own = equal.find((mark) => mark.station === feature.station);
    const wide = equal.reduce((a, b) => ((b.margin ?? 0) > (a.margin ?? 0) ? b : a));
    const mark = own ?? wide;
    assert.deepEqual([row.station, row.target], [mark.station, mark.target], feature.name);
    const margin = mark.margin === null ? "–" : mark.margin.toFixed(decimals);
    assert.equal(row.margin, margin, feature.name);
  });
}
