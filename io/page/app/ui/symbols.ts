import type { Verdict } from "../data/wire";
import { svg } from "./dom";

// The marks of the view as small drawings beside words.

export const verdictWords: Record<Verdict, string> = {
  "full-target": "full target",
  "offset-stylus": "offset stylus",
  blocked: "blocked",
};

function box(...children: SVGElement[]): SVGElement {
  return svg(
    "svg",
    { viewBox: "-8 -8 16 16", width: 16, height: 16, class: "symbol", "aria-hidden": "true" },
    ...children,
  );
}

export function verdictSymbol(verdict: Verdict): SVGElement {
  if (verdict === "full-target") return box(svg("circle", { r: 5.5, class: "full" }));
  if (verdict === "offset-stylus") {
    return box(
      svg("path", { d: "M0-7L7 0L0 7L-7 0Z", class: "stylus" }),
      svg("path", { d: "M-5 0H5", class: "slot" }),
    );
  }
  return box(svg("path", { d: "M-5-5L5 5M5-5L-5 5", class: "blocked" }));
}

export function nestSymbol(): SVGElement {
  return box(svg("circle", { r: 5, class: "nest" }), svg("circle", { r: 1.5, class: "dot" }));
}

export function standSymbol(): SVGElement {
  return box(
    svg("path", { d: "M0-2L-5 7M0-2L5 7M0-2V7", class: "legs" }),
    svg("circle", { cx: 0, cy: -4, r: 3.2, class: "dot" }),
  );
}

/** A line's look in the legend. */
export function lineSample(kind: string): SVGElement {
  return svg(
    "svg",
    { viewBox: "0 0 34 10", width: 34, height: 10, class: "sample", "aria-hidden": "true" },
    svg("path", { d: "M0 5H34", class: kind }),
  );
}

export function bodySample(role: string): SVGElement {
  const hatch =
    role === "fixture"
      ? [svg("path", { d: "M2 11L10 1M9 11L17 1M16 11L24 1M23 11L31 1", class: "hatch" })]
      : [];
  return svg(
    "svg",
    { viewBox: "0 0 34 12", width: 34, height: 12, class: "sample", "aria-hidden": "true" },
    svg("path", { d: "M1 1H33V11H1Z", class: `body ${role}` }),
    ...hatch,
  );
}

export function icon(d: string): SVGElement {
  return svg(
    "svg",
    { viewBox: "0 0 20 20", width: 20, height: 20, class: "icon", "aria-hidden": "true" },
    svg("path", { d }),
  );
}
export const icons = {
  undo: "M7 4L3 8L7 12M3 8H12A4.5 4.5 0 0 1 12 17H8",
  redo: "M13 4L17 8L13 12M17 8H8A4.5 4.5 0 0 0 8 17H12",
  warn: "M10 3L18 17H2ZM10 8V12M10 14V15",
};
