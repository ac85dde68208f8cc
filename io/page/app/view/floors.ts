import {
  DoubleSide,
  Group,
  Mesh,
  MeshBasicMaterial,
  Path,
  Shape,
  ShapeGeometry,
  Vector3,
} from "three";
import type { SceneData, Vec2 } from "../data/wire";
import { LineBundle } from "./lines";
import { colour } from "./look";

// Zones for the instrument (dotted border), their holes, walkways (tinted, dashed border) and
// keep-outs (crossed out), on their floors.

function outline(polygon: readonly Vec2[], z: number, origin: Vector3): Vector3[] {
  return polygon.flatMap((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    return [new Vector3(a[0], a[1], z).sub(origin), new Vector3(b[0], b[1], z).sub(origin)];
  });
}

/** From each corner to the middle, which says "not here" in any colour. */
function crossed(polygon: readonly Vec2[], z: number, origin: Vector3): Vector3[] {
  const x = polygon.reduce((sum, corner) => sum + corner[0] / polygon.length, 0);
  const y = polygon.reduce((sum, corner) => sum + corner[1] / polygon.length, 0);
  return polygon.flatMap((a) => [
    new Vector3(a[0], a[1], z).sub(origin),
    new Vector3(x, y, z).sub(origin),
  ]);
}

function trace<T extends Path>(path: T, polygon: readonly Vec2[], origin: Vector3): T {
  polygon.forEach(([x, y], i) =>
    i === 0 ? path.moveTo(x - origin.x, y - origin.y) : path.lineTo(x - origin.x, y - origin.y),
  );
  return path;
}

function area(
  polygon: readonly Vec2[],
  z: number,
  origin: Vector3,
  opacity: number,
  holes: readonly (readonly Vec2[])[] = [],
): Mesh {
  const shape = trace(new Shape(), polygon, origin);
  shape.holes = holes.map((hole) => trace(new Path(), hole, origin));
  const material = new MeshBasicMaterial({
    color: colour.hand,
    transparent: true,
    opacity,
    side: DoubleSide,
    depthWrite: false,
  });
  const mesh = new Mesh(new ShapeGeometry(shape), material);
  mesh.position.z = z - origin.z;
  mesh.renderOrder = 2;
  return mesh;
}

export class Floors {
  readonly group = new Group();

  constructor(scene: SceneData, origin: Vector3) {
    const lift = 3; // mm over the floor, so that the floor's own mesh does not shine through
    const zones = new LineBundle({
      color: colour.hand,
      width: 1.3,
      dash: [30, 60],
      opacity: 0.7,
      order: 2,
    });
    zones.show(
      scene.zones.flatMap((zone) =>
        [zone.polygon, ...zone.holes].flatMap((one) => outline(one, zone.floor + lift, origin)),
      ),
    );
    const walks = new LineBundle({
      color: colour.hand,
      width: 1.2,
      dash: [160, 80],
      opacity: 0.7,
      order: 2,
    });
    walks.show(scene.walkways.flatMap((walk) => outline(walk.polygon, walk.floor + lift, origin)));
    const kept = new LineBundle({ color: colour.blocked, width: 1.6, opacity: 0.8, order: 2 });
    // Keep-outs are of every height: they are drawn on the lowest floor that there is.
    const lowest = Math.min(...scene.zones.map((zone) => zone.floor), Infinity);
    const ground = (Number.isFinite(lowest) ? lowest : 0) + lift;
    kept.show(
      scene.keep_outs.flatMap((one) => [
        ...outline(one.polygon, ground, origin),
        ...crossed(one.polygon, ground, origin),
      ]),
    );
    this.group.add(zones.object, walks.object, kept.object);
    for (const zone of scene.zones) {
      this.group.add(area(zone.polygon, zone.floor + lift, origin, 0.045, zone.holes));
    }
    for (const walk of scene.walkways) {
      this.group.add(area(walk.polygon, walk.floor + lift, origin, 0.1));
    }
  }
}
