import {
  Color,
  DirectionalLight,
  HemisphereLight,
  OrthographicCamera,
  PerspectiveCamera,
  Scene,
  Spherical,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { framePerspective, frameOf, frameStraight } from "./framing";
import { colour, prefersStill } from "./look";

// Renderer, cameras and views. A frame is drawn only when something asked for it. Coordinates are
// mm less the engine's origin.

export type ViewName = "free" | "top" | "front" | "back" | "left" | "right";

const kBack: Record<ViewName, Vector3> = {
  free: new Vector3(0.42, -0.72, 0.55).normalize(),
  // Not quite straight down: there the direction that is up on the screen would be open.
  top: new Vector3(0, -1e-5, 1).normalize(),
  front: new Vector3(0, -1, 0),
  back: new Vector3(0, 1, 0),
  left: new Vector3(-1, 0, 0),
  right: new Vector3(1, 0, 0),
};
const kFieldOfView = 32; // degrees, of the free view
const kFilled = 0.86; // of the canvas by what is shown
const kFilledStraight = 0.78; // dimensions need more of it
const kStraightDistance = 1e5; // mm; without perspective any that is outside the cell will do
const kUp = new Vector3(0, 0, 1);

export interface LookAlong {
  from: Vector3;
  to: Vector3;
}

export class Viewport {
  readonly scene = new Scene();
  readonly renderer: WebGLRenderer;
  readonly free = new PerspectiveCamera(kFieldOfView, 1, 20, 2e5);
  readonly straight = new OrthographicCamera(-1, 1, 1, -1, 1, 4e5);
  readonly controls: OrbitControls;
  view: ViewName = "free";
  along: LookAlong | null = null;
  width = 1;
  height = 1;
  covered = 0; // pixels at the top that something else covers
  private readonly sun = new DirectionalLight(0xffffff, 1.9);
  private readonly afterDraw: (() => void)[] = [];
  private isAsked = false;
  private halfHeight = 1; // of the straight camera at zoom 1
  private flight = 0;
  private before: { position: Vector3; target: Vector3; view: ViewName } | null = null;

  constructor(readonly canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.scene.background = new Color(colour.ground);
    this.scene.add(new HemisphereLight(0xffffff, 0x8792a0, 1.7), this.sun, this.sun.target);
    this.free.up.copy(kUp);
    this.straight.up.copy(kUp);
    this.controls = new OrbitControls(this.free, canvas);
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", () => this.ask());
    this.controls.addEventListener("start", () => (this.flight += 1));
  }

  get camera(): PerspectiveCamera | OrthographicCamera {
    return this.view === "free" ? this.free : this.straight;
  }

  onDrawn(listener: () => void): void {
    this.afterDraw.push(listener);
  }

  /** The view is to be drawn anew; done in the next frame of the browser. */
  ask(): void {
    if (this.isAsked) return;
    this.isAsked = true;
    requestAnimationFrame(() => {
      this.isAsked = false;
      this.draw();
    });
  }

  draw(): void {
    this.sun.position.copy(this.camera.position);
    this.sun.position.addScaledVector(kUp, this.camera.position.length() * 0.5);
    this.sun.target.position.copy(this.controls.target);
    this.renderer.render(this.scene, this.camera);
    for (const listener of this.afterDraw) listener();
  }

  resize(width: number, height: number): void {
    if (width === 0 || height === 0) return;
    this.width = width;
    this.height = height;
    this.renderer.setSize(width, height, false);
    this.setLens();
    this.ask();
  }

  private setLens(): void {
    const aspect = this.width / this.height;
    this.free.aspect = aspect;
    this.free.updateProjectionMatrix();
    this.straight.top = this.halfHeight;
    this.straight.bottom = -this.halfHeight;
    this.straight.right = this.halfHeight * aspect;
    this.straight.left = -this.halfHeight * aspect;
    this.straight.updateProjectionMatrix();
  }

  /** Shows all of some points, from the side that the view's name says. */
  show(view: ViewName, points: readonly Vector3[], isAtOnce = false): void {
    this.leaveBeam();
    const back =
      view === "free" && this.view === "free" && !isAtOnce ? this.backNow() : kBack[view];
    this.view = view;
    this.controls.object = this.camera;
    this.controls.enableRotate = view === "free";
    const frame = frameOf(back, kUp);
    const aspect = this.width / this.height;
    const seen = Math.max(0.4, (this.height - this.covered) / this.height); // below the bar
    if (view === "free") {
      const half = Math.tan((kFieldOfView * Math.PI) / 360);
      const lens = { x: half * aspect * kFilled, y: half * seen * kFilled };
      const { target, distance } = framePerspective(points, frame, lens);
      target.addScaledVector(frame.top, half * distance * (1 - seen));
      const position = target.clone().addScaledVector(back, distance);
      if (isAtOnce) this.moveCamera(position, target);
      else this.fly(position, target);
      return;
    }
    const { target, halfWidth, halfHeight } = frameStraight(points, frame);
    this.halfHeight = Math.max(halfHeight / seen, halfWidth / aspect) / kFilledStraight;
    target.addScaledVector(frame.top, this.halfHeight * (1 - seen));
    this.straight.zoom = 1;
    this.setLens();
    this.moveCamera(target.clone().addScaledVector(back, kStraightDistance), target);
  }

  private backNow(): Vector3 {
    return this.camera.position.clone().sub(this.controls.target).normalize();
  }

  private moveCamera(position: Vector3, target: Vector3): void {
    this.flight += 1;
    this.camera.position.copy(position);
    this.controls.target.copy(target);
    this.controls.update();
    this.ask();
  }

  /** Moves the free camera there in a short flight, at once where the user wants no motion. */
  private fly(position: Vector3, target: Vector3): void {
    if (prefersStill()) return this.moveCamera(position, target);
    this.flight += 1;
    const flight = this.flight;
    const from = this.free.position.clone();
    const fromTarget = this.controls.target.clone();
    const start = performance.now();
    const advance = () => {
      if (flight !== this.flight) return;
      const t = Math.min(1, (performance.now() - start) / 320);
      const eased = t * t * (3 - 2 * t);
      this.free.position.lerpVectors(from, position, eased);
      this.controls.target.lerpVectors(fromTarget, target, eased);
      this.controls.update();
      this.ask();
      if (t < 1) requestAnimationFrame(advance);
    };
    advance();
  }

  /** The view turns so that a point is in its middle, keeping its distance. */
  centreOn(point: Vector3): void {
    if (this.along) return;
    const shift = point.clone().sub(this.controls.target);
    this.fly(this.camera.position.clone().add(shift), point);
  }

  /** What the instrument would see along a beam: `halfWidth` mm on each side at its end. */
  lookAlong(along: LookAlong, halfWidth: number): void {
    if (!this.along) {
      this.before = {
        position: this.camera.position.clone(),
        target: this.controls.target.clone(),
        view: this.view,
      };
    }
    this.flight += 1;
    this.along = along;
    this.view = "free";
    const distance = along.from.distanceTo(along.to);
    this.free.fov = Math.min(60, (Math.atan(halfWidth / distance) * 360) / Math.PI);
    this.free.near = Math.min(20, distance / 100);
    this.free.position.copy(along.from);
    this.free.up.copy(kUp);
    this.free.lookAt(along.to);
    this.controls.enabled = false;
    this.setLens();
    this.ask();
  }

  leaveBeam(): void {
    if (!this.along) return;
    this.along = null;
    this.free.fov = kFieldOfView;
    this.free.near = 20;
    this.controls.enabled = true;
    if (this.before) {
      this.view = this.before.view;
      this.controls.object = this.camera;
      this.controls.enableRotate = this.view === "free";
      this.setLens();
      this.moveCamera(this.before.position, this.before.target);
    }
    this.before = null;
  }

  /** Keys: nearer (below 1) or farther; along a beam a narrower or wider look. */
  zoomBy(factor: number): void {
    if (this.along) this.free.fov = Math.min(60, Math.max(0.5, this.free.fov * factor));
    else if (this.view !== "free") this.straight.zoom /= factor;
    else {
      const { target } = this.controls;
      this.free.position.sub(target).multiplyScalar(factor).add(target);
    }
    this.free.updateProjectionMatrix();
    this.straight.updateProjectionMatrix();
    this.ask();
  }

  /** Keys: turns the free view about its target, rad. */
  turnBy(round: number, up: number): void {
    if (this.along) return;
    const { target } = this.controls;
    const sphere = new Spherical();
    const back = this.free.position.clone().sub(target);
    // Three's sphere has its pole along y; here the pole is z.
    sphere.setFromVector3(new Vector3(back.x, back.z, -back.y));
    sphere.theta += round;
    sphere.phi = Math.min(Math.PI - 0.05, Math.max(0.05, sphere.phi - up));
    const turned = new Vector3().setFromSpherical(sphere);
    this.moveCamera(new Vector3(turned.x, -turned.z, turned.y).add(target), target.clone());
  }

  /** Keys: shifts the view, pixels. */
  shiftBy(right: number, up: number): void {
    if (this.along) return;
    const { target } = this.controls;
    const size = this.mmPerPixel(target);
    const shift = new Vector3(right * size, up * size, 0).applyQuaternion(this.camera.quaternion);
    this.moveCamera(this.camera.position.clone().add(shift), target.clone().add(shift));
  }

  /** Where a point appears, CSS pixels from the top left; null behind the camera. */
  toScreen(point: Vector3): { x: number; y: number } | null {
    const p = point.clone().project(this.camera);
    if (p.z > 1 || !Number.isFinite(p.x)) return null;
    return { x: ((p.x + 1) / 2) * this.width, y: ((1 - p.y) / 2) * this.height };
  }

  /** Millimetres that one pixel covers at a point. */
  mmPerPixel(point: Vector3): number {
    if (this.view !== "free") return (2 * this.halfHeight) / this.straight.zoom / this.height;
    const distance = this.free.position.distanceTo(point);
    return (2 * distance * Math.tan((this.free.fov * Math.PI) / 360)) / this.height;
  }
}
