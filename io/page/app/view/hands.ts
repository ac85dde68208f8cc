import { Vector3 } from "three";
import type { Vec3 } from "../data/wire";
import { fromMm, roundTo } from "../model/numbers";
import { moveStation, type Station } from "../model/setup";
import type { Store } from "../model/store";
import type { CellView } from "./cell_view";
import { placeAt, takeHold, type Grip } from "./dragging";

// What pointer and keys do in the view: drag stations, choose features and stations.

const kGrid = 10; // mm that a dragged station moves by: nobody sets a stand down more exactly
const kClick = 5; // pixels that a click may wander

export class Hands {
  private grip: { id: number; grip: Grip } | null = null;
  private pressed: { x: number; y: number } | null = null;

  constructor(
    private readonly store: Store,
    private readonly view: CellView,
    private readonly canvas: HTMLCanvasElement,
    private readonly dragged: () => void,
  ) {
    canvas.addEventListener("pointerdown", (event) => this.press(event), { capture: true });
    canvas.addEventListener("pointermove", (event) => this.hover(event));
    canvas.addEventListener("pointerup", (event) => this.release(event));
    canvas.addEventListener("pointerleave", () => this.setHovered(null));
    canvas.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    canvas.addEventListener("keydown", (event) => this.key(event));
  }

