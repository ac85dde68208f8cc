// The page's engine under Node.js: the same TypeScript and WebAssembly, bundled without the page.
// Run in the build tree, beside engine.js.

import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

import { build } from "esbuild";

export async function loadEngineClass() {
  const engine = join(process.cwd(), "engine.js");
  const result = await build({
    entryPoints: ["app/engine/engine.ts"],
    bundle: true,
    format: "cjs",
    platform: "node",
    preserveSymlinks: true,
    write: false,
    logLevel: "error",
    // Resolved by hand: the package's "type": "module" does not hold for what Emscripten writes.
    plugins: [
      {
        name: "engine-module",
        setup: (bundle) =>
          bundle.onResolve({ filter: /^engine-module$/ }, () => ({ path: engine })),
      },
    ],
  });
  const out = join(process.cwd(), `engine_node_${process.pid}.cjs`);
  writeFileSync(out, result.outputFiles[0].text);
  return { PageEngine: createRequire(out)(out).PageEngine, out };
}
