import type { Vector3 } from "three";
import type { Viewport } from "../view/viewport";
import { h } from "./dom";

// Says beside a station that it can be dragged. Goes away with the first drag, or when closed.

export class Hint {
  readonly element: HTMLElement;
  private at: Vector3 | null = null;
  isAside = false; // something else is looked at for the moment

  constructor(private readonly viewport: Viewport) {
    const close = h(
      "button",
      {
        type: "button",
        class: "close",
        "aria-label": "Close the hint",
        onclick: () => this.done(),
      },
      "✕",
    );
    this.element = h(
      "div",
      { class: "drag-hint" },
      h(
        "p",
        {},
        h("strong", {}, "Drag a station."),
        h("span", {}, " All beams are checked again as it moves."),
      ),
      close,
    );
    this.element.hidden = true;
    viewport.onDrawn(() => this.layOut());
  }

  show(at: Vector3): void {
    this.at = at;
    this.viewport.ask();
  }

  done(): void {
    this.at = null;
    this.element.hidden = true;
  }

  private layOut(): void {
    const p =
      this.at && !this.isAside && !this.viewport.along ? this.viewport.toScreen(this.at) : null;
    this.element.hidden = p === null;
    if (!p) return;
    const width = this.element.offsetWidth;
    const height = this.element.offsetHeight;
    // On the side away from the middle, where the part is, if there is space.
    const gap = 58;
    const isOutside = p.x > this.viewport.width / 2;
    const fitsRight = p.x + gap + width < this.viewport.width;
    const fitsLeft = p.x - gap - width > 0;
    const isLeft = isOutside ? !fitsRight : fitsLeft;
    const x = isLeft ? p.x - width - gap : p.x + gap;
    const left = Math.min(Math.max(8, x), this.viewport.width - width - 8);
    const foot = this.viewport.width < 500 ? 60 : 8; // there the legend's button lies over the view
    const top = Math.min(Math.max(60, p.y - height / 2), this.viewport.height - height - foot);
    this.element.classList.toggle("points-right", isLeft);
    this.element.style.transform = `translate(${left.toFixed(0)}px, ${top.toFixed(0)}px)`;
  }
}
