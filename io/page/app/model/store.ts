import type { Marks, PlanData, SceneData } from "../data/wire";
import { advance, begin, redo, undo, type History } from "./history";
import type { Units } from "./numbers";
import { wholeList, type Listing } from "./rows";
import { setupOfPlan, type Setup } from "./setup";
import { marksOfPlan, sharedOfPlan } from "./status";
import { tiesOfPlan } from "./ties";
import { Tracer, type Engine } from "./tracer";

// Everything that may change while the page is open, and who is told.

export interface Shown {
  beams: boolean;
  nests: boolean; // and the beams to them
  links: boolean;
  uncertainty: boolean;
  zones: boolean;
  surroundings: boolean;
  sizes: boolean; // dimensions in the straight views
}
export type ShownKey = keyof Shown;

export interface State {
  history: History<Setup>;
  trial: Setup | null; // while a station is being dragged; not yet a step that can be undone
  held: number | null; // id of the station that is being dragged
  feature: number | null; // selected, by index
  station: number | null; // selected, by id
  listing: Listing;
  shown: Shown;
  tab: Tab;
  fault: string | null;
}
export type Tab = "stations" | "features" | "what-if";

export class Store {
  readonly units: Units;
  private readonly listeners: (() => void)[] = [];
  private isTold = false;
  private tracer: Tracer | null = null;
  private nextId: number;
  state: State;

  constructor(
    readonly plan: PlanData,
    readonly scene: SceneData,
  ) {
    this.units = { name: scene.units, mm: scene.mm_per_unit };
    this.nextId = plan.stations.length;
    this.state = {
      history: begin(setupOfPlan(plan)),
      trial: null,
      held: null,
      feature: null,
      station: null,
      listing: wholeList,
      shown: {
        beams: true,
        nests: false,
        links: false,
        uncertainty: false,
        zones: true,
        surroundings: true,
        sizes: true,
      },
      tab: "features",
      fault: null,
    };
  }

  get setup(): Setup {
    return this.state.trial ?? this.state.history.now;
  }

  get isEngineReady(): boolean {
    return this.tracer !== null;
  }

  /** Until it is called the page shows the plan as written. */
  useEngine(engine: Engine): void {
    const tracer = new Tracer(engine, this.units, (fault) => {
      if (fault) this.state = { ...this.state, fault: fault.message };
      this.tell();
    });
    this.plan.stations.forEach((_, id) => tracer.assume(id, this.plannedMarks(id)));
    tracer.assumeTies(tiesOfPlan(this.plan, this.scene));
    tracer.assumeShared(sharedOfPlan(this.plan));
    this.tracer = tracer;
    this.tell();
    this.ask();
  }

  private plannedMarks(id: number): Marks {
    const station = this.plan.stations[id];
    const nests = this.scene.nests.map((nest) => nest.name);
    return station ? marksOfPlan(this.plan, station, nests) : { features: [], nests: [] };
  }

  known(): ReturnType<Tracer["known"]> {
    if (this.tracer) return this.tracer.known(this.setup);
    const marks = new Map(this.plan.stations.map((_, id) => [id, this.plannedMarks(id)]));
    const ties = tiesOfPlan(this.plan, this.scene);
    const shared = sharedOfPlan(this.plan);
    return { marks, ties, shared, sights: [], nearest: null, bodies: new Map(), isTracing: true };
  }

  newId(): number {
    this.nextId += 1;
    return this.nextId - 1;
  }

  listen(listener: () => void): void {
    this.listeners.push(listener);
  }

  update(change: Partial<State>): void {
    this.state = { ...this.state, ...change };
    this.tell();
    this.ask();
  }

  /** A step that can be undone; ends a trial. */
  commit(setup: Setup): void {
    this.update({ history: advance(this.state.history, setup), trial: null, held: null });
  }

  undo(): void {
    this.goTo(undo(this.state.history));
  }
  redo(): void {
    this.goTo(redo(this.state.history));
  }
  private goTo(history: History<Setup>): void {
    const has = (id: number | null) => history.now.stations.some((station) => station.id === id);
    const station = has(this.state.station) ? this.state.station : null;
    this.update({ history, trial: null, held: null, station });
  }

  private ask(): void {
    const { held, station, trial } = this.state;
    // Of an unchanged plan too: why a feature is blocked is to be there when it is chosen.
    this.tracer?.want(this.setup, { first: held ?? station, sights: trial === null });
  }

  /** Listeners hear once a frame at most. */
  private tell(): void {
    if (this.isTold) return;
    this.isTold = true;
    requestAnimationFrame(() => {
      this.isTold = false;
      for (const listener of this.listeners) listener();
    });
  }
}
