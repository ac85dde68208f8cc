import { Vector3 } from "three";
import type { PlanData, SceneData } from "./data/wire";
import { isMoved, setupOfPlan } from "./model/setup";
import { placeText } from "./model/numbers";
import { outcomeOf, type Outcome } from "./model/outcome";
import { shown } from "./model/shown";
import { Store } from "./model/store";
import type { Engine } from "./model/tracer";
import { FeatureCard } from "./ui/feature_card";
import { FeatureList } from "./ui/feature_list";
import { h } from "./ui/dom";
import { Handles } from "./ui/handles";
import { Headline } from "./ui/headline";
import { Hint } from "./ui/hint";
import { legend } from "./ui/legend";
import { SheetDoor, tellSheet } from "./ui/sheet_door";
import { Shell } from "./ui/shell";
import { StationList } from "./ui/station_list";
import { ExportStations } from "./ui/export_stations";
import { ViewBar } from "./ui/view_bar";
import { WhatIf } from "./ui/what_if";
import { alongBeam } from "./view/along_beam";
import { CellView, type CellGeometry } from "./view/cell_view";
import { Hands } from "./view/hands";
import { Viewport, type ViewName } from "./view/viewport";

// The app: makes the pieces and keeps them in step with the store.

export class App {
  readonly store: Store;
  private readonly viewport: Viewport;
  private readonly shell: Shell;
  private readonly headline: Headline;
  private readonly list: FeatureList;
  private readonly card: FeatureCard;
  private readonly stations: StationList;
  private readonly whatIf: WhatIf;
  private readonly viewBar: ViewBar;
  private readonly exportStations: ExportStations;
  private readonly door: SheetDoor;
  private readonly hint: Hint;
  private view: CellView | null = null;
  private handles: Handles | null = null;
  private outcome: Outcome;
  private isFramed = false; // the first view has been set
  private hasDragged = false;