  private pixelOf(event: PointerEvent): { x: number; y: number } {
    const box = this.canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  private press(event: PointerEvent): void {
    if (event.button !== 0 || !event.isPrimary) return;
    const p = this.pixelOf(event);
    this.pressed = p;
    const station = this.stationNear(p, event.pointerType === "touch" ? 26 : 16);
    if (!station) return;
    event.stopImmediatePropagation();
    this.grab(station.id, event);
  }

  /** Follows the pointer until it is released. */
  grab(id: number, event: PointerEvent): void {
    const station = this.store.setup.stations.find((one) => one.id === id);
    if (!station || event.button !== 0 || this.view.viewport.along) return;
    const p = this.pixelOf(event);
    const grip = takeHold(this.view.viewport, p.x, p.y, this.view.placed(station.at));
    if (!grip) return;
    this.grip = { id, grip };
    this.pressed = null;
    this.view.viewport.controls.enabled = false;
    this.store.update({ station: id, held: id });
    const pointer = event.pointerId;
    const move = (next: PointerEvent) => next.pointerId === pointer && this.drag(next);
    const end = (next: PointerEvent) => {
      if (next.pointerId !== pointer) return;
      removeEventListener("pointermove", move);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
      this.letGo(next.type === "pointercancel");
    };
    addEventListener("pointermove", move);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  }

  private drag(event: PointerEvent): void {
    if (!this.grip) return;
    const p = this.pixelOf(event);
    const to = placeAt(this.view.viewport, this.grip.grip, p.x, p.y);
    if (to) this.tryAt(this.grip.id, to);
  }

  private letGo(isCancelled: boolean): void {
    this.grip = null;
    this.view.viewport.controls.enabled = true;
    const { trial } = this.store.state;
    if (trial && !isCancelled) this.store.commit(trial);
    else this.store.update({ trial: null, held: null });
    if (trial) this.dragged();
  }

  private tryAt(id: number, to: Vector3): void {
    const { units, setup } = this.store;
    const station = setup.stations.find((one) => one.id === id);
    if (!station) return;
    const at = fromMm(units, this.view.sceneMm(to));
    // Its height is not touched: it may have been typed finer than the grid.
    const next: Vec3 = [roundTo(units, at[0], kGrid), roundTo(units, at[1], kGrid), station.at[2]];
    this.store.update({ trial: moveStation(setup, id, next), held: id });
  }

  /** Shifts along the axes that lie nearest to the view's right and away; mm. */
  nudge(id: number, right: number, away: number, up: number): void {
    const { units, setup } = this.store;
    const station = setup.stations.find((one) => one.id === id);
    if (!station) return;
    const side = new Vector3(1, 0, 0).applyQuaternion(this.view.viewport.camera.quaternion);
    const isAlongX = Math.abs(side.x) >= Math.abs(side.y);
    const sign = Math.sign(isAlongX ? side.x : side.y) || 1;
    const dx = isAlongX ? sign * right : -sign * away;
    const dy = isAlongX ? sign * away : sign * right;
    const next: Vec3 = [
      roundTo(units, station.at[0] + dx / units.mm, 1),
      roundTo(units, station.at[1] + dy / units.mm, 1),
      roundTo(units, station.at[2] + up / units.mm, 1),
    ];
    this.store.update({ trial: moveStation(setup, id, next), held: id, station: id });
  }

  /** The keys were let go: what they did is one step. */
  settle(): void {
    const { trial } = this.store.state;
    if (!trial || this.grip) return;
    this.store.commit(trial);
    this.dragged();
  }

  private release(event: PointerEvent): void {
    const p = this.pixelOf(event);
    const { pressed } = this;
    this.pressed = null;
    if (!pressed || Math.hypot(p.x - pressed.x, p.y - pressed.y) > kClick) return;
    const feature = this.featureNear(p, event.pointerType === "touch" ? 24 : 14);
    this.store.update(
      feature === null ? { feature: null, station: null } : { feature, tab: "features" },
    );
  }

  private hover(event: PointerEvent): void {
    if (event.buttons !== 0 || event.pointerType === "touch") return;
    const p = this.pixelOf(event);
    const feature = this.featureNear(p, 12);
    const isOnStation = this.stationNear(p, 16) !== null;
    this.canvas.style.cursor = isOnStation ? "grab" : feature !== null ? "pointer" : "";
    this.setHovered(feature);
  }

  private setHovered(feature: number | null): void {
    if (this.view.hovered === feature) return;
    this.view.hovered = feature;
    this.store.update({});
  }

  private featureNear(p: { x: number; y: number }, reach: number): number | null {
    let best: { index: number; distance: number } | null = null;
    this.view.anchors.forEach((anchor, index) => {
      const seen = this.view.viewport.toScreen(anchor);
      const distance = seen ? Math.hypot(seen.x - p.x, seen.y - p.y) : Infinity;
      if (distance < reach && (!best || distance < best.distance)) best = { index, distance };
    });
    return best === null ? null : (best as { index: number }).index;
  }

  /** By the column from head to floor, as it appears, and the disc on the floor. */
  private stationNear(p: { x: number; y: number }, reach: number): Station | null {
    const { viewport } = this.view;
    if (viewport.along) return null;
    for (const station of this.store.setup.stations) {
      const at = this.view.placed(station.at);
      const head = viewport.toScreen(at);
      const floor = this.view.floorOf(station);
      const foot = viewport.toScreen(new Vector3(at.x, at.y, floor));
      if (!head || !foot) continue;
      if (distanceToSegment(p, head, foot) < reach) return station;
      const disc = (this.view.discRadius() / viewport.mmPerPixel(at)) * 0.9;
      const flat = viewport.view === "top" ? 1 : 0.5;
      if (Math.hypot(p.x - foot.x, (p.y - foot.y) / flat) < disc) return station;
    }
    return null;
  }

  /** Along a beam the wheel narrows and widens the look; else it is the controls'. */
  private wheel(event: WheelEvent): void {
    if (!this.view.viewport.along) return;
    event.preventDefault();
    this.view.viewport.zoomBy(Math.exp(Math.max(-0.4, Math.min(0.4, event.deltaY * 0.002))));
  }

  private key(event: KeyboardEvent): void {
    const { viewport } = this.view;
    const zoom =
      event.key === "+" || event.key === "=" ? 0.85 : event.key === "-" ? 1 / 0.85 : null;
    if (zoom !== null) viewport.zoomBy(zoom);
    else if (event.key in kTurn && !event.ctrlKey && !event.metaKey) {
      const [x, y] = kTurn[event.key] as [number, number];
      if (event.shiftKey || viewport.view !== "free") viewport.shiftBy(x * 40, y * 40);
      else viewport.turnBy(x * 0.12, y * 0.1);
    } else return;
    event.preventDefault();
  }
}

const kTurn: Record<string, [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

interface Point {
  x: number;
  y: number;
}
function distanceToSegment(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length = dx * dx + dy * dy;
  const t = length > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length : 0;
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(p.x - a.x - s * dx, p.y - a.y - s * dy);
}
