import type { Vector3 } from "three";
import { shown } from "../model/shown";
import type { Viewport } from "./viewport";

// Names that stand beside things in the view. They are text over the canvas, set anew after every
// frame; a name that would cover an earlier one is left out.

export interface Label {
  key: string;
  text: string;
  kind: "nest" | "feature" | "blocked" | "scale";
  at: Vector3;
}

export class Labels {
  private readonly elements = new Map<string, HTMLElement>();
  private labels: readonly Label[] = [];

  constructor(
    private readonly layer: HTMLElement,
    private readonly viewport: Viewport,
  ) {
    viewport.onDrawn(() => this.layOut());
  }

  /** Where two would overlap the earlier one is shown. */
  show(labels: readonly Label[]): void {
    this.labels = labels;
    const keys = new Set(labels.map((label) => label.key));
    for (const [key, element] of this.elements) {
      if (keys.has(key)) continue;
      element.remove();
      this.elements.delete(key);
    }
    for (const label of labels) {
      let element = this.elements.get(label.key);
      if (!element) {
        element = document.createElement("span");
        this.layer.append(element);
        this.elements.set(label.key, element);
      }
      element.className = `label ${label.kind}`;
      element.textContent = shown(label.text);
    }
  }

  private layOut(): void {
    const taken: { left: number; top: number; right: number; bottom: number }[] = [];
    for (const label of this.labels) {
      const element = this.elements.get(label.key);
      if (!element) continue;
      const p = this.viewport.toScreen(label.at);
      const [width, height] = [7 * label.text.length + 10, 16];
      const box = p && {
        left: p.x + 9,
        top: p.y - 8,
        right: p.x + 9 + width,
        bottom: p.y - 8 + height,
      };
      const isClear =
        box !== null &&
        p !== null &&
        p.x > 0 &&
        p.y > 0 &&
        p.x < this.viewport.width &&
        p.y < this.viewport.height &&
        !taken.some(
          (t) =>
            box.left < t.right && box.right > t.left && box.top < t.bottom && box.bottom > t.top,
        );
      element.hidden = !isClear;
      if (!isClear || !box) continue;
      taken.push(box);
      element.style.transform = `translate(${box.left.toFixed(1)}px, ${box.top.toFixed(1)}px)`;
    }
  }
}
