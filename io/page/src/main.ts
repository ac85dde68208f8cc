// Starts the page's app.

import { startEngine } from "./engine/engine_client";

function textOf(id: string): string {
  const text = document.getElementById(id)?.textContent;
  if (text === null || text === undefined) throw new Error(`the page holds no ${id}`);
  return text;
}

async function start(): Promise<void> {
  const engine = startEngine(textOf("scene-data"), textOf("mesh-data"));
  await engine.ready;
}

start().then(
  () => {
    document.documentElement.dataset.ready = "yes";
  },
  (error: unknown) => {
    const why = error instanceof Error ? error.message : String(error);
    document.documentElement.dataset.ready = `failed: ${why}`;
  },
);
