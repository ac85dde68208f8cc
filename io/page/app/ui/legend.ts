import type { Store } from "../model/store";
import { h } from "./dom";
import { bodySample, lineSample, nestSymbol, standSymbol, verdictSymbol } from "./symbols";

/** What is what in the view, in words. */
export function legend(store: Store): HTMLElement {
  const entry = (symbols: SVGElement[], words: string) =>
    h("li", {}, h("span", { class: "key" }, ...symbols), words);
  const { scene } = store;
  const has = (role: string) => scene.bodies.some((body) => body.role === role);
  const entries = [
    entry([standSymbol()], "station: drag it"),
    entry([verdictSymbol("full-target"), lineSample("beam full")], "by full target"),
    entry([verdictSymbol("offset-stylus"), lineSample("beam stylus")], "by offset stylus"),
    entry([verdictSymbol("blocked"), lineSample("beam blocked")], "blocked, beam to the contact"),
    entry([changedSymbol()], "not as planned"),
  ];
  if (scene.nests.length > 0) {
    entries.push(entry([nestSymbol(), lineSample("beam tie")], "nest"));
    if (store.plan.links.length > 0) {
      entries.push(entry([lineSample("link-line")], "tied stations"));
    }
  }
  if (has("part")) entries.push(entry([bodySample("part")], "part"));
  if (has("fixture")) entries.push(entry([bodySample("fixture")], "fixture"));
  if (has("surroundings")) entries.push(entry([bodySample("surroundings")], "surroundings"));
  if (scene.zones.length > 0) entries.push(entry([bodySample("zone")], "zone"));
  if (scene.walkways.length > 0) entries.push(entry([bodySample("walkway")], "walkway"));
  const list = h("ul", {}, ...entries);
  const isWide = matchMedia("(min-width: 1100px) and (min-height: 640px)").matches;
  return h("details", { class: "legend", open: isWide }, h("summary", {}, "What is what"), list);
}

function changedSymbol(): SVGElement {
  const symbol = verdictSymbol("full-target");
  const frame = document.createElementNS("http://www.w3.org/2000/svg", "path");
  frame.setAttribute("d", "M-7-7H7V7H-7Z");
  frame.setAttribute("class", "changed-frame");
  symbol.append(frame);
  return symbol;
}
