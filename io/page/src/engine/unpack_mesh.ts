// The meshes as io/mesh_pack.cpp packs them.

import type { SceneBody } from "./scene_data";

/** Where the meshes go: views of the engine's memory, good until the next await. */
export interface MeshRoom {
  vertices(body: number): Float64Array;
  triangles(body: number): Uint32Array;
  faces(body: number): Uint32Array;
}

export async function unpackMeshes(text: string, bodies: SceneBody[], room: MeshRoom): Promise<void> {
  const bytes = await inflated(fromBase64(text));
  let at = 0;
  const take = (count: number): ArrayBuffer => {
    if (at + count > bytes.byteLength) throw new Error("the page's mesh data is cut short");
    at += count;
    return bytes.slice(at - count, at);
  };
  bodies.forEach((body, b) => {
    room.vertices(b).set(new Float64Array(take(24 * body.vertices)));
    room.triangles(b).set(new Uint32Array(take(12 * body.triangles)));
    if (body.has_faces) room.faces(b).set(new Uint32Array(take(4 * body.triangles)));
  });
}

function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  const binary = atob(text.trim());
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; ++i) bytes[i] = binary.charCodeAt(i);
  return bytes;
}

async function inflated(bytes: Uint8Array<ArrayBuffer>): Promise<ArrayBuffer> {
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return await new Response(stream).arrayBuffer();
}
