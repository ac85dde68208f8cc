// The engine as the app calls it: one worker, started from text, since a page from disk can load
// no second file.

import workerText from "worker-text";

import type {
  AtHand,
  Geometry,
  Marks,
  Nearness,
  Parts,
  SharedFeature,
  SightWithReasons,
  StationTies,
  Verdict,
} from "./engine_types";
import type { Answer, Asked, Reply } from "./messages";
import type { Direction, Vec3 } from "./scene_data";

export interface EngineClient {
  /** Rejects with an Error in words. */
  ready: Promise<Geometry>;
  /** Fast, for dragging. `at`: mm; `up`: unit, the instrument's standing axis, upright where it is
   * left out. So below. A newer call makes one that has not begun resolve null. */
  marks(at: Vec3, up?: Direction): Promise<Marks | null>;
  /** With touches and causes. */
  sight(at: Vec3, up?: Direction): Promise<SightWithReasons>;
  /** Which stations are tied, from the verdicts of their nests; a list for each. */
  ties(nests: readonly Verdict[][]): Promise<StationTies>;
  /** For each feature what several places take of it together, else null. Each place tells its
   * features' parts, or true of a feature that it takes alone. */
  together(places: readonly (Parts | true | null)[][]): Promise<(SharedFeature | null)[]>;
  /** For each feature the place from which it comes nearest to being reached; null of no places. */
  nearest(places: readonly Nearness[][]): Promise<(number | null)[]>;
  /** The name of the body that the instrument's cylinder would cut, else null. */
  canStand(at: Vec3, up?: Direction): Promise<string | null>;
  /** What-if: answers asked after this one hold for these bodies and targets. */
  atHand(use: AtHand): Promise<void>;
}

interface Waiting {
  resolve(answer: Answer): void;
  reject(error: Error): void;
}

/** `sceneText` and `meshText`: the page's blocks scene-data and mesh-data. */
export function startEngine(sceneText: string, meshText: string): EngineClient {
  const url = URL.createObjectURL(new Blob([workerText], { type: "text/javascript" }));
  const worker = new Worker(url);
  const waiting = new Map<number, Waiting>();
  let asked = 0;

  const ask = (question: Asked): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const id = asked++;
      waiting.set(id, { resolve, reject });
      worker.postMessage({ id, asked: question });
    });
  worker.onmessage = ({ data }: MessageEvent<Reply>) => {
    const who = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.failure !== undefined) who?.reject(new Error(data.failure));
    else who?.resolve(data.answer ?? null);
  };
  worker.onerror = (event) => {
    event.preventDefault();
    const error = new Error(`the engine stopped: ${event.message || "it could not be started"}`);
    for (const who of waiting.values()) who.reject(error);
    waiting.clear();
  };

  const ready = ask({ kind: "load", scene: sceneText, meshes: meshText }) as Promise<Geometry>;
  ready.then(
    () => URL.revokeObjectURL(url),
    () => URL.revokeObjectURL(url),
  );
  return {
    ready,
    marks: latestOnly((at, up) => ask({ kind: "marks", at, up }) as Promise<Marks>),
    sight: (at, up) => ask({ kind: "sight", at, up }) as Promise<SightWithReasons>,
    ties: (nests) => ask({ kind: "ties", nests }) as Promise<StationTies>,
    together: (places) => ask({ kind: "together", places }) as Promise<(SharedFeature | null)[]>,
    nearest: (places) => ask({ kind: "nearest", places }) as Promise<(number | null)[]>,
    canStand: (at, up) => ask({ kind: "canStand", at, up }) as Promise<string | null>,
    atHand: async (use) => {
      await ask({ kind: "atHand", use });
    },
  };
}

/** One question under way, and the newest that waits for it; those between resolve null. */
function latestOnly<T>(
  ask: (at: Vec3, up?: Direction) => Promise<T>,
): (at: Vec3, up?: Direction) => Promise<T | null> {
  let isBusy = false;
  let next: {
    at: Vec3;
    up: Direction | undefined;
    settle: (answer: Promise<T> | null) => void;
  } | null = null;

  const start = (at: Vec3, up: Direction | undefined): Promise<T> => {
    isBusy = true;
    const answer = ask(at, up);
    const proceed = (): void => {
      isBusy = false;
      const following = next;
      next = null;
      if (following !== null) following.settle(start(following.at, following.up));
    };
    answer.then(proceed, proceed);
    return answer;
  };
  return (at, up) => {
    if (!isBusy) return start(at, up);
    next?.settle(null);
    return new Promise<T | null>((resolve) => {
      next = { at, up, settle: resolve };
    });
  };
}
