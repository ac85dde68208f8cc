import { Group, Vector3 } from "three";
import { LineBundle } from "./lines";
import { colour } from "./look";

// Beams to what they measure: solid by full target, dashed by offset stylus; broken ones heavy to
// the point of contact and dotted from there on. Of a selected feature every beam is strong and all
// others step back.

export interface Beam {
  kind: "full" | "stylus" | "broken";
  from: Vector3;
  to: Vector3;
  contact?: Vector3; // where a broken one is struck
  isStrong: boolean;
}

const all = {
  full: new LineBundle({ color: colour.full, width: 1.5, opacity: 0.75 }),
  stylus: new LineBundle({ color: colour.stylus, width: 1.9, dash: [110, 55], opacity: 0.95 }),
  strongFull: new LineBundle({ color: colour.full, width: 3, isAlwaysSeen: true, order: 6 }),
  strongStylus: new LineBundle({
    color: colour.stylus,
    width: 3.2,
    dash: [110, 45],
    isAlwaysSeen: true,
    order: 6,
  }),
  broken: new LineBundle({ color: colour.blocked, width: 2.2, isAlwaysSeen: true, order: 6 }),
  strongBroken: new LineBundle({ color: colour.blocked, width: 3.4, isAlwaysSeen: true, order: 7 }),
  beyond: new LineBundle({
    color: colour.blocked,
    width: 1.6,
    dash: [22, 34],
    isAlwaysSeen: true,
    order: 6,
  }),
  nests: new LineBundle({ color: colour.tie, width: 1.1, dash: [24, 60] }),
  links: new LineBundle({ color: colour.ink, width: 3, opacity: 0.55, order: 5 }),
  moved: new LineBundle({ color: colour.hand, width: 1.6, dash: [60, 40], order: 5 }),
};

export class Beams {
  readonly group = new Group();

  constructor() {
    this.group.add(...Object.values(all).map((bundle) => bundle.object));
  }

  show(beams: readonly Beam[], areShown: boolean): void {
    const isOneStrong = beams.some((beam) => beam.isStrong);
    const ends = (kind: Beam["kind"], isStrong: boolean) =>
      beams
        .filter((beam) => beam.kind === kind && beam.isStrong === isStrong)
        .flatMap((beam) => [beam.from, beam.contact ?? beam.to]);
    const rest = (kind: Beam["kind"]) => (areShown ? ends(kind, false) : []);
    all.full.show(rest("full"), isOneStrong ? 0.4 : 1);
    all.stylus.show(rest("stylus"), isOneStrong ? 0.4 : 1);
    all.broken.show(rest("broken"), isOneStrong ? 0.5 : 1);
    all.strongFull.show(ends("full", true));
    all.strongStylus.show(ends("stylus", true));
    all.strongBroken.show(ends("broken", true));
    const struck = beams.filter((beam) => beam.contact && (beam.isStrong || areShown));
    all.beyond.show(struck.flatMap((beam) => [beam.contact ?? beam.from, beam.to]));
  }

  showTies(nests: readonly Vector3[], links: readonly Vector3[], moved: readonly Vector3[]): void {
    all.nests.show(nests);
    all.links.show(links);
    all.moved.show(moved);
  }
}
