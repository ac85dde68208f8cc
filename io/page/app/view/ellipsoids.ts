import {
  BufferGeometry,
  Group,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  SphereGeometry,
  Vector3,
} from "three";
import type { PlanData } from "../data/wire";
import { principal } from "./principal";
import { colour } from "./look";

// The plan's predicted uncertainty of each feature as an ellipsoid (coverage factor 2), enlarged.

/** The largest 1, 2 or 5 times a power of ten that draws the worst half axis no larger than
 * `largest` mm. `worst`: mm. */
export function niceScale(worst: number, largest: number): number {
  if (!(worst > 0)) return 1;
  const wanted = largest / worst;
  const decade = 10 ** Math.floor(Math.log10(wanted));
  const step = [5, 2, 1].find((size) => size * decade <= wanted) ?? 1;
  return step * decade;
}

export class Ellipsoids {
  readonly group = new Group();
  readonly scale: number;
  private readonly sphere: BufferGeometry = new SphereGeometry(1, 24, 16);
  private readonly material = new MeshLambertMaterial({
    color: colour.ellipsoid,
    transparent: true,
    opacity: 0.72,
  });
  private readonly members: { feature: number; mesh: Mesh }[] = [];

  /** `anchors`: of the features. `largest`: mm on the part for the worst half axis. */
  constructor(plan: PlanData, mmPerUnit: number, anchors: readonly Vector3[], largest: number) {
    const worst = Math.max(0, ...plan.features.map((f) => f.uncertainty?.expanded ?? 0));
    this.scale = niceScale(worst * mmPerUnit, largest);
    plan.features.forEach(({ uncertainty }, feature) => {
      const anchor = anchors[feature];
      if (!uncertainty || !anchor) return;
      const { axes, values } = principal(uncertainty.covariance);
      const half = values.map((v) => 2 * Math.sqrt(Math.max(0, v)) * mmPerUnit * this.scale);
      const [x, y, z] = axes.map((axis, i) => new Vector3(...axis).multiplyScalar(half[i] ?? 0));
      if (!x || !y || !z) return;
      const mesh = new Mesh(this.sphere, this.material);
      mesh.matrixAutoUpdate = false;
      mesh.matrix = new Matrix4().makeBasis(x, y, z).setPosition(anchor);
      mesh.renderOrder = 3;
      this.group.add(mesh);
      this.members.push({ feature, mesh });
    });
  }

  /** `holds`: whether the plan's figure still holds for a feature. */
  show(isShown: boolean, holds: (feature: number) => boolean): void {
    this.group.visible = isShown;
    for (const { feature, mesh } of this.members) mesh.visible = holds(feature);
  }
}
