import { fragmentText } from "../model/fragment";
import type { Store } from "../model/store";
import { copyButton, download, h } from "./dom";

// The present stations as the scene file has them, to copy or to download.

export class ExportStations {
  readonly element: HTMLDialogElement;
  private readonly text = h("textarea", {
    readonly: true,
    spellcheck: "false",
    "aria-label": "Stations as JSON",
  });

  constructor(private readonly store: Store) {
    this.element = h(
      "dialog",
      { class: "export-stations", "aria-labelledby": "export-stations-title" },
      h("h2", { id: "export-stations-title" }, "Export the stations"),
      h(
        "p",
        {},
        "Put this in the scene file in place of its stations.fixed. Every station has keep: the new plan must use it.",
      ),
      this.text,
      h(
        "div",
        { class: "card-actions" },
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
