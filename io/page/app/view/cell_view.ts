import { Box3, Vector3 } from "three";
import type { Touch, Vec3 } from "../data/wire";
import { anchorOf, middleTouch } from "../model/anchors";
import { floorUnder } from "../model/floor";
import { lengthText, step, toMm } from "../model/numbers";
import { missOf, sharedTouches, stationAt, type Outcome } from "../model/outcome";
import { contactOf } from "../model/reasons";
import { isMoved, type Station } from "../model/setup";
import type { Store } from "../model/store";
import { crossAt, ringOf, type BeamLook } from "./beam_end";
import { Beams, type Beam } from "./beams";
import { Bodies, type BodyMesh } from "./bodies";
import { Ellipsoids } from "./ellipsoids";
import { Floors } from "./floors";
import { Labels, type Label } from "./labels";
import { LineBundle } from "./lines";
import { colour } from "./look";
import { MarkCloud, type MarkAt } from "./marks";
import { Sizes } from "./sizes";
import { Viewport } from "./viewport";
import { Stand } from "./stands";

// The cell as it is seen: everything of the outcome in its place.

export interface CellGeometry {
  origin: Vec3;
  bodies: BodyMesh[];
}

const kDisc = 2.6; // radius of a stand's disc on the floor, in radii of the instrument
const kMostBroken = 60; // broken beams drawn at once; a selected one always is
const kMostNamed = 12; // blocked features named in the view

export class CellView {
  readonly anchors: Vector3[];
  readonly part: Box3;
  private readonly origin: Vector3;
  private readonly bodies: Bodies;
  private readonly marks = new MarkCloud();
  private readonly beams = new Beams();
  private readonly stands = new Map<number, Stand>();
  private readonly floors: Floors;
  private readonly ellipsoids: Ellipsoids;
  private readonly labels: Labels;
  private readonly sizes: Sizes;
  private readonly ring = new LineBundle({
    color: colour.ink,
    width: 2,
    isAlwaysSeen: true,
    order: 10,
  });
  private readonly contact = new LineBundle({
    color: colour.blocked,
    width: 3,
    isAlwaysSeen: true,
    order: 11,
  });
  private readonly ends: Vector3[]; // where each feature's beam was last known to end
  hovered: number | null = null;

  constructor(
    readonly store: Store,
    readonly viewport: Viewport,
    geometry: CellGeometry,
    layers: { labels: HTMLElement; sizes: SVGSVGElement },
  ) {
    this.origin = new Vector3(...geometry.origin);
    this.bodies = new Bodies(geometry.bodies);
    this.anchors = store.scene.features.map((feature) => this.fromMm(anchorOf(feature)));
    this.ends = store.plan.features.map((feature, i) => {
      const touch = middleTouch(feature.touches ?? []);
      return touch ? this.placed(touch.at) : (this.anchors[i] ?? new Vector3()).clone();
    });
    this.part = boxOf(geometry.bodies.filter((body) => body.role === "part"));
    this.anchors.forEach((anchor) => this.part.expandByPoint(anchor));
    this.floors = new Floors(store.scene, this.origin);
    const size = this.part.getSize(new Vector3()).length();
    this.ellipsoids = new Ellipsoids(store.plan, store.units.mm, this.anchors, size * 0.035);
    this.labels = new Labels(layers.labels, viewport);
    this.sizes = new Sizes(layers.sizes, viewport, (mm) =>
      lengthText(store.units, mm / store.units.mm, step.place),
    );
    viewport.scene.add(this.bodies.group, this.floors.group, this.ellipsoids.group);
    viewport.scene.add(this.beams.group, this.marks.group, this.ring.object, this.contact.object);
  }

  /** What a view of everything must show: part and stations. */
  outline(stations: readonly Station[]): Vector3[] {
    const points = cornersOf(this.part);
    const reach = this.discRadius();
    for (const station of stations) {
      const at = this.placed(station.at);
      const floor = this.floorOf(station);
      points.push(at.clone().add(new Vector3(0, 0, this.store.scene.instrument.body_above + 300)));
      for (const [x, y] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        points.push(new Vector3(at.x + x * reach, at.y + y * reach, floor));
      }
    }
    return points;
  }

  /** Scene units to the view. */
  placed(at: Vec3): Vector3 {
    return this.fromMm(toMm(this.store.units, at));
  }
  private fromMm(at: Vec3): Vector3 {
    return new Vector3(...at).sub(this.origin);
  }
  /** The view to mm in the scene's frame. */
  sceneMm(at: Vector3): Vec3 {
    const p = at.clone().add(this.origin);
    return [p.x, p.y, p.z];
  }

