import type { Marks, Parts, Shared, Sight, Vec3, Verdict } from "../data/wire";
import { toMm, type Units } from "./numbers";
import { nearnessOf, type Nearness } from "./reasons";
import type { Setup, Station } from "./setup";
import { among, byId, nestVerdicts, type Line, type Tie, type Ties } from "./ties";

// Asks the engine for what the present set-up needs and remembers the answers. One question at a
// time: while the engine works on one place the station may be dragged on, and then the newest
// place is asked next. Places between are never asked.

/** What the tracer needs of the engine (the client of the worker offers it). */
export interface Engine {
  marks(at: Vec3, up: Vec3): Promise<Marks | null>;
  sight(at: Vec3, up: Vec3): Promise<Sight>;
  ties(nests: readonly Verdict[][]): Promise<{ links: Tie[]; loose: number[]; lines: Line[] }>;
  together(places: readonly (Parts | true | null)[][]): Promise<(Shared | null)[]>;
  nearest(places: readonly Nearness[][]): Promise<(number | null)[]>;
  canStand(at: Vec3, up: Vec3): Promise<string | null>;
  atHand(use: { hiddenBodies: string[]; targets: string[] | null }): Promise<void>;
}

const kKept = 500; // answers of each kind that are remembered; the oldest go first
const kQuiet = 350; // ms without a change before sights are asked: they would delay a drag

class Memory<T> {
  private readonly kept = new Map<string, T>();
  get(key: string): T | undefined {
    return this.kept.get(key);
  }
  has(key: string): boolean {
    return this.kept.has(key);
  }
  put(key: string, value: T): void {
    const oldest = this.kept.keys().next();
    if (this.kept.size >= kKept && !oldest.done) this.kept.delete(oldest.value);
    this.kept.set(key, value);
  }
}

export interface Known {
  marks: Map<number, Marks>; // by station; of a place nearby where the present one is not traced yet
  ties: Ties; // by these marks; while they are not known, those before
  shared: (Shared | null)[]; // for each feature, with ids of stations; those before, while unknown
  sights: Sight[]; // of the present places, those that are known
  // for each feature the sight where it comes nearest to being reached, once all are known
  nearest: (number | null)[] | null;
  bodies: Map<number, string>; // the body that a station would cut
  isTracing: boolean; // some marks are not those of the present place yet
}

export class Tracer {
  private readonly marks = new Memory<Marks>();
  private readonly sights = new Memory<Sight>();
  private readonly bodies = new Memory<string | null>();
  private readonly ties = new Memory<Ties>();
  private readonly shared = new Memory<(Shared | null)[]>();
  private readonly nearest = new Memory<(number | null)[]>();
  private readonly last = new Map<number, Marks>();
  private lastTies: Ties = { links: [], loose: [], lines: [] };
  private lastShared: (Shared | null)[] = [];
  private setup: Setup | null = null;
  private first: number | null = null; // the station that is asked first
  private useNow = useOf({ stations: [], away: [], targets: null });
  private isBusy = false;
  private areSightsWanted = false;
  private quietSince = 0;
  private fault: Error | null = null;

  constructor(
    private readonly engine: Engine,
    private readonly units: Units,
    private readonly changed: (fault: Error | null) => void,
  ) {}

  /** What is known before the engine has said anything. */
  assume(id: number, marks: Marks): void {
    this.last.set(id, marks);
  }

  assumeTies(ties: Ties): void {
    this.lastTies = ties;
  }

  assumeShared(shared: (Shared | null)[]): void {
    this.lastShared = shared;
  }

  /** The set-up whose answers are wanted from now on. Sights are asked when all else is known and
   * the user has paused. */
  want(setup: Setup, options: { first: number | null; sights: boolean }): void {
    if (setup !== this.setup) this.quietSince = performance.now();
    this.setup = setup;
    this.first = options.first;
    this.areSightsWanted = options.sights;
    void this.work();
  }

  known(setup: Setup): Known {
    const marksNow = this.marksOf(setup);
    const ids = setup.stations.map((station) => station.id);
    const ties = this.ties.get(tieKeyOf(ids, marksNow)) ?? among(ids, this.lastTies);
    const known: Known = {
      marks: marksNow,
      ties,
      shared: this.shared.get(sharedKeyOf(setup, marksNow) ?? "") ?? this.lastShared,
      sights: [],
      nearest: this.nearest.get(sightsKeyOf(setup)) ?? null,
      bodies: new Map(),
      isTracing: false,
    };
    for (const station of setup.stations) {
      if (!this.marks.has(keyOf(setup, station))) known.isTracing = true;
      const sight = this.sights.get(keyOf(setup, station));
      if (sight) known.sights.push(sight);
      const body = this.bodies.get(bodyKeyOf(setup, station));
      if (body) known.bodies.set(station.id, body);
    }
    return known;
  }

  private marksOf(setup: Setup): Map<number, Marks> {
    const all = new Map<number, Marks>();
    for (const station of setup.stations) {
      const marks = this.marks.get(keyOf(setup, station)) ?? this.last.get(station.id);
      if (marks) all.set(station.id, marks);
    }
    return all;
  }

  private async work(): Promise<void> {
    if (this.isBusy || this.fault) return;
    this.isBusy = true;
    try {
      while (await this.askNext()) this.changed(null);
    } catch (error) {
      this.fault = error instanceof Error ? error : new Error(String(error));
      this.changed(this.fault);
    } finally {
      this.isBusy = false;
    }
  }

