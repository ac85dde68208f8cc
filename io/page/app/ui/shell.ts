import type { Store, Tab } from "../model/store";
import { h, svg } from "./dom";
import { icon, icons } from "./symbols";

// The window: headline and actions above, the cell, the panel beside it (on a phone below it).

const tabs: { tab: Tab; words: string }[] = [
  { tab: "features", words: "Features" },
  { tab: "stations", words: "Stations" },
  { tab: "what-if", words: "What if" },
];

export interface Actions {
  exportStations(): void;
  openSheet(): void;
  zoom(factor: number): void; // below 1: nearer
  leaveBeam(): void;
}

export class Shell {
  readonly canvas = h("canvas", {
    tabindex: 0,
    role: "application",
    "aria-label":
      "The cell in three dimensions. Arrow keys turn the view. With Shift they shift it. Plus and minus zoom. Stations are buttons after this one.",
  });
  readonly handles = h("div", { class: "layer" });
  readonly labels = h("div", { class: "layer", "aria-hidden": "true" });
  readonly sizes = svg("svg", {
    class: "sizes",
    "aria-hidden": "true",
  }) as unknown as SVGSVGElement;
  readonly viewArea = h("div", { class: "view-area" });
  readonly foot = h("div", { class: "cell-foot" });
  readonly scale = h("p", { class: "scale-words" });
  readonly beamWords = h("p", { role: "status" });
  readonly wait = h("p", { class: "wait" }, "Reading the cell …");
  readonly panels: Record<Tab, HTMLElement>;
  readonly element: HTMLElement;
  private readonly tabButtons = new Map<Tab, HTMLButtonElement>();
  private readonly undo: HTMLButtonElement;
  private readonly redo: HTMLButtonElement;
  private readonly beamBar: HTMLElement;

  constructor(
    private readonly store: Store,
    headline: HTMLElement,
    contents: Record<Tab, HTMLElement>,
    actions: Actions,
  ) {
    const button = (
      words: string,
      kind: string,
      onclick: () => void,
      title: string | null = null,
    ) => h("button", { type: "button", class: kind, onclick, title }, words);
    this.undo = button("", "icon-button", () => store.undo(), "Undo (Ctrl Z)");
    this.undo.append(icon(icons.undo), h("span", { class: "spoken" }, "Undo"));
    this.redo = button("", "icon-button", () => store.redo(), "Redo (Ctrl Shift Z)");
    this.redo.append(icon(icons.redo), h("span", { class: "spoken" }, "Redo"));
    const bar = h(
      "div",
      { class: "actions" },
      this.undo,
      this.redo,
      button(
        "Export stations",
        "quiet",
        actions.exportStations,
        "The stations as the scene file has them",
      ),
      button("Set-up sheet", "quiet", actions.openSheet, "The plan on paper: to read and to print"),
    );
    this.beamBar = h(
      "div",
      { class: "beam-bar" },
      this.beamWords,
      button("Nearer", "quiet", () => actions.zoom(0.7)),
      button("Wider", "quiet", () => actions.zoom(1 / 0.7)),
      button("Leave the beam", "primary", actions.leaveBeam),
    );
    this.beamBar.hidden = true;
    const { canvas, sizes, labels, handles, wait } = this;
    this.viewArea.append(canvas, sizes, labels, handles, wait, this.scale, this.beamBar);
    const cell = h("main", { class: "cell", "aria-label": "Cell" }, this.viewArea, this.foot);
    this.panels = contents;
    const panel = h(
      "aside",
      { class: "panel", "aria-label": "Lists" },
      this.tabList(),
      ...this.tabPanels(contents),
    );
    this.element = h(
      "div",
      { class: "shell" },
      h("header", { class: "head" }, headline, bar),
      cell,
      panel,
    );
  }

  private tabList(): HTMLElement {
    const list = h("div", { class: "tabs", role: "tablist", "aria-label": "Lists" });
    for (const [i, { tab, words }] of tabs.entries()) {
      const button = h(
        "button",
        {
          type: "button",
          role: "tab",
          id: `tab-${tab}`,
          "aria-controls": `panel-${tab}`,
          onclick: () => this.store.update({ tab }),
        },
        words,
      );
      button.addEventListener("keydown", (event) => {
        const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
        const next = tabs[(i + step + tabs.length) % tabs.length];
        if (step === 0 || !next) return;
        event.preventDefault();
        this.store.update({ tab: next.tab });
        this.tabButtons.get(next.tab)?.focus();
      });
      this.tabButtons.set(tab, button);
      list.append(button);
    }
    return list;
  }

  private tabPanels(contents: Record<Tab, HTMLElement>): HTMLElement[] {
    return tabs.map(({ tab }) => {
      const content = contents[tab];
      content.setAttribute("role", "tabpanel");
      content.id = `panel-${tab}`;
      content.setAttribute("aria-labelledby", `tab-${tab}`);
      content.classList.add("tab-panel");
      return content;
    });
  }

  update(isAlongBeam: boolean): void {
    const { tab, history, shown } = this.store.state;
    for (const [name, button] of this.tabButtons) {
      button.setAttribute("aria-selected", String(name === tab));
      button.tabIndex = name === tab ? 0 : -1;
      this.panels[name].hidden = name !== tab;
    }
    // Not `disabled`: a button that is pressed until nothing is left would lose the focus.
    this.undo.setAttribute("aria-disabled", String(history.past.length === 0));
    this.redo.setAttribute("aria-disabled", String(history.future.length === 0));
    this.beamBar.hidden = !isAlongBeam;
    this.foot.classList.toggle("aside", isAlongBeam);
    this.scale.hidden = !shown.uncertainty || isAlongBeam;
  }
}
