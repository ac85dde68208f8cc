import type { Vector3 } from "three";
import { shown } from "../model/shown";
import type { Viewport } from "../view/viewport";
import { h } from "./dom";

// The names of the stations in the view. Each is a button: it can be dragged, chosen, and moved with
// the keys.

export interface Handle {
  id: number;
  name: string;
  at: Vector3; // over the head
  isChosen: boolean;
  isRefused: boolean;
  description: string;
}

export interface HandleActions {
  grab(id: number, event: PointerEvent): void;
  choose(id: number): void;
  /** Shifts seen in the view: right, away, up; mm. */
  nudge(id: number, right: number, away: number, up: number): void;
  settle(): void;
}

const kShift: Record<string, [number, number, number]> = {
  ArrowRight: [1, 0, 0],
  ArrowLeft: [-1, 0, 0],
  ArrowUp: [0, 1, 0],
  ArrowDown: [0, -1, 0],
  PageUp: [0, 0, 1],
  PageDown: [0, 0, -1],
};

export class Handles {
  private readonly buttons = new Map<number, HTMLButtonElement>();
  private handles: readonly Handle[] = [];

  constructor(
    private readonly layer: HTMLElement,
    private readonly viewport: Viewport,
    private readonly actions: HandleActions,
  ) {
    viewport.onDrawn(() => this.layOut());
  }

  show(handles: readonly Handle[]): void {
    this.handles = handles;
    const ids = new Set(handles.map((handle) => handle.id));
    for (const [id, button] of this.buttons) {
      if (ids.has(id)) continue;
      button.remove();
      this.buttons.delete(id);
    }
    for (const handle of handles) {
      const button = this.buttons.get(handle.id) ?? this.make(handle.id);
      button.textContent = shown(handle.name);
      button.setAttribute("aria-label", shown(handle.description));
      button.setAttribute("aria-pressed", String(handle.isChosen));
      button.classList.toggle("refused", handle.isRefused);
    }
  }

  private make(id: number): HTMLButtonElement {
    const button = h("button", { type: "button", class: "handle", "data-station": id });
    button.addEventListener("pointerdown", (event) => this.actions.grab(id, event));
    button.addEventListener("click", () => this.actions.choose(id));
    button.addEventListener("keydown", (event) => {
      const shift = kShift[event.key];
      if (!shift || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      const size = event.shiftKey ? 500 : event.altKey ? 10 : 50;
      this.actions.nudge(id, shift[0] * size, shift[1] * size, shift[2] * size);
    });
    button.addEventListener("keyup", (event) => event.key in kShift && this.actions.settle());
    button.addEventListener("blur", () => this.actions.settle());
    this.layer.append(button);
    this.buttons.set(id, button);
    return button;
  }

  private layOut(): void {
    for (const handle of this.handles) {
      const button = this.buttons.get(handle.id);
      if (!button) continue;
      const p = this.viewport.along ? null : this.viewport.toScreen(handle.at);
      button.hidden = p === null;
      if (p) button.style.transform = `translate(${p.x.toFixed(1)}px, ${p.y.toFixed(1)}px)`;
    }
  }
}