  show(outcome: Outcome): void {
    const { state, setup } = this.store;
    this.bodies.show(setup.away, state.shown.surroundings);
    this.floors.group.visible = state.shown.zones;
    this.ellipsoids.show(
      state.shown.uncertainty && !this.viewport.along,
      (i) => outcome.rows[i]?.uncertainty !== null && !this.isFaint(i),
    );
    this.showStands(outcome);
    this.showMarks(outcome);
    this.learnEnds(outcome);
    const { along } = this.viewport;
    const beams = along ? [] : this.beamsOf(outcome);
    this.beams.show(beams, state.shown.beams);
    this.showTies(outcome);
    this.showLabels(outcome);
    const stations = outcome.stations.map((station) => ({
      at: this.placed(station.at),
      floor: this.placed([0, 0, outcome.notes.get(station.id)?.floor ?? 0]).z,
    }));
    this.sizes.show(this.part, stations, state.shown.sizes);
    this.viewport.ask();
  }

  private showStands(outcome: Outcome): void {
    const { body_radius, body_above, body_below } = this.store.scene.instrument;
    const here = new Set(outcome.stations.map((station) => station.id));
    for (const [id, stand] of this.stands) {
      if (here.has(id)) continue;
      stand.group.removeFromParent();
      stand.dispose();
      this.stands.delete(id);
    }
    for (const station of outcome.stations) {
      let stand = this.stands.get(station.id);
      if (!stand) {
        stand = new Stand({
          radius: body_radius,
          above: body_above,
          below: body_below,
          disc: this.discRadius(),
        });
        this.viewport.scene.add(stand.group);
        this.stands.set(station.id, stand);
      }
      const note = outcome.notes.get(station.id);
      const height = (station.at[2] - (note?.floor ?? 0)) * this.store.units.mm;
      const isChosen =
        this.store.state.station === station.id || this.store.state.held === station.id;
      stand.show(
        this.placed(station.at),
        new Vector3(...station.up),
        Math.max(height, 1),
        note?.body ? "refused" : isChosen ? "chosen" : "rest",
      );
      // From its own place a stand would fill the view.
      stand.group.visible = !this.viewport.along;
    }
  }

  private showMarks(outcome: Outcome): void {
    const { state, scene } = this.store;
    // Along a beam the selected mark would cover what is looked at.
    const rows = outcome.rows.filter((row) => !this.viewport.along || row.index !== state.feature);
    const marks: MarkAt[] = rows.map((row) => ({
      at: this.anchors[row.index] ?? new Vector3(),
      shape: row.verdict,
      isSelected: state.feature === row.index,
      isFaint: this.isFaint(row.index),
      isChanged: row.change !== "same",
    }));
    if (state.shown.nests) {
      for (const nest of scene.nests) {
        marks.push({
          at: this.fromMm(nest.at),
          shape: "nest",
          isSelected: false,
          isFaint: false,
          isChanged: false,
        });
      }
    }
    this.marks.show(marks);
  }

  /** Set by the list: which features its filters leave out. */
  leftOut: ReadonlySet<number> = new Set();
  private isFaint(feature: number): boolean {
    return this.leftOut.has(feature) && this.store.state.feature !== feature;
  }

  /** Where the touches of a feature are known as its station reaches them. */
  touchesOf(outcome: Outcome, feature: number): readonly Touch[] | null {
    const status = outcome.statuses[feature];
    if (status?.shared) return sharedTouches(this.store.plan, outcome, feature);
    const station = outcome.stations.find((one) => one.id === status?.station);
    if (!station) return null;
    const sight = outcome.sights.find((one) => stationAt(outcome, one)?.id === station.id);
    if (sight) return sight.features[feature]?.touches ?? null;
    const planned = this.store.plan.features[feature];
    const holds = !isMoved(station) && planned?.station === station.name;
    return holds ? (planned.touches ?? null) : null;
  }

  private learnEnds(outcome: Outcome): void {
    this.ends.forEach((_, i) => {
      const touch = middleTouch(this.touchesOf(outcome, i) ?? []);
      if (touch) this.ends[i] = this.placed(touch.at);
    });
  }

  endOf(feature: number): Vector3 {
    return this.ends[feature] ?? this.anchors[feature] ?? new Vector3();
  }

  private beamsOf(outcome: Outcome): Beam[] {
    const selected = this.store.state.feature;
    const beams: Beam[] = [];
    let broken = 0;
    outcome.statuses.forEach((status, i) => {
      const isStrong = i === selected;
      if (status.verdict === "blocked") {
        broken += 1;
        if (broken <= kMostBroken || isStrong) beams.push(...this.brokenBeam(outcome, i));
        return;
      }
      if (this.isFaint(i)) return;
      if (status.shared) {
        beams.push(...this.sharedBeams(outcome, i, isStrong));
        return;
      }
      const station = outcome.stations.find((one) => one.id === status.station);
      if (!station) return;
      const kind = status.verdict === "full-target" ? "full" : "stylus";
      const from = this.placed(station.at);
      const touches = isStrong ? this.touchesOf(outcome, i) : null;
      const ends = (touches ?? [])
        .filter((touch) => touch.verdict !== "blocked")
        .map((touch) => this.placed(touch.at));
      for (const to of ends.length > 0 ? ends : [this.endOf(i)]) {
        beams.push({ kind, from, to, isStrong });
      }
    });
    return beams;
  }

