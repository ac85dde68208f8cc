// Which file of the app imports which, and what of that points the wrong way.

import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";

import typescript from "typescript";

const { dirname, join } = posix;

/** Imports of a text, as they are written: of types too, of what is handed on, of what is loaded
 * later. */
function importsIn(text) {
  return typescript.preProcessFile(text, true, true).importedFiles.map((file) => file.fileName);
}

/** For each file of a folder, named as in it, the files of the folder that it imports. Imports of
 * packages are left out; one of a file that is not there stays as it is written. */
export function importsOf(folder) {
  const files = readdirSync(folder, { recursive: true })
    .map((name) => name.replaceAll("\\", "/"))
    .filter((name) => name.endsWith(".ts"));
  const all = new Map();
  for (const file of files) {
    const named = importsIn(readFileSync(join(folder, file), "utf8"))
      .filter((name) => name.startsWith("."))
      .map((name) => join(dirname(file), name));
    all.set(
      file,
      named.map((name) => (files.includes(`${name}.ts`) ? `${name}.ts` : name)),
    );
  }
  return all;
}

/** Where a file stands in the order: the number of the entry which is the file or a folder round it. */
function layerOf(file, order) {
  return order.findIndex((entry) => file === entry || file.startsWith(`${entry}/`));
}

/** What is wrong, a line each. `imports`: for each file those it imports. `order`: files and folders
 * from the top down; each may import what is in its own entry or below. */
export function brokenArrows(imports, order) {
  const broken = [];
  for (const [file, imported] of imports) {
    const layer = layerOf(file, order);
    if (layer < 0) broken.push(`${file} is not in the order`);
    for (const other of imported) {
      const below = layerOf(other, order);
      if (layer >= 0 && below >= 0 && below < layer) {
        broken.push(`${file} imports ${other}, which stands above it`);
      }
    }
  }
  return [...broken, ...circles(imports).map((circle) => `a circle: ${circle.join(" -> ")}`)];
}

/** One circle for each import that closes one, from the file it comes back to. */
function circles(imports) {
  const found = [];
  const done = new Set();
  const visit = (file, trail) => {
    const start = trail.indexOf(file);
    if (start >= 0) found.push([...trail.slice(start), file]);
    if (start >= 0 || done.has(file)) return;
    for (const other of imports.get(file) ?? []) visit(other, [...trail, file]);
    done.add(file);
  };
  for (const file of imports.keys()) visit(file, []);
  return found;
}
