import type { Verdict } from "../data/wire";
import { counted, listOf } from "../model/numbers";
import type { Outcome } from "../model/outcome";
import { wholeList } from "../model/rows";
import type { Store } from "../model/store";
import { lineSentence } from "../model/ties";
import { h, setText } from "./dom";
import { icon, icons, verdictSymbol } from "./symbols";

// The one sentence that says how the job stands, what changed against the plan, and what is wrong
// with a set-up.

/** "75 of 76 required features reached: 47 by full target, 28 by offset stylus; 1 blocked." */
export function stateSentence(outcome: Outcome): string {
  const { tally } = outcome;
  const noun = tally.required === 1 ? "required feature" : "required features";
  const blocked = tally.blocked > 0 ? `; ${tally.blocked} blocked` : "";
  return `${tally.reached} of ${tally.required} ${noun} reached: ${tally.full} by full target, ${tally.stylus} by offset stylus${blocked}.`;
}

/** "As planned: 3 stations, proven to be the fewest." and what the sentence leaves out. */
function plannedWords({ plan, isEngineReady }: Store, outcome: Outcome): string {
  const { status, stations } = plan.optimality;
  const count = counted(stations, "station", "stations");
  const proof = status === "optimal" ? `${count}, proven to be the fewest` : count;
  const { further, furtherReached } = outcome.tally;
  const more = further === 0 ? "" : ` Not required: ${furtherReached} of ${further} reached.`;
  return `As planned: ${proof}.${more}${isEngineReady ? "" : " The live view is loading."}`;
}

/** What cannot be, or is not as it should be; most grave first. */
export function problems(store: Store, outcome: Outcome): string[] {
  const found: string[] = [];
  for (const station of outcome.stations) {
    const body = outcome.notes.get(station.id)?.body;
    if (body)
      found.push(`${station.name} cannot stand there: the instrument would cut into ${body}.`);
  }
  const name = (id: number) => outcome.stations.find((station) => station.id === id)?.name ?? "";
  const { loose } = outcome.ties;
  if (loose.length > 0) {
    const first = outcome.stations[0]?.name ?? "";
    const isOne = loose.length === 1;
    found.push(
      `${listOf(loose.map(name))} ${isOne ? "is" : "are"} not tied to ${first}: stations must share ${Math.max(3, store.scene.rules.shared_nests)} nests that are not in one line.`,
    );
  }
  const nests = store.scene.nests.map((nest) => nest.name);
  for (const line of outcome.ties.lines) {
    found.push(lineSentence(line, nests, name, store.units));
  }
  for (const station of outcome.stations) {
    if (outcome.notes.get(station.id)?.isOutside) {
      found.push(`${station.name} stands outside the zones of the scene.`);
    }
    const keepOut = outcome.notes.get(station.id)?.keepOut;
    if (keepOut) found.push(`${station.name} stands over the keep-out ${keepOut}.`);
  }
  if (outcome.tally.tooFew > 0) {
    const asked = store.scene.rules.stations_per_feature;
    found.push(
      `${counted(outcome.tally.tooFew, "feature is", "features are")} reached from fewer than ${asked} stations.`,
    );
  }
  return found;
}

function changeCounts(outcome: Outcome): { kind: string; words: string }[] {
  const { gained, lost, stronger, weaker } = outcome.changes;
  const all = [
    { kind: "gain", count: gained.length, words: `${gained.length} gained` },
    { kind: "loss", count: lost.length, words: `${lost.length} lost` },
    { kind: "gain", count: stronger.length, words: `${stronger.length} now by full target` },
    { kind: "loss", count: weaker.length, words: `${weaker.length} now only by offset stylus` },
  ];
  return all.filter(({ count }) => count > 0);
}

const nothingChanged = "Compared with the plan nothing is gained or lost.";

