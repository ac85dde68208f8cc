// What the app asks of the engine, and what it gets.

import type { Role, Vec3 } from "./scene_data";

export type Verdict = "full-target" | "offset-stylus" | "blocked";

/** A feature or nest as a whole; `margin` in scene units, null where blocked or without bound. */
export interface Mark {
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  /** Of a blocked feature of which some touches are reached: only for `together`. */
  parts?: Parts;
}

/** What one place reaches of a feature that it does not take alone. Its margins are the engine's
 * own; the app only hands it back. */
export type Parts = readonly { target: string; margins: (number | null)[] }[];

/** A feature that several places take together. */
export interface SharedFeature {
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  /** For each touch the number of the place that takes it; null where none does. */
  touches: (number | null)[];
}

/** In the scene's order. */
export interface Marks {
  features: Mark[];
  nests: Mark[];
}

export interface Cause {
  target: string;
  cause: "out-of-range" | "elevation" | "no-fit" | "acceptance" | "beam" | "shank" | "head";
  body: string | null;
  face?: string;
  distance: number | null;
  margin: number | null;
  at: Vec3 | null;
  /** Of this target at the touch. */
  optical_centre: Vec3;
}

export interface SightTouch {
  at: Vec3;
  normal: Vec3;
  /** Of the feature's target where it reaches the touch, else of the touch's own. */
  optical_centre: Vec3;
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  /** Unit vector from a stylus's tip to its mirror or outer ball. */
  direction?: Vec3;
  causes: Cause[];
}

export interface SightFeature {
  name: string;
  required: boolean;
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  way: "surface" | "rim" | "wall" | "adapter";
  touches: SightTouch[];
}

export interface SightNest {
  name: string;
  visible: boolean;
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  direction?: Vec3;
  causes: Cause[];
}

/** The object of `sight --json`, scene units. */
export interface Sight {
  format: "standpoint-sight";
  version: 1;
  scene: string;
  units: string;
  at: Vec3;
  /** The instrument's standing axis; missing where it stands upright. */
  up?: Vec3;
  features: SightFeature[];
  nests: SightNest[];
}

export interface SightWithReasons extends Sight {
  /** For each feature why it is blocked, a sentence for each target; empty where it is reached. */
  reasons: string[][];
}

/** Of a feature in a sight: how many touches are reached, and its margin. */
export type Nearness = readonly [number, number | null];

/** Which stations are tied; each by its number in the list that was asked about. */
export interface StationTies {
  links: { a: number; b: number; nests: number[] }[];
  /** Those not tied to the first; empty where no ties are asked. */
  loose: number[];
  /** Two that share enough nests, but all in one line. `ends`: the two nests that are farthest
   * apart; `off`, scene units: how far off the line through them one more nest must stand. */
  lines: { a: number; b: number; nests: number[]; ends: [number, number]; off: number }[];
}

export interface BodyMesh {
  name: string;
  role: Role;
  /** mm, minus the origin. */
  positions: Float32Array;
  indices: Uint32Array;
}

export interface Geometry {
  triangles: number;
  /** Middle of everything, mm. */
  origin: Vec3;
  bodies: BodyMesh[];
}

export interface AtHand {
  hiddenBodies: string[];
  /** Null: all of them. */
  targets: string[] | null;
}
