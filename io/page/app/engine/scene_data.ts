// What the page carries of the scene, as io/write/page/page_scene.cpp writes it (mm and rad).

export type Vec3 = [number, number, number];
/** A unit vector. */
export type Direction = readonly [number, number, number];
export type Role = "part" | "fixture" | "surroundings";

export interface SceneBody {
  name: string;
  role: Role;
  vertices: number;
  triangles: number;
  has_faces: boolean;
  face_names: string[];
  /** How its file's coordinates x became places: turn * (mm_per_coordinate * x) + shift. */
  placement: { turn: [Vec3, Vec3, Vec3]; shift: Vec3; mm_per_coordinate: number };
}

/** Only the members that the engine's side reads; the rest is there as planner/standpoint/scene.h has it. */
export interface SceneBodies {
  bodies: SceneBody[];
}
