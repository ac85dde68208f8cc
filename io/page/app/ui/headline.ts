import type { Verdict } from "../data/wire";
import { counted, listOf } from "../model/numbers";
import type { Picture } from "../model/picture";
import { wholeList } from "../model/rows";
import type { Store } from "../model/store";
import { lineSentence } from "../model/ties";
import { h, setText } from "./dom";
import { icon, icons, verdictSymbol } from "./symbols";

// The one sentence that says how the job stands, what changed against the plan, and what is wrong
// with a set-up.

/** "75 of 76 required features reached: 47 by full target, 28 by offset stylus; 1 blocked." */
export function stateSentence(picture: Picture): string {
  const { tally } = picture;
  const noun = tally.required === 1 ? "required feature" : "required features";
  const blocked = tally.blocked > 0 ? `; ${tally.blocked} blocked` : "";
  return `${tally.reached} of ${tally.required} ${noun} reached: ${tally.full} by full target, ${tally.stylus} by offset stylus${blocked}.`;
}

/** What cannot be, or is not as it should be; most grave first. */
export function troubles(store: Store, picture: Picture): string[] {
  const found: string[] = [];
  for (const station of picture.stations) {
    const body = picture.notes.get(station.id)?.body;
    if (body) found.push(`${station.name} cannot stand there: the instrument would cut ${body}.`);
  }
  const name = (id: number) => picture.stations.find((station) => station.id === id)?.name ?? "";
  const { loose } = picture.ties;
  if (loose.length > 0) {
    const first = picture.stations[0]?.name ?? "";
    const isOne = loose.length === 1;
    found.push(
      `${listOf(loose.map(name))} ${isOne ? "is" : "are"} not tied to ${first}: stations must share ${Math.max(3, store.scene.rules.shared_nests)} nests that are not in one line.`,
    );
  }
  const nests = store.scene.nests.map((nest) => nest.name);
  for (const line of picture.ties.lines) {
    found.push(lineSentence(line, nests, name, store.units));
  }
  for (const station of picture.stations) {
    if (picture.notes.get(station.id)?.isOutside) {
      found.push(`${station.name} stands outside the zones of the scene.`);
    }
  }
  if (picture.tally.tooFew > 0) {
    const asked = store.scene.rules.stations_per_feature;
    found.push(
      `${counted(picture.tally.tooFew, "feature is", "features are")} reached from fewer than ${asked} stations.`,
    );
  }
  return found;
}

function changeParts(picture: Picture): { kind: string; words: string }[] {
  const { gained, lost, stronger, weaker } = picture.changes;
  const all = [
    { kind: "gain", count: gained.length, words: `${gained.length} gained` },
    { kind: "loss", count: lost.length, words: `${lost.length} lost` },
    { kind: "gain", count: stronger.length, words: `${stronger.length} now by full target` },
    { kind: "loss", count: weaker.length, words: `${weaker.length} now only by offset stylus` },
  ];
  return all.filter((part) => part.count > 0);
}

export class Headline {
  readonly element: HTMLElement;
  private readonly sentence = h("h1", { class: "sentence" });
  private readonly against = h("p", { class: "against" });
  private readonly trouble = h("ul", { class: "troubles" });
  private readonly spoken = h("p", { class: "spoken", role: "status" });
  private written = "";

  constructor(private readonly store: Store) {
    const name = h("p", { class: "scene-name" }, store.plan.scene);
    this.element = h(
      "div",
      { class: "headline" },
      name,
      this.sentence,
      this.against,
      this.trouble,
      this.spoken,
    );
  }

  update(picture: Picture): void {
    this.writeSentence(picture);
    this.writeAgainst(picture);
    const found = troubles(this.store, picture);
    this.trouble.replaceChildren(...found.map((text) => h("li", {}, icon(icons.warn), text)));
    // Told aloud once a drag has ended, not at every step of it.
    if (this.store.state.held === null && !picture.isTracing) {
      setText(this.spoken, [stateSentence(picture), this.against.textContent, ...found].join(" "));
    }
  }

  private writeSentence(picture: Picture): void {
    const text = stateSentence(picture);
    if (text === this.written) return;
    this.written = text;
    const { tally } = picture;
    const count = (verdict: Verdict, words: string) =>
      h("span", { class: "count" }, verdictSymbol(verdict), words);
    const noun = tally.required === 1 ? "required feature" : "required features";
    const parts: (Node | string)[] = [
      h("strong", {}, `${tally.reached} of ${tally.required}`),
      ` ${noun} reached: `,
      count("full-target", `${tally.full} by full target`),
      ", ",
      count("offset-stylus", `${tally.stylus} by offset stylus`),
    ];
    if (tally.blocked > 0) {
      const show = h(
        "button",
        { type: "button", class: "count link", onclick: () => this.showBlocked(picture) },
        verdictSymbol("blocked"),
        `${tally.blocked} blocked`,
      );
      parts.push("; ", show);
    }
    this.sentence.replaceChildren(...parts, ".");
  }

  private showBlocked(picture: Picture): void {
    const first = picture.rows.find((row) => row.verdict === "blocked" && row.required);
    this.store.update({
      tab: "features",
      listing: { ...wholeList, states: ["blocked"] },
      feature: first?.index ?? null,
    });
  }

  private writeAgainst(picture: Picture): void {
    const { plan, isEngineReady } = this.store;
    if (picture.isAsPlanned) {
      const { status, stations } = plan.optimality;
      const count = counted(stations, "station", "stations");
      const proof = status === "optimal" ? `${count}, proven the fewest` : count;
      setText(
        this.against,
        `As planned: ${proof}.${isEngineReady ? "" : " The live view is loading."}`,
      );
      return;
    }
    const parts = changeParts(picture).map(({ kind, words }) =>
      h(
        "button",
        { type: "button", class: `chip ${kind}`, onclick: () => this.showChanged() },
        words,
      ),
    );
    const lead =
      parts.length > 0 ? "Against the plan: " : "Against the plan nothing is gained or lost.";
    const wait = picture.isTracing ? h("span", { class: "tracing" }, "Tracing …") : null;
    this.against.replaceChildren(lead, ...parts, ...(wait ? [wait] : []));
  }

  private showChanged(): void {
    this.store.update({ tab: "features", listing: { ...wholeList, isChangedOnly: true } });
  }
}
