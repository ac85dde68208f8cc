// What the page carries: plan.json's object (scene units, degrees) and the scene as the program
// holds it (mm, rad; planner/standpoint/scene.h member for member). Both were written by the program, which
// validated the scene; here only what the app uses is named.

export type Vec3 = readonly [number, number, number];
export type Vec2 = readonly [number, number];
export type Verdict = "full-target" | "offset-stylus" | "blocked";
export type CauseKind =
  "out-of-range" | "elevation" | "no-fit" | "acceptance" | "beam" | "shank" | "head";

/** Why one target does not reach one touch; lengths and `at` in scene units. */
export interface Cause {
  target: string;
  cause: CauseKind;
  body: string | null;
  face?: string;
  distance: number | null;
  margin: number | null;
  at: Vec3 | null;
  optical_centre: Vec3; // of this target at the touch
}

export interface Touch {
  at: Vec3;
  normal?: Vec3;
  optical_centre?: Vec3; // of the feature's target where it reaches, else of the touch's own
  verdict: Verdict;
  target?: string | null;
  margin: number | null;
  station?: string | null; // of a feature that several stations take together
  causes?: Cause[];
}

export interface Uncertainty {
  covariance: [Vec3, Vec3, Vec3];
  expanded: number;
}

export interface PlanFeature {
  name: string;
  required: boolean;
  verdict: Verdict;
  station: string | null;
  stations?: string[]; // that take it together
  also_from?: string[];
  target: string | null;
  margin: number | null;
  uncertainty: Uncertainty | null;
  tolerance?: number | null;
  ratio?: number | null;
  touches?: Touch[];
  nearest_miss?: { at: Vec3 | null; up?: Vec3; touches: Touch[] };
}

export interface PlanStation {
  name: string;
  at: Vec3;
  up?: Vec3; // the instrument's standing axis; missing where it stands upright
  zone: string | null;
  nests: string[];
}

export interface PlanData {
  scene: string;
  units: string;
  stations: PlanStation[];
  features: PlanFeature[];
  alignment?: { features: string[] }; // that hold the part's frame
  links: { stations: string[]; nests: string[] }[];
  optimality: { status: string; stations: number; lower_bound: number };
}

/** The object of `sight --json`, scene units; and what the engine says of it. */
export interface Sight {
  at: Vec3;
  up?: Vec3; // missing where the instrument stands upright
  features: {
    name: string;
    verdict: Verdict;
    target: string | null;
    margin: number | null;
    touches: Touch[];
  }[];
  nests: { name: string; visible: boolean; verdict: Verdict; target: string | null }[];
  reasons: string[][]; // for each feature why it is blocked, a sentence for each target
}

/** What one station sees, in the scene's order; margins in scene units. */
export interface Mark {
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  parts?: Parts; // of a blocked feature: what it reaches of it; the engine's own
}
export type Parts = readonly { target: string; margins: (number | null)[] }[];

/** A feature that several stations take together: for each touch the one that takes it. */
export interface Shared {
  verdict: Verdict;
  target: string | null;
  margin: number | null;
  touches: (number | null)[];
}
export interface Marks {
  features: Mark[];
  nests: Mark[];
}

export type Role = "part" | "fixture" | "surroundings";

export interface Interval {
  low: number;
  high: number;
}

export interface SceneFeature {
  name: string;
  type: "point" | "plane" | "hole" | "cylinder" | "sphere" | "line" | "cone" | "slot" | "surface";
  at?: Vec3;
  points?: Vec3[];
  from?: Vec3;
  to?: Vec3;
  touches?: { at: Vec3; normal: Vec3 }[];
  centre?: Vec3;
  toward?: Vec3;
  normal?: Vec3;
  axis?: Vec3;
  radius?: number;
  tolerance: number | null;
  required: boolean;
}

export interface Zone {
  name: string;
  floor: number;
  polygon: Vec2[];
  holes: Vec2[][];
  heights: number[];
  instrument_ups: Vec3[]; // unit
}

/** mm and rad. */
export interface SceneData {
  name: string;
  units: string;
  mm_per_unit: number;
  bodies: { name: string; role: Role }[];
  instrument: {
    name: string;
    beam_diameter: number;
    beam_growth_rad: number;
    range: Interval;
    elevation_rad: Interval;
    body_radius: number;
    body_above: number;
    body_below: number;
  };
  full_targets: { name: string; radius: number; acceptance_rad: number }[];
  hole_adapters: { name: string; ball: number; height: number }[];
  offset_styli: {
    kind: "mirror" | "two-ball";
    name: string;
    acceptance_rad?: number;
    shank: { tip_radius: number };
  }[];
  features: SceneFeature[];
  nests: { name: string; at: Vec3 }[];
  fixed_stations: {
    name: string;
    at: Vec3;
    keep: boolean;
    cost: number;
    instrument_ups: Vec3[];
  }[];
  zones: Zone[];
  keep_outs: { name: string; polygon: Vec2[] }[];
  walkways: { name: string; floor: number; polygon: Vec2[] }[];
  rules: {
    tight_margin: number;
    stations_per_feature: number;
    shared_nests: number;
  };
}
