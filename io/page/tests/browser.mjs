// Opens a page from disk in headless Chromium, without any network.

import { chromium } from "playwright-core";

const chromiumArguments = [
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    chromiumSandbox: false,
    args: chromiumArguments,
  });
}

/** The page once it has set its ready flag ("yes", or "failed: why"), and all it complained of. */
export async function openPage(browser, file) {
  const page = await browser.newPage();
  const complaints = [];
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("request", (request) => {
    if (!/^(file|blob|data):/.test(request.url())) complaints.push(`asked for ${request.url()}`);
  });
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => document.documentElement.dataset.ready !== undefined, null, {
    timeout: 300000,
  });
  const ready = await page.evaluate(() => document.documentElement.dataset.ready);
  return { page, ready, complaints };
}
