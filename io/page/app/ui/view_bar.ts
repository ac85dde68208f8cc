import type { ShownKey, Store } from "../model/store";
import type { ViewName } from "../view/viewport";
import { h } from "./dom";

// From where the cell is seen, and what of it.

const views: { view: ViewName; words: string; title: string }[] = [
  { view: "free", words: "Free", title: "Free view: turn it with the pointer or the arrow keys" },
  { view: "top", words: "Top", title: "From above, with dimensions" },
  { view: "front", words: "Front", title: "Elevation from the front (-Y), with dimensions" },
  { view: "back", words: "Back", title: "Elevation from behind (+Y), with dimensions" },
  { view: "left", words: "Left", title: "Elevation from the left (-X), with dimensions" },
  { view: "right", words: "Right", title: "Elevation from the right (+X), with dimensions" },
];

const things: { key: ShownKey; words: string }[] = [
  { key: "beams", words: "Beams" },
  { key: "nests", words: "Nests, and beams to them" },
  { key: "links", words: "Lines between tied stations" },
  { key: "uncertainty", words: "Uncertainty ellipsoids" },
  { key: "zones", words: "Zones and walkways" },
  { key: "surroundings", words: "Surroundings" },
  { key: "sizes", words: "Dimensions (not in the free view)" },
];

export class ViewBar {
  readonly element: HTMLElement;
  private readonly buttons = new Map<ViewName, HTMLButtonElement>();
  private readonly boxes = new Map<ShownKey, HTMLInputElement>();

  constructor(
    private readonly store: Store,
    actions: { show(view: ViewName): void; fit(): void },
  ) {
    const group = h("div", { class: "views", role: "group", "aria-label": "View" });
    for (const { view, words, title } of views) {
      const button = h(
        "button",
        { type: "button", title, onclick: () => actions.show(view) },
        words,
      );
      this.buttons.set(view, button);
      group.append(button);
    }
    const fit = h(
      "button",
      { type: "button", class: "quiet fit", title: "Show everything", onclick: actions.fit },
      "Fit",
    );
    const menu = h("ul", { class: "ticks" });
    for (const { key, words } of things) {
      const box = h("input", {
        type: "checkbox",
        onchange: () => store.update({ shown: { ...store.state.shown, [key]: box.checked } }),
      });
      this.boxes.set(key, box);
      menu.append(h("li", {}, h("label", {}, box, h("span", {}, words))));
    }
    const show = h("details", { class: "show" }, h("summary", {}, "Show"), menu);
    show.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      show.open = false;
      show.querySelector("summary")?.focus();
    });
    this.element = h("div", { class: "view-bar" }, group, fit, show);
  }

  /** `view`: null where none of them is shown. */
  update(view: ViewName | null): void {
    for (const [name, button] of this.buttons)
      button.setAttribute("aria-pressed", String(name === view));
    for (const [key, box] of this.boxes) box.checked = this.store.state.shown[key];
  }
}
