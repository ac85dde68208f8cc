import { DoubleSide, Group, Mesh, MeshBasicMaterial, Shape, ShapeGeometry, Vector3 } from "three";
import type { SceneData, Vec2 } from "../data/wire";
import { LineBundle } from "./lines";
import { colour } from "./look";

// Zones for the instrument (dotted border) and walkways (tinted, dashed border), on their floors.

function outline(polygon: readonly Vec2[], z: number, origin: Vector3): Vector3[] {
  return polygon.flatMap((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    return [new Vector3(a[0], a[1], z).sub(origin), new Vector3(b[0], b[1], z).sub(origin)];
  });
}

function area(polygon: readonly Vec2[], z: number, origin: Vector3, opacity: number): Mesh {
  const shape = new Shape();
  polygon.forEach(([x, y], i) =>
    i === 0 ? shape.moveTo(x - origin.x, y - origin.y) : shape.lineTo(x - origin.x, y - origin.y),
  );
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
    zones.show(scene.zones.flatMap((zone) => outline(zone.polygon, zone.floor + lift, origin)));
    const walks = new LineBundle({
      color: colour.hand,
      width: 1.2,
      dash: [160, 80],
      opacity: 0.7,
      order: 2,
    });
    walks.show(scene.walkways.flatMap((walk) => outline(walk.polygon, walk.floor + lift, origin)));
    this.group.add(zones.object, walks.object);
    for (const zone of scene.zones) {
      this.group.add(area(zone.polygon, zone.floor + lift, origin, 0.045));
    }
    for (const walk of scene.walkways) {
      this.group.add(area(walk.polygon, walk.floor + lift, origin, 0.1));
    }
  }
}
