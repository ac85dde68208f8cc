import { App } from "./app";
import type { PlanData, SceneData } from "./data/wire";
import { startEngine } from "./engine/engine_client";
import { h } from "./ui/dom";
import { stylePage } from "./ui/sheet_door";
import { style } from "./ui/style";

// Starts the live view over the static sheet. Where that cannot be, the sheet stays, with a line
// that says why.

function block(id: string): string {
  const text = document.getElementById(id)?.textContent;
  if (!text) throw new Error(`the page holds no ${id}`);
  return text;
}

function stayWithSheet(why: string): void {
  delete document.documentElement.dataset.view;
  document.getElementById("live")?.remove();
  document.documentElement.dataset.ready = `failed: ${why}`;
  const note = h(
    "p",
    { class: "live-missing", role: "status" },
    `The live view is missing: ${why}. This is the sheet of the plan.`,
  );
  document.body.prepend(note);
}

function words(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.replace(/\.$/, "");
}

async function start(): Promise<void> {
  if (typeof WebAssembly === "undefined") throw new Error("this browser has no WebAssembly");
  const plan = JSON.parse(block("plan-data")) as PlanData;
  const sceneText = block("scene-data");
  const scene = JSON.parse(sceneText) as SceneData;
  const engine = startEngine(sceneText, block("mesh-data"));
  engine.ready.catch(() => undefined); // told below, where it is awaited
  const host = h("div", { id: "live", lang: "en" });
  const root = host.attachShadow({ mode: "open" });
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(style);
  root.adoptedStyleSheets = [sheet];
  stylePage();
  document.documentElement.dataset.view = "live";
  document.body.prepend(host);
  const app = new App(root, plan, scene);
  const geometry = await engine.ready;
  await app.begin(engine, geometry);
  document.documentElement.dataset.ready = "yes";
}

start().catch((error: unknown) => {
  const isWebGl = error instanceof Error && /webgl/i.test(error.message);
  stayWithSheet(isWebGl ? "this browser has no WebGL" : words(error));
});
