import type { Verdict } from "../data/wire";
import { lengthText, step } from "../model/numbers";
import type { Outcome } from "../model/outcome";
import { listed, tableText, wholeList, type Listing, type Row, type SortKey } from "../model/rows";
import type { Change } from "../model/status";
import type { Store } from "../model/store";
import { copyButton, h, setText } from "./dom";
import { verdictSymbol, verdictWords } from "./symbols";

// The list of features: what is asked of it (words, states, station, changes), and its rows.

const columns: { key: SortKey; words: string; isNumber: boolean }[] = [
  { key: "state", words: "State", isNumber: false },
  { key: "feature", words: "Feature", isNumber: false },
  { key: "station", words: "From", isNumber: false },
  { key: "target", words: "Target", isNumber: false },
  { key: "margin", words: "Margin", isNumber: true },
  { key: "uncertainty", words: "U", isNumber: true },
];

const columnWords = "Margin: beam clearance. U: uncertainty, k\u00a0=\u00a02.";

const shortWords: Record<Verdict, string> = {
  "full-target": "full",
  "offset-stylus": "stylus",
  blocked: "blocked",
};

const changeWords: Record<Change, string> = {
  same: "",
  gained: "gained",
  lost: "lost",
  stronger: "was by stylus",
  weaker: "was by full target",
};

export class FeatureList {
  readonly element: HTMLElement;
  private readonly body = h("tbody");
  private readonly heads = new Map<SortKey, HTMLTableCellElement>();
  private readonly rows = new Map<number, HTMLTableRowElement>();
  private readonly found = h("p", { class: "found" });
  private readonly words: HTMLInputElement;
  private readonly station: HTMLSelectElement;
  private readonly states = new Map<Verdict, HTMLButtonElement>();
  private readonly changed: HTMLButtonElement;
  private shown: Row[] = [];
  private scrolledTo: number | null = null;

  constructor(private readonly store: Store) {
    this.words = h("input", {
      type: "search",
      placeholder: "Find by name",
      "aria-label": "Find a feature, station or target",
      oninput: () => this.ask({ words: this.words.value }),
    });
    this.station = h("select", {
      "aria-label": "Station",
      onchange: () => this.ask({ station: this.station.value }),
    });
    this.changed = h(
      "button",
      {
        type: "button",
        class: "filter",
        onclick: () => this.ask({ isChangedOnly: !this.store.state.listing.isChangedOnly }),
      },
      "Changed",
    );
    const filters = h("div", { class: "filters", role: "group", "aria-label": "Show only" });
    for (const verdict of Object.keys(verdictWords) as Verdict[])
      filters.append(this.filter(verdict));
    filters.append(this.changed);
    const copy = copyButton("Copy list", () => tableText(this.shown, store.units.name));
    this.element = h(
      "div",
      { class: "list" },
      h("div", { class: "search" }, this.words, this.station),
      filters,
      h(
        "div",
        { class: "table-box", tabindex: 0, role: "region", "aria-label": "Features" },
        this.table(),
      ),
      h("div", { class: "list-foot" }, h("div", {}, this.found, h("p", {}, columnWords)), copy),
    );
  }

  private ask(change: Partial<Listing>): void {
    this.store.update({ listing: { ...this.store.state.listing, ...change } });
  }

  private filter(verdict: Verdict): HTMLButtonElement {
    const toggle = () => {
      const { states } = this.store.state.listing;
      const has = states.includes(verdict);
      this.ask({ states: has ? states.filter((one) => one !== verdict) : [...states, verdict] });
    };
    const button = h(
      "button",
      { type: "button", class: "filter", onclick: toggle },
      verdictSymbol(verdict),
      h("span"),
    );
    this.states.set(verdict, button);
    return button;
  }

  private table(): HTMLTableElement {
    const unit = this.store.units.name;
    const head = h("tr");
    for (const { key, words, isNumber } of columns) {
      const title = titleOf(key, unit);
      const button = h("button", { type: "button", onclick: () => this.sortBy(key), title }, words);
      if (key === "station") button.setAttribute("aria-label", "From station");
      const cell = h("th", { scope: "col", class: `${key} ${isNumber ? "n" : ""}` }, button);
      this.heads.set(key, cell);
      head.append(cell);
    }
    return h(
      "table",
      {},
      h("caption", { class: "spoken" }, "Features"),
      h("thead", {}, head),
      this.body,
    );
  }

  /** Up, down, and back to the scene's order. */
  private sortBy(key: SortKey): void {
    const { sort, isDescending } = this.store.state.listing;
    if (sort !== key) this.ask({ sort: key, isDescending: false });
    else if (!isDescending) this.ask({ isDescending: true });
    else this.ask({ sort: "scene", isDescending: false });
  }