/** The line of the comparison, to be read aloud. */
function againstWords(store: Store, outcome: Outcome): string {
  if (outcome.isAsPlanned) return plannedWords(store, outcome);
  const counts = changeCounts(outcome).map(({ words }) => words);
  return counts.length > 0 ? `Compared with the plan: ${counts.join(", ")}.` : nothingChanged;
}

export class Headline {
  readonly element: HTMLElement;
  private readonly sentence = h("h1", { class: "sentence" });
  private readonly against = h("p", { class: "against" });
  private readonly problem = h("ul", { class: "problems" });
  private readonly spoken = h("p", { class: "spoken", role: "status" });
  private readonly back: HTMLButtonElement;
  private writtenAgainst = "";
  private written = "";

  constructor(
    private readonly store: Store,
    backToPlan: () => void,
  ) {
    const name = h("p", { class: "scene-name" }, `Scene: ${store.plan.scene}`);
    // Beside the comparison, where it takes no width from the sentence: that would move the view.
    this.back = h(
      "button",
      { type: "button", class: "link", onclick: backToPlan },
      "Back to the plan",
    );
    this.element = h(
      "div",
      { class: "headline" },
      name,
      this.sentence,
      this.against,
      this.problem,
      this.spoken,
    );
  }

  update(outcome: Outcome): void {
    this.writeSentence(outcome);
    this.writeAgainst(outcome);
    const found = problems(this.store, outcome);
    this.problem.replaceChildren(...found.map((text) => h("li", {}, icon(icons.warn), text)));
    // Told aloud once a drag has ended, not at every step of it.
    if (this.store.state.held === null && !outcome.isTracing) {
      setText(
        this.spoken,
        [stateSentence(outcome), againstWords(this.store, outcome), ...found].join(" "),
      );
    }
  }

  private writeSentence(outcome: Outcome): void {
    const text = stateSentence(outcome);
    if (text === this.written) return;
    this.written = text;
    const { tally } = outcome;
    const count = (verdict: Verdict, words: string) =>
      h("span", { class: "count" }, verdictSymbol(verdict), words);
    const noun = tally.required === 1 ? "required feature" : "required features";
    const pieces: (Node | string)[] = [
      h("strong", {}, `${tally.reached} of ${tally.required}`),
      ` ${noun} reached: `,
      count("full-target", `${tally.full} by full target`),
      ", ",
      count("offset-stylus", `${tally.stylus} by offset stylus`),
    ];
    if (tally.blocked > 0) {
      const show = h(
        "button",
        { type: "button", class: "count link", onclick: () => this.showBlocked(outcome) },
        verdictSymbol("blocked"),
        `${tally.blocked} blocked`,
      );
      pieces.push("; ", show);
    }
    this.sentence.replaceChildren(...pieces, ".");
  }

  private showBlocked(outcome: Outcome): void {
    const first = outcome.rows.find((row) => row.verdict === "blocked" && row.required);
    this.store.update({
      tab: "features",
      listing: { ...wholeList, states: ["blocked"] },
      feature: first?.index ?? null,
    });
  }

  private writeAgainst(outcome: Outcome): void {
    if (outcome.isAsPlanned) {
      this.writtenAgainst = "";
      setText(this.against, plannedWords(this.store, outcome));
      return;
    }
    const counts = changeCounts(outcome);
    // Made anew only where it differs: a button that is made anew loses the focus.
    const key = JSON.stringify([counts, outcome.isTracing]);
    if (key === this.writtenAgainst) return;
    this.writtenAgainst = key;
    const chips = counts.map(({ kind, words }) =>
      h(
        "button",
        { type: "button", class: `chip ${kind}`, onclick: () => this.showChanged() },
        words,
      ),
    );
    const lead = chips.length > 0 ? "Compared with the plan: " : nothingChanged;
    const wait = outcome.isTracing ? [h("span", { class: "tracing" }, "Checking beams …")] : [];
    this.against.replaceChildren(lead, ...chips, this.back, ...wait);
  }

  private showChanged(): void {
    this.store.update({ tab: "features", listing: { ...wholeList, isChangedOnly: true } });
  }
}
