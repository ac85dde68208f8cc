// Colours of the view. Verdicts have the palette of Okabe and Ito ("Color Universal Design", 2008);
// shape, pattern and word say the same.
export const colour = {
  ground: 0xf4f6f8,
  ink: 0x16181b,
  full: 0x009e73,
  stylus: 0xe69f00,
  stylusDark: 0x8a5f00,
  blocked: 0xd55e00,
  hand: 0x0072b2,
  tie: 0x767c84,
  ellipsoid: 0xa0487c,
  body: { part: 0xb4c0cc, fixture: 0xe6dfcf, surroundings: 0xd9dfe4 },
  edge: { part: 0x3c4045, fixture: 0x7d745f, surroundings: 0xa9afb6 },
} as const;

export function prefersStill(): boolean {
  return matchMedia("(prefers-reduced-motion: reduce)").matches;
}
