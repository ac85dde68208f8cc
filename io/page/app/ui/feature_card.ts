import type { Touch } from "../data/wire";
import { placeText, step, withUnit } from "../model/numbers";
import { missOf, stationAt, type Picture } from "../model/picture";
import { causeSentence } from "../model/reasons";
import { isMoved } from "../model/setup";
import type { Store } from "../model/store";
import { copyButton, h } from "./dom";
import { verdictSymbol, verdictWords } from "./symbols";

// The selected feature: how it stands, why it is blocked, and a look along its beam.

export class FeatureCard {
  readonly element = h("section", { class: "card feature-card", "aria-label": "Selected feature" });
  private written = "";

  constructor(
    private readonly store: Store,
    private readonly lookAlong: () => void,
  ) {}

  update(picture: Picture): void {
    const { feature } = this.store.state;
    this.element.hidden = feature === null;
    if (feature === null) {
      this.written = "";
      return;
    }
    const lines = this.linesOf(picture, feature);
    const key = JSON.stringify([feature, lines]);
    if (key === this.written) return;
    this.written = key;
    const { name } = this.store.plan.features[feature] ?? { name: "" };
    const verdict = picture.standings[feature]?.verdict ?? "blocked";
    const close = h(
      "button",
      {
        type: "button",
        class: "close",
        "aria-label": "Close",
        onclick: () => this.store.update({ feature: null }),
      },
      "✕",
    );
    this.element.replaceChildren(
      h("div", { class: "card-head" }, verdictSymbol(verdict), h("h2", {}, name), close),
      ...lines.map((line) => h("p", {}, line)),
      h(
        "div",
        { class: "card-deeds" },
        h(
          "button",
          { type: "button", class: "quiet", onclick: this.lookAlong },
          "Look along the beam",
        ),
        copyButton("Copy", () => [name, ...lines].join("\n") + "\n"),
      ),
    );
  }

  private linesOf(picture: Picture, feature: number): string[] {
    const standing = picture.standings[feature];
    if (!standing || standing.verdict === "blocked") return this.blockedLines(picture, feature);
    const { units, plan } = this.store;
    const station = picture.stations.find((one) => one.id === standing.station);
    const margin =
      standing.margin === null ? "" : `, margin ${withUnit(units, standing.margin, step.margin)}`;
    const lines = [
      `By ${verdictWords[standing.verdict]} from ${station?.name ?? ""} with ${standing.target ?? ""}${margin}.`,
    ];
    if (standing.from > 1)
      lines.push(`${standing.from} of ${picture.stations.length} stations reach it.`);
    const row = picture.rows[feature];
    const planned = plan.features[feature];
    if (row && row.uncertainty !== null) {
      const ratio = planned?.ratio ? `; tolerance / 2U = ${planned.ratio.toFixed(1)}` : "";
      lines.push(
        `Expanded uncertainty as planned: ${withUnit(units, row.uncertainty, step.uncertainty)} (k = 2)${ratio}.`,
      );
    } else if (planned?.uncertainty) {
      lines.push(
        "Its uncertainty was predicted for another station or target: plan again for a new figure.",
      );
    }
    const touches = this.touchesOf(picture, feature);
    if (touches) lines.push(touchWords(this.store, touches));
    return lines;
  }

  private touchesOf(picture: Picture, feature: number): Touch[] | null {
    const standing = picture.standings[feature];
    const station = picture.stations.find((one) => one.id === standing?.station);
    if (!station) return null;
    const planned = this.store.plan.features[feature];
    if (!isMoved(station) && planned?.station === station.name) return planned.touches ?? null;
    const sight = picture.sights.find((one) => stationAt(picture, one.at)?.id === station.id);
    return sight?.features[feature]?.touches ?? null;
  }

  private blockedLines(picture: Picture, feature: number): string[] {
    const { scene, units } = this.store;
    const miss = missOf(this.store, picture, feature);
    if (picture.stations.length === 0) return ["Blocked: there is no station."];
    if (!miss) return ["Blocked. Why is being worked out …"];
    const from = stationAt(picture, miss.at)?.name ?? placeText(units, miss.at);
    const causes = miss.causes.map((cause) => causeSentence(scene, units, cause));
    const why = causes.length > 0 ? causes : ["None of the targets at hand can take it."];
    return [`Blocked. It comes nearest from ${from}:`, ...why];
  }
}

function touchWords(store: Store, touches: readonly Touch[]): string {
  const reached = touches.filter((touch) => touch.verdict !== "blocked");
  const first = reached[0];
  if (touches.length === 1 && first) return `Touched at ${placeText(store.units, first.at)}.`;
  return `${reached.length} of ${touches.length} touches reached.`;
}
