import { Vector3 } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";

// Bundles of straight lines of one look, some pixels wide at any distance.

export interface LineLook {
  color: number;
  width: number; // pixels
  dash?: [number, number]; // mm: line, gap
  opacity?: number;
  isAlwaysSeen?: boolean; // nothing hides it
  order?: number;
}

export class LineBundle {
  readonly object: LineSegments2;
  private readonly material: LineMaterial;
  private readonly opacity: number;

  constructor(look: LineLook) {
    this.opacity = look.opacity ?? 1;
    this.material = new LineMaterial({
      color: look.color,
      linewidth: look.width,
      transparent: true,
      opacity: this.opacity,
      dashed: look.dash !== undefined,
      depthTest: !look.isAlwaysSeen,
      depthWrite: false,
    });
    if (look.dash) [this.material.dashSize, this.material.gapSize] = look.dash;
    this.object = new LineSegments2(new LineSegmentsGeometry(), this.material);
    this.object.frustumCulled = false;
    this.object.visible = false;
    this.object.renderOrder = look.order ?? 4;
  }

  /** `ends`: two for each line. `strength`: 1 as its look says, less is fainter. */
  show(ends: readonly Vector3[], strength = 1): void {
    this.object.visible = ends.length > 0;
    if (ends.length === 0) return;
    this.object.geometry.dispose();
    this.object.geometry = new LineSegmentsGeometry();
    this.object.geometry.setPositions(ends.flatMap((p) => [p.x, p.y, p.z]));
    if (this.material.dashed) this.object.computeLineDistances();
    this.material.opacity = this.opacity * strength;
  }
}
