import type { Vector3 } from "three";
import type { Stage } from "../view/stage";
import { h } from "./dom";

// A word beside a station that it can be dragged. It goes away with the first drag, or when closed.

export class Hint {
  readonly element: HTMLElement;
  private at: Vector3 | null = null;
  isAside = false; // something else is looked at for the moment

  constructor(private readonly stage: Stage) {
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
      h("p", {}, h("strong", {}, "Drag a station."), " Every beam is traced again as it moves."),
      close,
    );
    this.element.hidden = true;
    stage.onDrawn(() => this.place());
  }

  show(at: Vector3): void {
    this.at = at;
    this.stage.ask();
  }

  done(): void {
    this.at = null;
    this.element.hidden = true;
  }

  private place(): void {
    const p = this.at && !this.isAside && !this.stage.along ? this.stage.toScreen(this.at) : null;
    this.element.hidden = p === null;
    if (!p) return;
    const width = this.element.offsetWidth;
    const height = this.element.offsetHeight;
    // On the side away from the middle, where the part is, if there is room.
    const gap = 58;
    const isOutside = p.x > this.stage.width / 2;
    const fitsRight = p.x + gap + width < this.stage.width;
    const fitsLeft = p.x - gap - width > 0;
    const isLeft = isOutside ? !fitsRight : fitsLeft;
    const x = isLeft ? p.x - width - gap : p.x + gap;
    const left = Math.min(Math.max(8, x), this.stage.width - width - 8);
    const foot = this.stage.width < 500 ? 60 : 8; // there the legend's button lies over the picture
    const top = Math.min(Math.max(60, p.y - height / 2), this.stage.height - height - foot);
    this.element.classList.toggle("points-right", isLeft);
    this.element.style.transform = `translate(${left.toFixed(0)}px, ${top.toFixed(0)}px)`;
  }
}
