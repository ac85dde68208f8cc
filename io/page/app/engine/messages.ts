// What goes between the page and its worker.

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
import type { Direction, Vec3 } from "./scene_data";

export type Asked =
  | { kind: "load"; scene: string; meshes: string }
  | { kind: "marks"; at: Vec3; up: Direction | undefined }
  | { kind: "sight"; at: Vec3; up: Direction | undefined }
  | { kind: "ties"; nests: readonly Verdict[][] }
  | { kind: "together"; places: readonly (Parts | true | null)[][] }
  | { kind: "nearest"; places: readonly Nearness[][] }
  | { kind: "canStand"; at: Vec3; up: Direction | undefined }
  | { kind: "atHand"; use: AtHand };

export type Answer =
  | Geometry
  | Marks
  | SightWithReasons
  | StationTies
  | (SharedFeature | null)[]
  | (number | null)[]
  | string
  | null;

export interface Question {
  id: number;
  asked: Asked;
}

/** `answer` where it went well, else `failure`, in words. */
export interface Reply {
  id: number;
  answer?: Answer;
  failure?: string;
}