  /** Whether something was asked. */
  private async askNext(): Promise<boolean> {
    const setup = this.setup;
    if (!setup) return false;
    if (await this.askTies(setup)) return true;
    if (await this.askShared(setup)) return true;
    const inOrder = [...setup.stations].sort(
      (a, b) => Number(b.id === this.first) - Number(a.id === this.first),
    );
    const without = <T>(memory: Memory<T>, key: (station: Station) => string) =>
      inOrder.find((station) => !memory.has(key(station)));
    const unmarked = without(this.marks, (station) => keyOf(setup, station));
    const unplaced = without(this.bodies, (station) => bodyKeyOf(setup, station));
    if (unmarked || unplaced) await this.use(setup);
    if (unplaced && unplaced.id === (unmarked ?? unplaced).id) {
      const body = await this.engine.canStand(toMm(this.units, unplaced.at), unplaced.up);
      this.bodies.put(bodyKeyOf(setup, unplaced), body);
      return true;
    }
    if (unmarked) {
      const marks = await this.engine.marks(toMm(this.units, unmarked.at), unmarked.up);
      if (marks) {
        this.marks.put(keyOf(setup, unmarked), marks);
        this.last.set(unmarked.id, marks);
      }
      return true;
    }
    return this.askSight(setup, inOrder);
  }

  /** First of all, as it takes next to no time: so that they keep up with a drag. */
  private async askTies(setup: Setup): Promise<boolean> {
    const ids = setup.stations.map((station) => station.id);
    const marks = this.marksOf(setup);
    const key = tieKeyOf(ids, marks);
    const known = this.ties.get(key);
    if (known) {
      this.lastTies = known;
      return false;
    }
    this.lastTies = byId(ids, await this.engine.ties(nestVerdicts(ids, marks)));
    this.ties.put(key, this.lastTies);
    return true;
  }

  /** What the stations take together, once the marks of all are known. */
  private async askShared(setup: Setup): Promise<boolean> {
    const marks = this.marksOf(setup);
    const key = sharedKeyOf(setup, marks);
    if (key === null) return false;
    const known = this.shared.get(key);
    if (known) {
      this.lastShared = known;
      return false;
    }
    await this.use(setup);
    const ids = setup.stations.map((station) => station.id);
    const answer = await this.engine.together(partsOf(ids, marks));
    const idOf = (place: number | null) => (place === null ? null : (ids[place] ?? null));
    this.lastShared = answer.map((one) => one && { ...one, touches: one.touches.map(idOf) });
    this.shared.put(key, this.lastShared);
    return true;
  }

  private async askSight(setup: Setup, inOrder: readonly Station[]): Promise<boolean> {
    if (!this.areSightsWanted) return false;
    const station = inOrder.find((one) => !this.sights.has(keyOf(setup, one)));
    if (!station) return this.askNearest(setup);
    const wait = this.quietSince + kQuiet - performance.now();
    if (wait > 0) {
      await new Promise((resolve) => setTimeout(resolve, wait));
      return true;
    }
    await this.use(setup);
    const sight = await this.engine.sight(toMm(this.units, station.at), station.up);
    this.sights.put(keyOf(setup, station), sight);
    return true;
  }

  private async askNearest(setup: Setup): Promise<boolean> {
    const key = sightsKeyOf(setup);
    if (this.nearest.has(key)) return false;
    const sights = setup.stations.map((one) => this.sights.get(keyOf(setup, one)) as Sight);
    this.nearest.put(key, await this.engine.nearest(sights.map(nearnessOf)));
    return true;
  }

  private async use(setup: Setup): Promise<void> {
    const use = useOf(setup);
    if (use === this.useNow) return;
    await this.engine.atHand({
      hiddenBodies: [...setup.away],
      targets: setup.targets ? [...setup.targets] : null,
    });
    this.useNow = use;
  }
}

function useOf(setup: Setup): string {
  return JSON.stringify([setup.away, setup.targets]);
}
function stanceOf(station: Station): string {
  return `${station.at.join()} ${station.up.join()}`;
}
function keyOf(setup: Setup, station: Station): string {
  return `${stanceOf(station)} ${useOf(setup)}`;
}
function sightsKeyOf(setup: Setup): string {
  return setup.stations.map((station) => keyOf(setup, station)).join("\n");
}
function tieKeyOf(ids: readonly number[], marks: ReadonlyMap<number, Marks>): string {
  return JSON.stringify([ids, nestVerdicts(ids, marks)]);
}
/** For each station what it reaches of each feature; true where it takes the feature alone. */
function partsOf(
  ids: readonly number[],
  marks: ReadonlyMap<number, Marks>,
): (Parts | true | null)[][] {
  return ids.map((id) =>
    (marks.get(id)?.features ?? []).map((mark) =>
      mark.verdict === "blocked" ? (mark.parts ?? null) : true,
    ),
  );
}
/** Null while the marks of a station are not known. */
function sharedKeyOf(setup: Setup, marks: ReadonlyMap<number, Marks>): string | null {
  const ids = setup.stations.map((station) => station.id);
  if (!ids.every((id) => (marks.get(id)?.features.length ?? 0) > 0)) return null;
  return JSON.stringify([ids, partsOf(ids, marks)]);
}
function bodyKeyOf(setup: Setup, station: Station): string {
  return `${stanceOf(station)} ${setup.away.join("\n")}`;
}
