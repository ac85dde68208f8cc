import type { Store } from "../model/store";
import { putAtHand, takeAway } from "../model/setup";
import type { SceneData } from "../data/wire";
import { h } from "./dom";
import { bodySample } from "./symbols";

// What if a fixture were elsewhere, or a target not available?

export class WhatIf {
  readonly element: HTMLElement;
  private readonly bodies = new Map<string, HTMLInputElement>();
  private readonly targets = new Map<string, HTMLInputElement>();

  constructor(private readonly store: Store) {
    const { scene } = store;
    const movable = scene.bodies.filter((body) => body.role !== "part");
    const bodies = movable.map((body) => {
      const box = h("input", {
        type: "checkbox",
        onchange: () => store.commit(takeAway(store.setup, body.name, !box.checked)),
      });
      this.bodies.set(body.name, box);
      return h("li", {}, h("label", {}, box, bodySample(body.role), h("span", {}, body.name)));
    });
    const all = [...scene.full_targets, ...scene.hole_adapters, ...scene.offset_styli].map(
      (target) => target.name,
    );
    const targets = all.map((name) => {
      const box = h("input", {
        type: "checkbox",
        onchange: () => store.commit(putAtHand(store.setup, all, name, box.checked)),
      });
      this.targets.set(name, box);
      return h(
        "li",
        {},
        h("label", {}, box, h("span", {}, name), h("small", {}, targetWords(scene, name))),
      );
    });
    this.element = h(
      "div",
      { class: "what-if" },
      h("h2", {}, "Available targets"),
      h("p", { class: "hint" }, "Untick a target that you will not have."),
      h("ul", { class: "ticks" }, ...targets),
      h("h2", {}, "Bodies in the cell"),
      h("p", { class: "hint" }, "Untick a body that could be moved away."),
      bodies.length > 0
        ? h("ul", { class: "ticks" }, ...bodies)
        : h("p", {}, "There is none but the part."),
    );
  }

  update(): void {
    const { away, targets } = this.store.setup;
    for (const [name, box] of this.bodies) box.checked = !away.includes(name);
    for (const [name, box] of this.targets) {
      box.checked = targets === null || targets.includes(name);
      // The last one stays: without any target there is nothing to see.
      box.disabled = box.checked && targets?.length === 1;
    }
  }
}

/** What a target is, in our word and the trade's. */
function targetWords(scene: SceneData, name: string): string {
  const stylus = scene.offset_styli.find((one) => one.name === name);
  if (scene.hole_adapters.some((one) => one.name === name))
    return "hole adapter with its full target";
  if (!stylus) return "full target (SMR)";
  return `offset stylus (${stylus.kind === "mirror" ? "mirror probe" : "hidden-point rod"})`;
}
