import {
  BufferAttribute,
  BufferGeometry,
  Color,
  Group,
  Points,
  ShaderMaterial,
  Vector3,
} from "three";
import type { Verdict } from "../data/wire";
import { colour } from "./look";

// Marks of features and nests, of the same size on the screen from any distance. Each is drawn
// twice: faint through everything, and full where nothing hides it. Blocked ones are never hidden.

export type MarkShape = Verdict | "nest";
export interface MarkAt {
  at: Vector3;
  shape: MarkShape;
  isSelected: boolean;
  isFaint: boolean; // not in the list as it is filtered
  isChanged: boolean; // against the plan
}

const shapes: Record<MarkShape, number> = {
  "full-target": 0,
  "offset-stylus": 1,
  blocked: 2,
  nest: 3,
};

const vertex = `
attribute float shape; attribute float selected; attribute float faint; attribute float changed;
uniform float ratio; uniform float lift;
varying float vShape; varying float vSelected; varying float vFaint; varying float vChanged;
void main() {
  vShape = shape; vSelected = selected; vFaint = faint; vChanged = changed;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  // Toward the eye, so that the face it lies on does not cut the mark in two.
  gl_Position.z -= lift * gl_Position.w;
  gl_PointSize = ratio * 32.0;
}`;

// p runs over -16..16 pixels. A shape is a signed distance in pixels.
const fragment = `
uniform float hidden; uniform vec3 full; uniform vec3 stylus; uniform vec3 stylusDark;
uniform vec3 blocked; uniform vec3 ink; uniform vec3 hand;
varying float vShape; varying float vSelected; varying float vFaint; varying float vChanged;
void paint(inout vec4 c, vec3 with, float d) {
  float a = clamp(0.5 - d, 0.0, 1.0);
  c = vec4(mix(c.rgb, with, a), max(c.a, a));
}
void main() {
  vec2 p = (gl_PointCoord - 0.5) * 32.0;
  float s = vSelected > 0.5 ? 1.25 : 1.0;
  vec4 c = vec4(1.0, 1.0, 1.0, 0.0);
  if (vSelected > 0.5) { paint(c, vec3(1.0), abs(length(p) - 12.5) - 2.4); paint(c, ink, abs(length(p) - 12.5) - 1.2); }
  if (vChanged > 0.5) { vec2 q = abs(p); float b = max(q.x, q.y); paint(c, vec3(1.0), abs(b - 9.5) - 1.9); paint(c, hand, abs(b - 9.5) - 1.0); }
  if (vShape < 0.5) {
    float d = length(p) - 4.7 * s;
    paint(c, vec3(1.0), d - 1.2); paint(c, full, d);
  } else if (vShape < 1.5) {
    float d = (abs(p.x) + abs(p.y)) * 0.7071 - 4.6 * s;
    paint(c, vec3(1.0), d - 1.1); paint(c, stylusDark, d); paint(c, stylus, d + 1.2);
    paint(c, vec3(1.0), max(abs(p.y) - 0.9, d + 1.0));
  } else if (vShape < 2.5) {
    vec2 q = vec2(p.x + p.y, p.x - p.y) * 0.7071;
    vec2 a = abs(q);
    float d = max(min(a.x, a.y) - 1.7, max(a.x, a.y) - 8.0 * s);
    paint(c, vec3(1.0), d - 1.6); paint(c, blocked, d);
  } else {
    float r = length(p);
    paint(c, vec3(1.0), r - 6.2); paint(c, ink, abs(r - 4.8) - 0.6); paint(c, ink, r - 1.4);
  }
  float alpha = c.a * (vFaint > 0.5 ? 0.25 : 1.0);
  // The pass that shows through: blocked and selected ones as if nothing were before them.
  if (hidden > 0.5) alpha *= (vShape > 1.5 && vShape < 2.5) || vSelected > 0.5 ? 1.0 : 0.3;
  if (alpha < 0.02) discard;
  gl_FragColor = vec4(c.rgb, alpha);
  #include <colorspace_fragment>
}`;

function material(isHidden: boolean): ShaderMaterial {
  const value = (of: number) => ({ value: new Color(of) });
  return new ShaderMaterial({
    vertexShader: vertex,
    fragmentShader: fragment,
    transparent: true,
    depthTest: !isHidden,
    depthWrite: false,
    uniforms: {
      hidden: { value: isHidden ? 1 : 0 },
      lift: { value: 0.002 },
      ratio: { value: Math.min(devicePixelRatio, 2) },
      full: value(colour.full),
      stylus: value(colour.stylus),
      stylusDark: value(colour.stylusDark),
      blocked: value(colour.blocked),
      ink: value(colour.ink),
      hand: value(colour.hand),
    },
  });
}

export class MarkCloud {
  readonly group = new Group();
  private geometry = new BufferGeometry();
  private readonly passes: Points[];
  marks: readonly MarkAt[] = [];

  constructor() {
    this.passes = [true, false].map((isHidden) => {
      const points = new Points(this.geometry, material(isHidden));
      points.renderOrder = isHidden ? 8 : 9;
      points.frustumCulled = false;
      return points;
    });
    this.group.add(...this.passes);
  }

  show(marks: readonly MarkAt[]): void {
    this.marks = marks;
    this.geometry.dispose();
    this.geometry = new BufferGeometry();
    const column = (of: (mark: MarkAt) => number) =>
      new BufferAttribute(Float32Array.from(marks, of), 1);
    const places = new Float32Array(marks.flatMap(({ at }) => [at.x, at.y, at.z]));
    this.geometry.setAttribute("position", new BufferAttribute(places, 3));
    this.geometry.setAttribute(
      "shape",
      column((mark) => shapes[mark.shape]),
    );
    this.geometry.setAttribute(
      "selected",
      column((mark) => Number(mark.isSelected)),
    );
    this.geometry.setAttribute(
      "faint",
      column((mark) => Number(mark.isFaint)),
    );
    this.geometry.setAttribute(
      "changed",
      column((mark) => Number(mark.isChanged)),
    );
    for (const points of this.passes) points.geometry = this.geometry;
  }
}
