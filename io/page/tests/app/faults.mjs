import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe-core finds serious or critical in the page as it is shown, a line each. */
export async function graveFaults(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() =>
    globalThis.axe.run(document, { resultTypes: ["violations"] }),
  );
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .map((node) => node.target.flat().join(" "))
          .slice(0, 5)
          .join("; ")}`,
    );
}
