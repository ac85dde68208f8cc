import {
  CircleGeometry,
  CylinderGeometry,
  DoubleSide,
  Group,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  RingGeometry,
  Shape,
  ShapeGeometry,
  SphereGeometry,
  Vector3,
} from "three";
import { colour } from "./look";

// A station: three legs from a hub, a column, a head about the measuring centre, to scale; on the
// floor a disc with four arrows, which says that it can be dragged. An instrument that does not
// stand upright has no legs: its column runs along its standing axis to the plate that it is fixed
// by, and a thin plumb line leads down to the disc.

export interface StandSize {
  radius: number; // of the instrument's body, mm
  above: number;
  below: number;
  disc: number; // radius of the disc on the floor
}
export type StandState = "rest" | "chosen" | "refused";

const kTint: Record<StandState, number> = {
  rest: colour.ink,
  chosen: colour.hand,
  refused: colour.blocked,
};

function rod(from: Vector3, to: Vector3, radius: number, material: MeshLambertMaterial): Mesh {
  const length = from.distanceTo(to);
  const mesh = new Mesh(new CylinderGeometry(radius, radius, length, 12), material);
  mesh.position.copy(from).lerp(to, 0.5);
  mesh.quaternion.setFromUnitVectors(new Vector3(0, 1, 0), to.clone().sub(from).normalize());
  return mesh;
}

function arrow(reach: number): Shape {
  const shape = new Shape();
  shape.moveTo(reach, 0);
  shape.lineTo(reach * 0.62, reach * 0.26);
  shape.lineTo(reach * 0.62, -reach * 0.26);
  return shape;
}

export class Stand {
  readonly group = new Group();
  private readonly stand = new Group();
  private readonly disc = new Group();
  private readonly body = new MeshLambertMaterial({ color: colour.ink });
  private readonly floor = new MeshBasicMaterial({
    color: colour.hand,
    transparent: true,
    opacity: 0.16,
    side: DoubleSide,
    depthWrite: false,
  });
  private readonly arrows = new MeshBasicMaterial({ color: colour.hand, side: DoubleSide });
  private built = "";

  constructor(private readonly size: StandSize) {
    const reach = size.disc;
    this.disc.add(new Mesh(new CircleGeometry(reach, 48), this.floor));
    this.disc.add(new Mesh(new RingGeometry(reach * 0.97, reach * 1.03, 48), this.arrows));
    for (let i = 0; i < 4; i += 1) {
      const mesh = new Mesh(new ShapeGeometry(arrow(reach * 0.9)), this.arrows);
      mesh.rotation.z = (i * Math.PI) / 2;
      this.disc.add(mesh);
    }
    this.disc.children.forEach((child) => (child.renderOrder = 2));
    this.group.add(this.stand, this.disc);
  }

  /** `height`: of the measuring centre over its floor, mm. `up`: unit, the standing axis. */
  show(at: Vector3, up: Vector3, height: number, state: StandState): void {
    const form = `${height} ${up.toArray().join()}`;
    if (form !== this.built) {
      this.clear();
      if (up.x === 0 && up.y === 0 && up.z === 1) this.buildOnLegs(height);
      else this.buildFixed(up, height);
      this.built = form;
    }
    this.group.position.copy(at);
    this.disc.position.set(0, 0, -height + 4);
    this.body.color.set(kTint[state]);
    this.floor.color.set(state === "refused" ? colour.blocked : colour.hand);
    this.floor.opacity = state === "rest" ? 0.16 : 0.3;
    this.arrows.color.copy(this.floor.color);
  }

  private clear(): void {
    this.stand.traverse((child) => child instanceof Mesh && child.geometry.dispose());
    this.stand.clear();
  }

  private buildOnLegs(height: number): void {
    const { radius, below } = this.size;
    const spread = Math.max(radius, 120) * 1.5;
    const neck = -Math.min(below || 200, height * 0.4);
    const hub = new Vector3(0, 0, neck + (-height - neck) * 0.3);
    const column = Math.max(radius, 80) * 0.16;
    this.stand.add(
      rod(new Vector3(0, 0, neck), new Vector3(0, 0, -height * 0.8), column, this.body),
    );
    for (let i = 0; i < 3; i += 1) {
      const angle = Math.PI / 2 + (i * 2 * Math.PI) / 3;
      const foot = new Vector3(Math.cos(angle) * spread, Math.sin(angle) * spread, -height);
      this.stand.add(rod(hub, foot, column * 0.7, this.body));
    }
    this.stand.add(...this.head(neck));
  }

  private buildFixed(up: Vector3, height: number): void {
    const { radius, below } = this.size;
    const foot = -(below || 200);
    const column = Math.max(radius, 80) * 0.16;
    const turned = new Group();
    turned.quaternion.setFromUnitVectors(new Vector3(0, 0, 1), up);
    turned.add(
      ...this.head(foot * 0.6),
      rod(new Vector3(0, 0, foot * 0.6), new Vector3(0, 0, foot), column, this.body),
      rod(new Vector3(0, 0, foot), new Vector3(0, 0, foot * 0.96), Math.max(radius, 80), this.body),
    );
    this.stand.add(turned);
    this.stand.add(rod(new Vector3(0, 0, 0), new Vector3(0, 0, -height), column * 0.15, this.body));
  }

  /** The instrument itself, upright, from its neck up. */
  private head(neck: number): Mesh[] {
    const { radius, above } = this.size;
    const wide = Math.max(radius, 80) * 0.62;
    const head = new Mesh(new SphereGeometry(wide * 0.95, 24, 16), this.body);
    head.scale.set(0.85, 0.85, Math.max(1, (above || 100) / wide / 1.4));
    return [rod(new Vector3(0, 0, neck), new Vector3(0, 0, neck * 0.45), wide, this.body), head];
  }

  dispose(): void {
    this.group.traverse((child) => child instanceof Mesh && child.geometry.dispose());
    for (const material of [this.body, this.floor, this.arrows]) material.dispose();
  }
}
