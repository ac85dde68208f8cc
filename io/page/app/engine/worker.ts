// Runs the engine beside the page, so that the page stays alive while it works.

import { PageEngine } from "./engine";
import type { Answer, Asked, Question, Reply } from "./messages";

interface WorkerScope {
  onmessage: ((event: MessageEvent<Question>) => void) | null;
  postMessage(message: Reply, transfer?: Transferable[]): void;
}
const scope = self as unknown as WorkerScope;

let engine: PageEngine | null = null;

async function answerTo(asked: Asked, transfer: Transferable[]): Promise<Answer> {
  if (asked.kind === "load") {
    const loaded = await PageEngine.load(asked.scene, asked.meshes);
    engine = loaded.engine;
    for (const body of loaded.geometry.bodies)
      transfer.push(body.positions.buffer, body.indices.buffer);
    return loaded.geometry;
  }
  if (engine === null) throw new Error("the engine was asked before it was loaded");
  switch (asked.kind) {
    case "marks":
      return engine.marks(asked.at, asked.up);
    case "sight":
      return engine.sight(asked.at, asked.up);
    case "ties":
      return engine.ties(asked.nests);
    case "together":
      return engine.together(asked.places);
    case "nearest":
      return engine.nearest(asked.places);
    case "canStand":
      return engine.canStand(asked.at, asked.up);
    case "atHand":
      engine.useAtHand(asked.use);
      return null;
  }
}

scope.onmessage = async ({ data }) => {
  const transfer: Transferable[] = [];
  try {
    const answer = await answerTo(data.asked, transfer);
    scope.postMessage({ id: data.id, answer }, transfer);
  } catch (error) {
    scope.postMessage({
      id: data.id,
      failure: error instanceof Error ? error.message : String(error),
    });
  }
};
