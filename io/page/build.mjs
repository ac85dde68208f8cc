// Bundles the page's app into one script. Run by CMake from the build tree's copy of this folder:
//   node build.mjs ENGINE.js OUT.js
// The worker, with the engine inside, is bundled first and goes into the app as text. Beside OUT.js
// goes OUT.js.sha256: what the page's Content-Security-Policy lets run.

import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";

import { build } from "esbuild";

const [engine, out] = process.argv.slice(2);

/** Lets `name` be imported though it is no file of the sources. */
function provided(name, answer) {
  return {
    name,
    setup(bundle) {
      bundle.onResolve(
        { filter: new RegExp(`^${name}$`) },
        () => answer.resolved ?? { path: name, namespace: name },
      );
      bundle.onLoad({ filter: /.*/, namespace: name }, () => ({
        contents: answer.text,
        loader: "text",
      }));
    },
  };
}

async function bundled(entry, plugins) {
  const result = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2022",
    platform: "browser",
    charset: "ascii",
    loader: { ".css": "text" },
    legalComments: "eof",
    preserveSymlinks: true,
    logLevel: "warning",
    write: false,
    plugins,
    external: ["fs", "path", "crypto", "perf_hooks", "worker_threads"],
  });
  return result.outputFiles[0].text;
}

const worker = await bundled("app/engine/worker.ts", [
  provided("engine-module", { resolved: { path: engine } }),
]);
const app = await bundled("app/main.ts", [provided("worker-text", { text: worker })]);
// In a <script>, these end or hide it. esbuild escapes the first; the others do not occur, as far as
// anyone knows.
for (const bad of [/<\/script/i, /<!--/]) {
  if (bad.test(app)) throw new Error(`the bundle holds ${bad}, which a <script> cannot`);
}
writeFileSync(out, app);
writeFileSync(`${out}.sha256`, createHash("sha256").update(readFileSync(out)).digest("base64"));