  /** Throws where the browser has no WebGL. */
  constructor(root: ShadowRoot, plan: PlanData, scene: SceneData) {
    const store = (this.store = new Store(plan, scene));
    this.outcome = outcomeOf(store);
    const backToPlan = () => store.commit(setupOfPlan(plan));
    this.headline = new Headline(store, backToPlan);
    this.list = new FeatureList(store);
    this.card = new FeatureCard(store, () => this.lookAlong());
    this.stations = new StationList(store);
    this.whatIf = new WhatIf(store);
    this.exportStations = new ExportStations(store);
    const features = h("div", {}, this.list.element, this.card.element);
    const contents = { features, stations: this.stations.element, "what-if": this.whatIf.element };
    this.shell = new Shell(store, this.headline.element, contents, {
      exportStations: () => this.exportStations.open(),
      openSheet: () => this.door.showSheet(),
      zoom: (factor) => this.viewport.zoomBy(factor),
      leaveBeam: () => this.leaveBeam(),
    });
    this.viewport = new Viewport(this.shell.canvas);
    this.viewBar = new ViewBar(store, {
      show: (view) => this.showView(view),
      fit: () => this.showView(this.viewport.view),
    });
    this.hint = new Hint(this.viewport);
    this.door = new SheetDoor(this.shell.element, () => this.resize());
    this.shell.viewArea.append(this.viewBar.element, this.hint.element);
    this.shell.foot.append(legend(store));
    root.append(this.shell.element, this.door.bar, this.exportStations.element);
    store.listen(() => this.update());
    addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.resize()).observe(this.shell.viewArea);
    this.update();
  }

  /** The engine stands: from now on everything is live. Resolves after the first frame. */
  begin(engine: Engine, geometry: CellGeometry): Promise<void> {
    const { store, viewport, shell } = this;
    const layers = { labels: shell.labels, sizes: shell.sizes };
    const view = (this.view = new CellView(store, viewport, geometry, layers));
    const hands = new Hands(store, view, shell.canvas, () => this.dragged());
    this.handles = new Handles(shell.handles, viewport, {
      grab: (id, event) => hands.grab(id, event),
      choose: (id) => store.update({ station: id }),
      nudge: (id, right, away, up) => hands.nudge(id, right, away, up),
      settle: () => hands.settle(),
    });
    shell.scale.textContent = view.ellipsoidWords();
    shell.wait.remove();
    this.resize();
    this.frame();
    store.useEngine(engine);
    this.update();
    viewport.draw();
    return new Promise((resolve) => requestAnimationFrame(() => resolve()));
  }

  private frame(): void {
    if (!this.view || this.viewport.width < 2) return;
    this.isFramed = true;
    this.viewport.show("free", this.view.outline(this.outcome.stations), true);
    const station = this.nearestStation();
    if (station && !this.hasDragged) this.hint.show(station);
  }

  /** The foot of the station that is seen lowest: nothing stands before it. */
  private nearestStation(): Vector3 | null {
    const seen = this.outcome.stations.map((station) => {
      const at = this.view?.placed(station.at) ?? new Vector3();
      return at.setZ(this.view?.floorOf(station) ?? 0);
    });
    const y = (at: Vector3) => this.viewport.toScreen(at)?.y ?? 0;
    return seen.reduce<Vector3 | null>((low, at) => (!low || y(at) > y(low) ? at : low), null);
  }

  private dragged(): void {
    this.hasDragged = true;
    this.hint.done();
  }

  private resize(): void {
    const { clientWidth, clientHeight } = this.shell.viewArea;
    if (clientWidth === 0) return;
    this.viewport.covered = this.viewBar.element.offsetHeight + 10;
    this.viewport.resize(clientWidth, clientHeight);
    if (this.view && !this.isFramed) this.frame();
  }

  private showView(view: ViewName): void {
    if (!this.view) return;
    const wasAlong = this.viewport.along !== null;
    this.viewport.show(view, this.view.outline(this.outcome.stations));
    if (wasAlong) this.view.showBeamEnd(null);
    this.update();
  }

  private lookAlong(): void {
    if (!this.view) return;
    const look = alongBeam(this.view, this.outcome);
    if (!look) return;
    this.viewport.lookAlong(look, Math.max(60, look.from.distanceTo(look.to) * 0.03));
    this.shell.beamWords.textContent = shown(look.words);
    this.view.showBeamEnd(look);
    this.update();
  }

  private leaveBeam(): void {
    this.viewport.leaveBeam();
    this.view?.showBeamEnd(null);
    this.update();
    this.shell.canvas.focus();
  }

  private key(event: KeyboardEvent): void {
    if (event.key === "Escape" && this.viewport.along) return this.leaveBeam();
    const [target] = event.composedPath();
    const isTyping = target instanceof HTMLInputElement && target.type !== "checkbox";
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || isTyping) return;
    event.preventDefault();
    if (event.shiftKey) this.store.redo();
    else this.store.undo();
  }

  private update(): void {
    const outcome = (this.outcome = outcomeOf(this.store));
    const { held, feature } = this.store.state;
    // In the straight views it would cover dimensions.
    this.hint.isAside = held !== null || feature !== null || this.viewport.view !== "free";
    this.headline.update(outcome);
    this.list.update(outcome);
    this.card.update(outcome);
    this.stations.update(outcome);
    this.whatIf.update();
    this.viewBar.update(this.viewport.along ? null : this.viewport.view);
    this.shell.update(this.viewport.along !== null);
    tellSheet(this.outcome.isAsPlanned);
    if (!this.view) return;
    this.view.leftOut = this.list.leftOut(outcome);
    this.view.show(outcome);
    this.handles?.show(
      outcome.stations.map((station) => {
        const at = this.view?.placed(station.at) ?? new Vector3();
        at.z += this.store.scene.instrument.body_above + 40;
        const note = outcome.notes.get(station.id);
        return {
          id: station.id,
          name: station.name,
          at,
          isChosen: this.store.state.station === station.id,
          isRefused: Boolean(note?.body),
          description: `Station ${station.name} at ${placeText(this.store.units, station.at)} ${this.store.units.name}${isMoved(station) ? ", moved" : ""}. Arrow keys move it, Page Up and Page Down change its height.`,
        };
      }),
    );
    const { dataset } = document.documentElement;
    dataset.traced = outcome.isTracing ? "no" : "yes";
  }
}
