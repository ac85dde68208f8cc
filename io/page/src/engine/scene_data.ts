// What the page carries of the scene, as io/page_scene.cpp writes it (mm and rad).

export type Vec3 = [number, number, number];
export type Role = "part" | "fixture" | "surroundings";

export interface SceneBody {
  name: string;
  role: Role;
  vertices: number;
  triangles: number;
  has_faces: boolean;
  face_names: string[];
}

/** Only the members that the engine's side reads; the rest is there as planner/scene.h has it. */
export interface SceneBodies {
  bodies: SceneBody[];
}
