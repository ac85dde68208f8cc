import { fragmentText } from "../model/fragment";
import type { Store } from "../model/store";
import { copyButton, download, h } from "./dom";

// The present stations as a piece of a scene file, to copy or to keep.

export class TakeHome {
  readonly element: HTMLDialogElement;
  private readonly text = h("textarea", {
    readonly: true,
    spellcheck: "false",
    "aria-label": "Stations as JSON",
  });

  constructor(private readonly store: Store) {
    this.element = h(
      "dialog",
      { class: "take-home", "aria-labelledby": "take-home-title" },
      h("h2", { id: "take-home-title" }, "Take the stations home"),
      h(
        "p",
        {},
        "Put these places where the scene file has its stations.fixed. Every station is marked keep, so that a new plan is made round them.",
      ),
      this.text,
      h(
        "div",
        { class: "card-deeds" },
        h(
          "button",
          {
            type: "button",
            class: "primary",
            onclick: () => download("stations.json", this.text.value),
          },
          "Download",
        ),
        copyButton("Copy", () => this.text.value),
        h(
          "button",
          { type: "button", class: "quiet", onclick: () => this.element.close() },
          "Close",
        ),
      ),
    );
  }

  open(): void {
    const { scene, units, setup } = this.store;
    this.text.value = fragmentText(scene, units, setup.stations);
    this.text.rows = Math.min(14, this.text.value.split("\n").length);
    this.element.showModal();
  }
}
