import type { Touch } from "../data/wire";
import { listOf, placeText, step, withUnit } from "../model/numbers";
import { missOf, sharedTouches, stationAt, type Outcome } from "../model/outcome";
import { isMoved } from "../model/setup";
import { sharersOf } from "../model/status";
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

  update(outcome: Outcome): void {
    const { feature } = this.store.state;
    this.element.hidden = feature === null;
    if (feature === null) {
      this.written = "";
      return;
    }
    const lines = this.linesOf(outcome, feature);
    const key = JSON.stringify([feature, lines]);
    if (key === this.written) return;
    this.written = key;
    const { name } = this.store.plan.features[feature] ?? { name: "" };
    const verdict = outcome.statuses[feature]?.verdict ?? "blocked";
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
        { class: "card-actions" },
        h(
          "button",
          { type: "button", class: "quiet", onclick: this.lookAlong },
          "Look along the beam",
        ),
        copyButton("Copy text", () => [name, ...lines].join("\n") + "\n"),
      ),
    );
  }

  private linesOf(outcome: Outcome, feature: number): string[] {
    const status = outcome.statuses[feature];
    if (!status || status.verdict === "blocked") return this.blockedLines(outcome, feature);
    const { units, plan } = this.store;
    const from = outcome.rows[feature]?.station ?? "";
    const margin =
      status.margin === null
        ? ""
        : ` Margin (beam clearance): ${withUnit(units, status.margin, step.margin)}.`;
    const lines = [
      `By ${verdictWords[status.verdict]} ${status.target ?? ""} from ${from}.${margin}`,
    ];
    if (status.shared) lines.push(...sharedWords(status.shared, (id) => nameOf(outcome, id)));
    if (status.from > 1)
      lines.push(`Reached from ${status.from} of ${outcome.stations.length} stations.`);
    const row = outcome.rows[feature];
    const planned = plan.features[feature];
    if (row && row.uncertainty !== null) {
      const ratio = planned?.ratio
        ? ` Ratio (tolerance to uncertainty, T / 2U): ${planned.ratio.toFixed(1)}.`
        : "";
      lines.push(
        `Expanded uncertainty U (k = 2) as planned: ${withUnit(units, row.uncertainty, step.uncertainty)}.${ratio}`,
      );
    } else if (planned?.uncertainty) {
      lines.push(
        "Its uncertainty was predicted for another station or target. Plan again for a new figure.",
      );
    }
    const touches = this.touchesOf(outcome, feature);
    if (touches) lines.push(touchWords(this.store, touches));
    return lines;
  }

  private touchesOf(outcome: Outcome, feature: number): Touch[] | null {
    const status = outcome.statuses[feature];
    if (status?.shared) return sharedTouches(this.store.plan, outcome, feature);
    const station = outcome.stations.find((one) => one.id === status?.station);
    if (!station) return null;
    const planned = this.store.plan.features[feature];
    if (!isMoved(station) && planned?.station === station.name) return planned.touches ?? null;
    const sight = outcome.sights.find((one) => stationAt(outcome, one)?.id === station.id);
    return sight?.features[feature]?.touches ?? null;
  }

  private blockedLines(outcome: Outcome, feature: number): string[] {
    const { units } = this.store;
    const miss = missOf(this.store, outcome, feature);
    if (outcome.stations.length === 0) return ["Blocked: there is no station."];
    if (!miss?.reasons) return ["Blocked. The reason is being worked out …"];
    const from = stationAt(outcome, miss)?.name ?? placeText(units, miss.at);
    const none = ["No available target can touch it."];
    const why = miss.reasons.length > 0 ? miss.reasons : none;
    return [`Blocked. The nearest miss is from ${from}:`, ...why];
  }
}

function nameOf(outcome: Outcome, id: number): string {
  return outcome.stations.find((station) => station.id === id)?.name ?? "";
}

/** Which touches of a feature each of the stations takes that share it. */
function sharedWords(
  taken: readonly (number | null)[],
  stationName: (id: number) => string,
): string[] {
  return sharersOf(taken).map((id) => {
    const own = taken.flatMap((one, t) => (one === id ? [String(t + 1)] : []));
    return `From ${stationName(id)}: ${own.length === 1 ? "touch" : "touches"} ${listOf(own)}.`;
  });
}

function touchWords(store: Store, touches: readonly Touch[]): string {
  const reached = touches.filter((touch) => touch.verdict !== "blocked");
  const first = reached[0];
  if (touches.length === 1 && first)
    return `Touch (measured point) at ${placeText(store.units, first.at)}.`;
  return `${reached.length} of ${touches.length} touches (measured points) reached.`;
}