  update(outcome: Outcome): void {
    const { listing, feature } = this.store.state;
    this.shown = listed(outcome.rows, listing);
    this.updateFilters(outcome, listing);
    for (const { key } of columns) {
      const order =
        listing.sort !== key ? "none" : listing.isDescending ? "descending" : "ascending";
      this.heads.get(key)?.setAttribute("aria-sort", order);
    }
    const rows = this.shown.map((row) => this.rowOf(row, feature === row.index));
    const isSame =
      rows.length === this.body.children.length &&
      rows.every((row, i) => row === this.body.children[i]);
    if (!isSame) this.body.replaceChildren(...rows);
    const of = this.shown.length === outcome.rows.length ? "" : ` of ${outcome.rows.length}`;
    setText(
      this.found,
      this.shown.length === 0
        ? "No feature fits."
        : `${this.shown.length}${of} features, lengths in ${this.store.units.name}. Bold: tight margin.`,
    );
    if (feature !== this.scrolledTo) {
      this.scrolledTo = feature;
      if (feature !== null) this.rows.get(feature)?.scrollIntoView({ block: "nearest" });
    }
  }

  /** Features that the filters leave out. */
  leftOut(outcome: Outcome): Set<number> {
    const { words, states, station, isChangedOnly } = this.store.state.listing;
    if (words === wholeList.words && states.length === 0 && station === "" && !isChangedOnly)
      return new Set();
    const shown = new Set(listed(outcome.rows, this.store.state.listing).map((row) => row.index));
    return new Set(outcome.rows.map((row) => row.index).filter((index) => !shown.has(index)));
  }

  private updateFilters(outcome: Outcome, listing: Listing): void {
    if (this.words.value !== listing.words) this.words.value = listing.words;
    for (const [verdict, button] of this.states) {
      button.setAttribute("aria-pressed", String(listing.states.includes(verdict)));
      const count = outcome.rows.filter((row) => row.verdict === verdict).length;
      const text = button.querySelector("span");
      if (text) setText(text, `${count} ${shortWords[verdict]}`);
      button.setAttribute("aria-label", `${count} ${verdictWords[verdict]}`);
    }
    const changed = outcome.rows.filter((row) => row.change !== "same").length;
    setText(this.changed, `${changed} changed`);
    this.changed.setAttribute("aria-pressed", String(listing.isChangedOnly));
    const names = outcome.stations.map((station) => station.name);
    if (
      this.station.options.length !== names.length + 1 ||
      names.some((n, i) => this.station.options[i + 1]?.value !== n)
    ) {
      const options = names.map((name) => h("option", { value: name }, name));
      this.station.replaceChildren(h("option", { value: "" }, "All stations"), ...options);
    }
    this.station.value = listing.station;
  }

  private rowOf(row: Row, isSelected: boolean): HTMLTableRowElement {
    let element = this.rows.get(row.index);
    if (!element) {
      element = this.makeRow(row);
      this.rows.set(row.index, element);
    }
    this.fill(element, row);
    element.classList.toggle("selected", isSelected);
    element.querySelector("button")?.setAttribute("aria-pressed", String(isSelected));
    return element;
  }

  private makeRow(row: Row): HTMLTableRowElement {
    const choose = () =>
      this.store.update({ feature: this.store.state.feature === row.index ? null : row.index });
    const name = h("button", { type: "button", class: "name" }, row.name);
    const element = h(
      "tr",
      { "data-feature": row.index, onclick: choose },
      h("td", { class: "state" }),
      h("th", { scope: "row", class: "feature" }, name, h("span", { class: "change" })),
      h("td", { class: "station" }),
      h("td", { class: "target" }),
      h("td", { class: "n margin" }),
      h("td", { class: "n uncertainty" }),
    );
    // Up and down walk through the list.
    name.addEventListener("keydown", (event) => {
      const next =
        event.key === "ArrowDown"
          ? element.nextElementSibling
          : event.key === "ArrowUp"
            ? element.previousElementSibling
            : null;
      if (!next) return;
      event.preventDefault();
      next.querySelector<HTMLButtonElement>("button.name")?.focus();
    });
    return element;
  }

  private fill(element: HTMLTableRowElement, row: Row): void {
    const { units, scene } = this.store;
    const [state, feature, station, target, margin, uncertainty] = [...element.cells];
    if (!state || !feature || !station || !target || !margin || !uncertainty) return;
    if (element.dataset.verdict !== row.verdict) {
      element.dataset.verdict = row.verdict;
      state.replaceChildren(
        verdictSymbol(row.verdict),
        h("span", { class: "spoken" }, verdictWords[row.verdict]),
      );
    }
    const change = feature.querySelector(".change");
    const words = [
      changeWords[row.change],
      row.isAligned ? "holds the part" : "",
      row.required ? "" : "not required",
    ].filter((w) => w !== "");
    if (change) setText(change, words.join(", "));
    element.classList.toggle("changed", row.change !== "same");
    setText(station, row.station || "–");
    setText(target, row.target || "–");
    setText(margin, lengthText(units, row.margin, step.margin));
    const isTight = row.margin !== null && row.margin * units.mm < scene.rules.tight_margin;
    margin.classList.toggle("tight", isTight);
    margin.title = isTight ? "tight: the beam passes close to a body" : "";
    setText(uncertainty, lengthText(units, row.uncertainty, step.uncertainty));
  }
}

/** What stands in a column, where its head alone does not say it. */
function titleOf(key: SortKey, unit: string): string | null {
  if (key === "margin")
    return `Margin (beam clearance), ${unit}: from the beam to the nearest body`;
  if (key === "uncertainty") return `Expanded uncertainty (k = 2) as planned, ${unit}`;
  return null;
}
