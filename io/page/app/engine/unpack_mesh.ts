// The meshes as io/write/page/mesh_pack.cpp packs them (docs/page-engine.md, "The meshes").

import { MeshoptDecoder } from "meshoptimizer/decoder";

import { unpackText } from "./packed_text";
import type { SceneBody } from "./scene_data";

/** Where the meshes go: views of the engine's memory, good until the next await. */
export interface MeshMemory {
  /** Three doubles a vertex. */
  vertices(body: number): Float64Array;
  /** Makes places of a body's vertices where its file's coordinates were filled in. */
  place(body: number): void;
  triangles(body: number): Uint32Array;
  faces(body: number): Uint32Array;
}

/** How one section is coded, and how many bytes it takes. */
type Section = [coding: string, bytes: number];

interface Layout {
  vertices: Section;
  exceptions: number;
  triangles: Section;
  turns: Section;
  faces: number;
}

const newline = 10;

/** Takes one section after the other. */
class Sections {
  private at: number;

  constructor(
    private readonly whole: Uint8Array<ArrayBuffer>,
    from: number,
  ) {
    this.at = from;
  }
  bytes(count: number): Uint8Array<ArrayBuffer> {
    if (this.at + count > this.whole.length) throw new Error("the page's mesh data is cut short");
    this.at += count;
    return this.whole.slice(this.at - count, this.at);
  }
  words(count: number): Uint32Array {
    return new Uint32Array(this.bytes(4 * count).buffer);
  }
  doubles(count: number): Float64Array {
    return new Float64Array(this.bytes(8 * count).buffer);
  }
}

export async function unpackMeshes(
  text: string,
  bodies: SceneBody[],
  memory: MeshMemory,
): Promise<void> {
  const whole = await unpackText(text);
  await MeshoptDecoder.ready;
  const headEnd = whole.indexOf(newline);
  const layouts = JSON.parse(new TextDecoder().decode(whole.subarray(0, headEnd))) as Layout[];
  const sections = new Sections(whole, headEnd + 1);
  bodies.forEach((body, b) => {
    const layout = layouts[b];
    if (layout === undefined) throw new Error(`the page's mesh data holds nothing of ${body.name}`);
    unpackVertices(layout, body.vertices, sections, b, memory);
    unpackTriangles(layout, body.triangles, sections, memory.triangles(b));
    if (layout.faces > 0) memory.faces(b).set(sections.words(layout.faces));
  });
}

function unpackVertices(
  layout: Layout,
  count: number,
  sections: Sections,
  body: number,
  memory: MeshMemory,
): void {
  const [coding, size] = layout.vertices;
  const bytes = sections.bytes(size);
  const vertices = memory.vertices(body);
  if (coding === "float") {
    const floats = new Float32Array(3 * count);
    MeshoptDecoder.decodeVertexBuffer(new Uint8Array(floats.buffer), count, 12, bytes);
    vertices.set(floats);
    memory.place(body);
  } else if (coding === "double") {
    const target = new Uint8Array(vertices.buffer, vertices.byteOffset, vertices.byteLength);
    MeshoptDecoder.decodeVertexBuffer(target, count, 24, bytes);
  } else {
    vertices.set(new Float64Array(bytes.buffer));
  }
  const numbers = sections.words(layout.exceptions);
  const places = sections.doubles(3 * layout.exceptions);
  numbers.forEach((vertex, i) => vertices.set(places.subarray(3 * i, 3 * i + 3), 3 * vertex));
}

function unpackTriangles(
  layout: Layout,
  count: number,
  sections: Sections,
  triangles: Uint32Array,
): void {
  const [coding, size] = layout.triangles;
  const bytes = sections.bytes(size);
  const turns = sections.bytes(layout.turns[1]);
  if (coding !== "mesh") {
    triangles.set(new Uint32Array(bytes.buffer));
    return;
  }
  const target = new Uint8Array(triangles.buffer, triangles.byteOffset, triangles.byteLength);
  MeshoptDecoder.decodeIndexBuffer(target, 3 * count, 4, bytes);
  for (let t = 0; t < count; ++t) {
    const turn = ((turns[t >> 2] ?? 0) >> (2 * (t & 3))) & 3;
    if (turn === 0) continue;
    const corners = [...triangles.subarray(3 * t, 3 * t + 3)];
    for (let c = 0; c < 3; ++c) triangles[3 * t + c] = corners[(c + turn) % 3] ?? 0;
  }
}
