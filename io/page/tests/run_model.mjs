// Bundles the tests of the app's model (no browser, no engine) and runs them under Node:
//   node run_model.mjs OUT_FOLDER

import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";

import { build } from "esbuild";

const here = import.meta.dirname;
const out = resolve(process.argv[2]);
const tests = readdirSync(join(here, "model")).filter((name) => name.endsWith("_test.mjs"));
await build({
  entryPoints: tests.map((name) => join(here, "model", name)),
  outdir: out,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  format: "esm",
  platform: "node",
  target: "node18",
  preserveSymlinks: true,
  logLevel: "warning",
});
const files = tests.map((name) => join(out, name));
const { status } = spawnSync(process.execPath, ["--test", ...files], { stdio: "inherit" });
process.exit(status ?? 1);
