import {
  BufferAttribute,
  BufferGeometry,
  EdgesGeometry,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
} from "three";
import type { Role } from "../data/wire";
import { colour } from "./look";

// Part, fixtures and surroundings, told apart by tone, surface and edge: the part plain with dark
// edges, fixtures hatched with dashed edges, surroundings as through frosted glass.

export interface BodyMesh {
  name: string;
  role: string;
  positions: Float32Array; // mm, less the origin
  indices: Uint32Array;
}

/** Beyond this many triangles in all, edges are left out: finding them would hold the page up. */
const kMostEdged = 150_000;

function roleOf(role: string): Role {
  return role === "part" || role === "fixture" ? role : "surroundings";
}

function surface(role: Role): MeshLambertMaterial {
  const material = new MeshLambertMaterial({
    color: colour.body[role],
    flatShading: true,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
  if (role === "surroundings") {
    material.transparent = true;
    material.opacity = 0.2;
    material.depthWrite = false;
  }
  if (role === "fixture") hatch(material);
  return material;
}

/** Slanting lines fixed to the screen, which survive a black-and-white copy. */
function hatch(material: MeshLambertMaterial): void {
  const ratio = Math.min(devicePixelRatio, 2).toFixed(1);
  material.onBeforeCompile = (shader) => {
    shader.fragmentShader = shader.fragmentShader.replace(
      "#include <opaque_fragment>",
      `float hatch = mod((gl_FragCoord.x + gl_FragCoord.y) / ${ratio}, 7.0);
       outgoingLight *= hatch < 1.3 ? 0.80 : 1.0;
       #include <opaque_fragment>`,
    );
  };
}

function edges(role: Role, geometry: BufferGeometry): LineSegments {
  const look = { color: colour.edge[role] };
  const lines = new LineSegments(
    new EdgesGeometry(geometry, 25),
    role === "fixture"
      ? new LineDashedMaterial({ ...look, dashSize: 26, gapSize: 14 })
      : new LineBasicMaterial({ ...look, transparent: true, opacity: role === "part" ? 0.9 : 0.5 }),
  );
  if (role === "fixture") lines.computeLineDistances();
  return lines;
}

export class Bodies {
  readonly group = new Group();
  private readonly members: { name: string; role: Role; object: Group }[] = [];

  constructor(meshes: readonly BodyMesh[]) {
    const triangles = meshes.reduce((sum, mesh) => sum + mesh.indices.length / 3, 0);
    for (const mesh of meshes) {
      const role = roleOf(mesh.role);
      const geometry = new BufferGeometry();
      geometry.setAttribute("position", new BufferAttribute(mesh.positions, 3));
      geometry.setIndex(new BufferAttribute(mesh.indices, 1));
      const object = new Group();
      const solid = new Mesh(geometry, surface(role));
      solid.renderOrder = role === "surroundings" ? 1 : 0;
      object.add(solid);
      if (triangles <= kMostEdged) object.add(edges(role, geometry));
      this.group.add(object);
      this.members.push({ name: mesh.name, role, object });
    }
  }

  show(away: readonly string[], withSurroundings: boolean): void {
    for (const { name, role, object } of this.members) {
      object.visible = !away.includes(name) && (role !== "surroundings" || withSurroundings);
    }
  }
}
