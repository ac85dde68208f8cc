import type { Store } from "../model/store";
import { h } from "./dom";
import { bodySample, lineSample, nestSymbol, standSymbol, verdictSymbol } from "./symbols";

/** What the symbols and lines of the view mean; the trade's other names beside ours. */
export function legend(store: Store): HTMLElement {
  const entry = (symbols: SVGElement[], words: string) =>
    h("li", {}, h("span", { class: "key" }, ...symbols), words);
  const { scene } = store;
  const has = (role: string) => scene.bodies.some((body) => body.role === role);
  const entries = [
    entry([standSymbol()], "station (drag it)"),
    entry(
      [verdictSymbol("full-target"), lineSample("beam full")],
      "by full target (SMR, ball reflector)",
    ),
    entry(
      [verdictSymbol("offset-stylus"), lineSample("beam stylus")],
      "by offset stylus (hidden-point device)",
    ),
    entry([verdictSymbol("blocked"), lineSample("beam blocked")], "blocked: beam to the contact"),
    entry([changedSymbol()], "changed from the plan"),
  ];
  if (scene.nests.length > 0) {
    entries.push(entry([nestSymbol(), lineSample("beam tie")], "nest (reference nest)"));
    if (store.plan.links.length > 0) {
      entries.push(
        entry([lineSample("link-line")], "tied stations (connected through common nests)"),
      );
    }
  }
  if (has("part")) entries.push(entry([bodySample("part")], "part"));
  if (has("fixture")) entries.push(entry([bodySample("fixture")], "fixture"));
  if (has("surroundings")) entries.push(entry([bodySample("surroundings")], "surroundings"));
  if (scene.zones.length > 0) entries.push(entry([bodySample("zone")], "zone"));
  if (scene.walkways.length > 0) entries.push(entry([bodySample("walkway")], "walkway"));
  const list = h("ul", {}, ...entries);
  const isWide = matchMedia("(min-width: 1100px) and (min-height: 640px)").matches;
  return h("details", { class: "legend", open: isWide }, h("summary", {}, "Legend"), list);
}

function changedSymbol(): SVGElement {
  const symbol = verdictSymbol("full-target");
  const frame = document.createElementNS("http://www.w3.org/2000/svg", "path");
  frame.setAttribute("d", "M-7-7H7V7H-7Z");
  frame.setAttribute("class", "changed-frame");
  symbol.append(frame);
  return symbol;
}
