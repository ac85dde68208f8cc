// Pages under other circumstances: small screens, hostile names, browsers that lack something, and
// what a reader of the screen needs.

import assert from "node:assert/strict";

import { openPage } from "../browser.mjs";
import { graveFaults } from "./faults.mjs";
import { drawn, rows, traced } from "./page_hands.mjs";

async function dragByFinger(page, station, dx, dy) {
  const box = await page.locator(".handle", { hasText: station }).boundingBox();
  const session = await page.context().newCDPSession(page);
  const touch = (type, ...touchPoints) =>
    session.send("Input.dispatchTouchEvent", { type, touchPoints });
  const at = (share) => ({
    x: box.x + box.width / 2 + dx * share,
    y: box.y + box.height / 2 + dy * share,
  });
  await touch("touchStart", at(0));
  for (let i = 1; i <= 6; i += 1) await touch("touchMove", at(i / 6));
  await touch("touchEnd");
  await traced(page);
}

async function inContext(browser, options, file, deed, prepare = async () => {}) {
  const context = await browser.newContext(options);
  await prepare(context);
  const opened = await openPage({ newPage: () => context.newPage() }, file);
  try {
    await deed(opened);
  } finally {
    await context.close();
  }
}

const sizes = {
  desk: { viewport: { width: 1440, height: 900 } },
  tablet: { viewport: { width: 1024, height: 768 }, hasTouch: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
};

export const otherChecks = {
  async "at 390 pixels nothing runs off to the side, and what is touched is large enough"({
    browser,
    demo,
    shot,
  }) {
    await inContext(browser, sizes.phone, demo.page, async ({ page }) => {
      await traced(page);
      await shot(page, "phone");
      const hint = await page.locator(".drag-hint").evaluate((element) => {
        const box = element.getBoundingClientRect();
        const words = element.querySelector("p").getBoundingClientRect();
        return { over: words.top - box.top, under: box.bottom - words.bottom };
      });
      assert.ok(Math.abs(hint.over - hint.under) <= 2, "the hint has no empty line");
      for (const tab of ["Features", "Stations", "What if"]) {
        await page.getByRole("tab", { name: tab }).click();
        await drawn(page);
        const wide = await page.evaluate(() => {
          const shell = document.getElementById("live").shadowRoot.querySelector(".shell");
          return [document.documentElement.scrollWidth, shell.scrollWidth, shell.clientWidth];
        });
        assert.deepEqual(wide, [390, 390, 390], tab);
        const small = await page.locator("button:visible, summary:visible").evaluateAll((all) =>
          all
            .map((element) => ({
              text: element.textContent,
              box: element.getBoundingClientRect(),
              element,
            }))
            // These are made large by what lies round them.
            .filter(
              ({ box, element }) => box.height < 44 && !element.matches(".handle, .name, .link"),
            )
            .map(({ text, box }) => `${text}: ${box.height}`),
        );
        assert.deepEqual(small, [], tab);
        assert.deepEqual(await graveFaults(page), [], tab);
      }
      await dragByFinger(page, "S2", -36, -30);
      await page.getByRole("tab", { name: "Stations" }).click();
      await page.getByText(/^Moved \d+ mm from the plan's place/).waitFor();
    });
  },

  async "screenshots of the desk and the tablet"({ browser, demo, shot }) {
    for (const size of ["desk", "tablet"]) {
      await inContext(browser, sizes[size], demo.page, async ({ page, complaints }) => {
        await traced(page);
        await shot(page, size);
        assert.deepEqual(complaints, []);
      });
    }
  },

  async "hostile names are names and nothing more"({ browser, hostile }) {
    await inContext(browser, sizes.desk, hostile.page, async ({ page, ready, complaints }) => {
      assert.equal(ready, "yes");
      await traced(page);
      assert.deepEqual(complaints, []);
      const shown = await rows(page);
      for (const { name } of hostile.plan.features) assert.ok(shown.has(name), name);
      assert.equal(await page.locator("#live b, #live img, #live script").count(), 0);
      await page.getByRole("tab", { name: "What if" }).click();
      assert.ok(await page.getByLabel(hostile.body, { exact: true }).isChecked());
      assert.equal(await page.evaluate(() => globalThis.struck), undefined);
    });
  },

  async "without WebGL the sheet is shown, with a line that says why"({ browser, demo }) {
    const blind = (context) =>
      context.addInitScript(() => {
        const getContext = HTMLCanvasElement.prototype.getContext;
        HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
          return /webgl/.test(kind) ? null : getContext.call(this, kind, ...more);
        };
      });
    await inContext(
      browser,
      sizes.desk,
      demo.page,
      async ({ page, ready }) => {
        assert.equal(ready, "failed: this browser has no WebGL");
        await page.getByText("The live view is missing: this browser has no WebGL.").waitFor();
        assert.ok(await page.locator("body > .sheet").isVisible());
      },
      blind,
    );
  },

  async "without WebAssembly the sheet is shown, with a line that says why"({ browser, demo }) {
    const bare = (context) => context.addInitScript(() => delete globalThis.WebAssembly);
    await inContext(
      browser,
      sizes.desk,
      demo.page,
      async ({ page, ready }) => {
        assert.equal(ready, "failed: this browser has no WebAssembly");
        await page
          .getByText("The live view is missing: this browser has no WebAssembly.")
          .waitFor();
        assert.ok(await page.locator("body > .sheet").isVisible());
      },
      bare,
    );
  },
};
