// A page opened from disk: it asks for nothing, complains of nothing, and its engine gets ready.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";

import { openPage, startBrowser } from "./browser.mjs";

const folder = process.argv[2];
let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser.close());

test("it gets ready and asks for nothing from outside", async () => {
  const { ready, complaints } = await openPage(browser, join(folder, "page.html"));
  assert.equal(ready, "yes");
  assert.deepEqual(complaints, []);
});

test("damaged mesh data is told in words", async () => {
  const html = readFileSync(join(folder, "page.html"), "utf8");
  const [before, meshes] = html.split('id="mesh-data">');
  const damaged = join(folder, "damaged.html");
  writeFileSync(
    damaged,
    `${before}id="mesh-data">${meshes.slice(0, 100)}${meshes.slice(meshes.indexOf("</script>"))}`,
  );
  const { ready } = await openPage(browser, damaged);
  assert.equal(ready, "failed: the page's mesh data is cut short");
});
