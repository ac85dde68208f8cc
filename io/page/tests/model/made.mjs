// Small invented plans and scenes for the tests.

export function madeFeature(name, verdict, station, target = null, margin = null, more = {}) {
  return { name, required: true, verdict, station, target, margin, uncertainty: null, ...more };
}

export function madePlan(features, stations) {
  return {
    scene: "made",
    units: "mm",
    stations,
    features,
    links: [],
    optimality: { status: "optimal", stations: stations.length, lower_bound: stations.length },
  };
}

export function madeScene(more = {}) {
  return {
    name: "made",
    units: "mm",
    mm_per_unit: 1,
    bodies: [],
    instrument: {
      name: "i",
      beam_diameter: 6,
      beam_growth_rad: 0.0002,
      range: { low: 400, high: 40000 },
      elevation_rad: { low: -1, high: 1.25 },
      body_radius: 160,
      body_above: 180,
      body_below: 320,
    },
    full_targets: [{ name: "ball", radius: 19.05, acceptance_rad: Math.PI / 6 }],
    hole_adapters: [],
    offset_styli: [
      { kind: "mirror", name: "mirror", shank: { tip_radius: 3 } },
      { kind: "two-ball", name: "rod", acceptance_rad: Math.PI / 6, shank: { tip_radius: 3 } },
    ],
    features: [],
    nests: [],
    fixed_stations: [],
    zones: [],
    keep_outs: [],
    walkways: [],
    rules: { tight_margin: 5, stations_per_feature: 1, shared_nests: 3 },
    ...more,
  };
}

export const full = (target = "ball", margin = 10) => ({ verdict: "full-target", target, margin });
export const stylus = (target = "rod", margin = 10) => ({
  verdict: "offset-stylus",
  target,
  margin,
});
export const blocked = () => ({ verdict: "blocked", target: null, margin: null });

/** Numbers from 0 to 1 that a seed repeats (mulberry32). */
export function drawn(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
