import type { Vec3 } from "../data/wire";
import { placeForNew } from "../model/floor";
import {
  counted,
  fromMm,
  plainText,
  roundTo,
  step,
  toMm,
  typedLength,
  withUnit,
} from "../model/numbers";
import type { Outcome } from "../model/outcome";
import {
  addStation,
  droppedStations,
  dropStation,
  freeName,
  isMoved,
  moveStation,
  putBack,
  sameplace,
  type Station,
  upright,
} from "../model/setup";
import type { Store } from "../model/store";
import { copyButton, h, setText } from "./dom";
import { nestSymbol, verdictSymbol } from "./symbols";

// The stations with their coordinates to be typed, and what each of them does.

const fields = ["x", "y", "z", "height"] as const;
type Field = (typeof fields)[number];

class StationCard {
  readonly element: HTMLElement;
  private readonly inputs = new Map<Field, HTMLInputElement>();
  private readonly name = h("button", { type: "button", class: "name" });
  private readonly counts = h("p", { class: "counts" });
  private readonly moved = h("p", { class: "moved" });
  private readonly fault = h("p", { class: "fault", role: "alert" });
  private readonly back: HTMLButtonElement;
  private station: Station;
  private floor = 0;

  constructor(
    private readonly store: Store,
    station: Station,
  ) {
    this.station = station;
    const { id } = station;
    this.name.addEventListener("click", () =>
      store.update({ station: store.state.station === id ? null : id }),
    );
    const grid = h("div", { class: "coordinates" });
    for (const field of fields) grid.append(this.field(field));
    this.back = h(
      "button",
      { type: "button", class: "quiet", onclick: () => this.backToPlan() },
      "Back to the plan",
    );
    const drop = h(
      "button",
      { type: "button", class: "quiet", onclick: () => store.commit(dropStation(store.setup, id)) },
      "Remove",
    );
    const copy = copyButton("Copy coordinates", () => this.station.at.join(", "));
    this.element = h(
      "li",
      { class: "card station-card" },
      h("div", { class: "card-head" }, this.name, this.counts),
      grid,
      this.fault,
      this.moved,
      h("div", { class: "card-actions" }, this.back, copy, drop),
    );
  }

  private field(field: Field): HTMLElement {
    const words = field === "height" ? "over floor" : field;
    const input = h("input", {
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      "data-field": field,
      onchange: () => this.take(field, input.value),
    });
    this.inputs.set(field, input);
    return h("label", {}, h("span", {}, words), input);
  }

  private backToPlan(): void {
    const { planned, id } = this.station;
    if (planned) this.store.commit(moveStation(this.store.setup, id, planned));
  }

  private take(field: Field, text: string): void {
    const value = typedLength(text);
    this.inputs.get(field)?.setAttribute("aria-invalid", String(value === null));
    if (value === null) {
      setText(
        this.fault,
        `“${text}” is not a length in ${this.store.units.name}: a number such as 1250 is needed.`,
      );
      return;
    }
    setText(this.fault, "");
    // As the store has it: what is shown may be a frame old.
    const { setup } = this.store;
    const [x, y, z] =
      setup.stations.find((one) => one.id === this.station.id)?.at ?? this.station.at;
    const next: Record<Field, Vec3> = {
      x: [value, y, z],
      y: [x, value, z],
      z: [x, y, value],
      height: [x, y, this.floor + value],
    };
    this.store.commit(moveStation(setup, this.station.id, next[field]));
  }

  update(outcome: Outcome, station: Station): void {
    this.station = station;
    const { units, state } = this.store;
    const note = outcome.notes.get(station.id);
    this.floor = note?.floor ?? 0;
    setText(this.name, station.name);
    const isChosen = state.station === station.id;
    this.name.setAttribute("aria-pressed", String(isChosen));
    this.element.classList.toggle("selected", isChosen);
    const [x, y, z] = station.at;
    const values: Record<Field, number> = { x, y, z, height: z - this.floor };
    const active = (this.element.getRootNode() as ShadowRoot).activeElement;
    for (const [field, input] of this.inputs) {
      input.setAttribute(
        "aria-label",
        `${station.name}: ${field === "height" ? "height of the measuring centre over the floor" : field}, ${units.name}`,
      );
      const text = plainText(values[field]);
      if (input !== active || state.held === station.id) input.value = text;
    }
    const count = (symbol: SVGElement, words: string) =>
      h("span", { class: "count" }, symbol, words);
    this.counts.replaceChildren(
      count(verdictSymbol("full-target"), `${note?.full ?? 0} by full target`),
      count(verdictSymbol("offset-stylus"), `${note?.stylus ?? 0} by stylus`),
      count(nestSymbol(), counted(note?.nests ?? 0, "nest", "nests")),
    );
    setText(this.moved, [stanceWords(station), movedWords(this.store, station)].join(" ").trim());
    this.back.hidden = station.planned === null || !isMoved(station);
  }
}