  /** Of a feature that several stations take: each touch from its own; one beam a station where the
   * feature is not selected. */
  private sharedBeams(outcome: Outcome, feature: number, isStrong: boolean): Beam[] {
    const status = outcome.statuses[feature];
    const kind = status?.verdict === "full-target" ? "full" : "stylus";
    const touches = this.touchesOf(outcome, feature) ?? [];
    const taken = status?.shared ?? [];
    return outcome.stations.flatMap((station) => {
      const from = this.placed(station.at);
      const own = touches.filter((_, t) => taken[t] === station.id);
      const shown = isStrong ? own : [middleTouch(own) ?? own[0]];
      return shown.flatMap((touch) =>
        touch ? [{ kind, from, to: this.placed(touch.at), isStrong } as const] : [],
      );
    });
  }

  private brokenBeam(outcome: Outcome, feature: number): Beam[] {
    const miss = missOf(this.store, outcome, feature);
    if (!miss) return [];
    const contact = contactOf(miss);
    const touch = miss.touches.find((one) => contact && one.causes?.includes(contact));
    const beam: Beam = {
      kind: "broken",
      from: this.placed(miss.at),
      to: touch ? this.placed(touch.at) : this.endOf(feature),
      isStrong: this.store.state.feature === feature,
    };
    if (contact?.at) beam.contact = this.placed(contact.at);
    return [beam];
  }

  private showTies(outcome: Outcome): void {
    const { state, scene } = this.store;
    const known = this.store.known().marks;
    const at = new Map(outcome.stations.map((station) => [station.id, this.placed(station.at)]));
    const nests = outcome.stations.flatMap((station) =>
      (known.get(station.id)?.nests ?? []).flatMap((mark, i) => {
        const nest = scene.nests[i];
        return mark.verdict === "full-target" && nest
          ? [this.placed(station.at), this.fromMm(nest.at)]
          : [];
      }),
    );
    const links = outcome.ties.links.flatMap(({ a, b }) => {
      const ends = [at.get(a), at.get(b)];
      return ends[0] && ends[1] ? [ends[0], ends[1]] : [];
    });
    const moved = outcome.stations.flatMap((station) => this.movedLine(outcome, station));
    const isSeen = !this.viewport.along;
    this.beams.showTies(
      isSeen && state.shown.nests ? nests : [],
      isSeen && state.shown.links ? links : [],
      isSeen ? moved : [],
    );
  }

  /** On the floor, from where the plan has a station to where it stands now. */
  private movedLine(outcome: Outcome, station: Station): Vector3[] {
    if (!station.planned || !isMoved(station)) return [];
    const floor = outcome.notes.get(station.id)?.floor ?? 0;
    const lift = 8 / this.store.units.mm;
    const [from, to] = [station.planned, station.at].map((at) =>
      this.placed([at[0], at[1], floor + lift]),
    );
    return from && to ? [from, to] : [];
  }

  private showLabels(outcome: Outcome): void {
    const { state, scene, plan } = this.store;
    const labels: Label[] = [];
    const add = (feature: number, kind: Label["kind"]) => {
      const name = plan.features[feature]?.name;
      const at = this.anchors[feature];
      if (!name || !at || labels.some((label) => label.key === `f${feature}`)) return;
      labels.push({ key: `f${feature}`, text: name, kind, at });
    };
    if (state.feature !== null) add(state.feature, "feature");
    if (this.hovered !== null) add(this.hovered, "feature");
    const blocked = outcome.rows.filter((row) => row.verdict === "blocked");
    if (blocked.length <= kMostNamed) blocked.forEach((row) => add(row.index, "blocked"));
    if (state.shown.nests) {
      for (const nest of scene.nests) {
        labels.push({
          key: `n${nest.name}`,
          text: nest.name,
          kind: "nest",
          at: this.fromMm(nest.at),
        });
      }
    }
    this.labels.show(labels);
  }

  /** z of the floor that a station stands on. */
  floorOf(station: Station): number {
    const { scene, units } = this.store;
    return floorUnder(scene, toMm(units, station.at)) - this.origin.z;
  }

  discRadius(): number {
    return Math.max(this.store.scene.instrument.body_radius, 120) * kDisc;
  }

  ellipsoidWords(): string {
    return `Uncertainty ellipsoids of the plan (coverage factor k\u00a0=\u00a02), enlarged ${this.ellipsoids.scale.toLocaleString("en")} times`;
  }

  /** Where the beam that is looked along ends: its disc, and what strikes it. */
  showBeamEnd(look: BeamLook | null): void {
    this.ring.show(look ? ringOf(look) : []);
    this.contact.show(look?.contact ? crossAt(look, look.contact) : []);
  }
}

function cornersOf({ min, max }: Box3): Vector3[] {
  return [min.x, max.x].flatMap((x) =>
    [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new Vector3(x, y, z))),
  );
}

function boxOf(bodies: readonly BodyMesh[]): Box3 {
  const box = new Box3();
  const p = new Vector3();
  for (const { positions } of bodies) {
    for (let i = 0; i + 2 < positions.length; i += 3) {
      box.expandByPoint(p.set(positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0));
    }
  }
  return box;
}