/** How an instrument stands that is not upright: its axis' lean, and where its head points. */
function stanceWords({ up }: Station): string {
  if (sameplace(up, upright)) return "";
  const lean = (Math.acos(Math.max(-1, Math.min(1, up[2]))) * 180) / Math.PI;
  const toward = up.map((part) => plainText(Math.round(part * 1000) / 1000)).join(", ");
  return `The instrument leans ${plainText(Math.round(lean * 10) / 10)}\u00b0 off upright, its head toward (${toward}).`;
}

function movedWords(store: Store, station: Station): string {
  if (station.planned === null) return "Added; not in the plan.";
  if (!isMoved(station)) return "";
  const [dx, dy, dz] = station.at.map((value, i) => value - (station.planned?.[i] ?? 0));
  const far = withUnit(store.units, Math.hypot(dx ?? 0, dy ?? 0), step.place);
  const up =
    Math.abs(dz ?? 0) * store.units.mm < 0.5
      ? ""
      : `, ${withUnit(store.units, Math.abs(dz ?? 0), step.place)} ${(dz ?? 0) > 0 ? "higher" : "lower"}`;
  return `Moved ${far} from the plan's place${up}.`;
}

export class StationList {
  readonly element: HTMLElement;
  private readonly list = h("ul", { class: "cards" });
  private readonly dropped = h("div", { class: "dropped" });
  private readonly cards = new Map<number, StationCard>();

  constructor(private readonly store: Store) {
    const add = h(
      "button",
      { type: "button", class: "primary", onclick: () => this.add() },
      "Add a station",
    );
    const unit = h(
      "p",
      { class: "hint" },
      `Where the measuring centre (instrument centre) is, in ${store.units.name}. Press Enter after typing.`,
    );
    this.element = h("div", { class: "stations" }, unit, this.list, this.dropped, add);
  }

  private add(): void {
    const { store } = this;
    const { scene, units, setup } = store;
    const all = setup.stations.map((station) => toMm(units, station.at));
    const points = scene.features.map(
      (feature) => feature.at ?? feature.centre ?? feature.points?.[0] ?? [0, 0, 0],
    );
    const beside: Vec3 = [
      Math.max(...points.map((p) => p[0]), 0) + 2000,
      points[0]?.[1] ?? 0,
      Math.max(1500, points[0]?.[2] ?? 0),
    ];
    const place = placeForNew(scene, all, beside);
    const [x, y, z] = fromMm(units, place.at);
    const at: Vec3 = [roundTo(units, x, 1), roundTo(units, y, 1), roundTo(units, z, 1)];
    const id = store.newId();
    const taken = [...scene.zones, ...scene.fixed_stations].map((one) => one.name);
    const names = [...taken, ...store.plan.stations.map((station) => station.name)];
    store.commit(addStation(setup, id, freeName(setup, names), at, place.up));
    store.update({ station: id });
  }

  update(outcome: Outcome): void {
    const here = new Set(outcome.stations.map((station) => station.id));
    for (const [id, card] of this.cards) {
      if (here.has(id)) continue;
      card.element.remove();
      this.cards.delete(id);
    }
    outcome.stations.forEach((station, i) => {
      let card = this.cards.get(station.id);
      if (!card) {
        card = new StationCard(this.store, station);
        this.cards.set(station.id, card);
      }
      if (this.list.children[i] !== card.element)
        this.list.insertBefore(card.element, this.list.children[i] ?? null);
      card.update(outcome, station);
    });
    const dropped = droppedStations(this.store.setup, this.store.plan);
    this.dropped.replaceChildren(
      ...dropped.map((station) =>
        h(
          "button",
          {
            type: "button",
            class: "quiet",
            onclick: () => this.store.commit(putBack(this.store.setup, station)),
          },
          `Put ${station.name} back`,
        ),
      ),
    );
  }
}
