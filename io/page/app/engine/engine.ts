// The engine's functions, with texts and memory taken care of. Only this file knows them.

import Engine, { type EngineModule } from "engine-module";

import type {
  AtHand,
  Geometry,
  Marks,
  Nearness,
  Parts,
  SharedFeature,
  Sight,
  SightWithReasons,
  StationTies,
  Verdict,
} from "./engine_types";
import type { Direction, SceneBodies, Vec3 } from "./scene_data";
import { unpackMeshes } from "./unpack_mesh";

const upright: Direction = [0, 0, 1];

export class PageEngine {
  private constructor(private readonly module: EngineModule) {}

  /** `sceneText`: the JSON of scene-data. `meshText`: the text of mesh-data. */
  static async load(
    sceneText: string,
    meshText: string,
  ): Promise<{ engine: PageEngine; geometry: Geometry }> {
    const engine = new PageEngine(await Engine());
    const geometry = await engine.takeScene(sceneText, meshText);
    return { engine, geometry };
  }

  /** `at`: measuring centre, mm; `up`: unit, the instrument's standing axis. So below. */
  marks(at: Vec3, up = upright): Marks {
    return JSON.parse(this.text(this.module._engine_marks(...at, ...up))) as Marks;
  }
  sight(at: Vec3, up = upright): SightWithReasons {
    const text = this.text(this.module._engine_sight_with_reasons(...at, ...up));
    const { sight, reasons } = JSON.parse(text) as { sight: Sight; reasons: string[][] };
    return { ...sight, reasons };
  }
  /** The very text that `sight --json` prints. */
  sightText(at: Vec3, up = upright): string {
    return this.text(this.module._engine_sight(...at, ...up));
  }
  ties(nests: readonly Verdict[][]): StationTies {
    return JSON.parse(this.tiesText(nests)) as StationTies;
  }
  tiesText(nests: readonly Verdict[][]): string {
    return this.withText(JSON.stringify(nests), (text) =>
      this.text(this.module._engine_ties(text)),
    );
  }
  together(places: readonly (Parts | true | null)[][]): (SharedFeature | null)[] {
    const json = JSON.stringify(places);
    return JSON.parse(
      this.withText(json, (text) => this.text(this.module._engine_together(text))),
    ) as (SharedFeature | null)[];
  }
  nearest(places: readonly Nearness[][]): (number | null)[] {
    const json = JSON.stringify(places);
    return JSON.parse(
      this.withText(json, (text) => this.text(this.module._engine_nearest(text))),
    ) as (number | null)[];
  }
  canStand(at: Vec3, up = upright): string | null {
    return JSON.parse(this.text(this.module._engine_can_stand(...at, ...up))) as string | null;
  }
  useAtHand(use: AtHand): void {
    this.withText(JSON.stringify(use), (text) => this.check(this.module._engine_use_at_hand(text)));
  }

  private async takeScene(sceneText: string, meshText: string): Promise<Geometry> {
    const scene = JSON.parse(sceneText) as SceneBodies;
    this.withText(sceneText, (text) => this.check(this.module._engine_take_scene(text)));
    await unpackMeshes(meshText, scene.bodies, {
      vertices: (body) =>
        this.doubles(this.module._engine_vertices(body), 3 * size(scene, body, "vertices")),
      place: (body) => this.module._engine_place(body),
      triangles: (body) =>
        this.words(this.module._engine_triangles(body), 3 * size(scene, body, "triangles")),
      faces: (body) => this.words(this.module._engine_faces(body), size(scene, body, "triangles")),
    });
    const geometry = this.geometryOf(scene);
    this.check(this.module._engine_build());
    return geometry;
  }

  /** Copies for drawing: floats about the middle of everything, so that they are fine enough. */
  private geometryOf(scene: SceneBodies): Geometry {
    const vertices = scene.bodies.map((body, b) =>
      this.doubles(this.module._engine_vertices(b), 3 * body.vertices),
    );
    const low: Vec3 = [Infinity, Infinity, Infinity];
    const high: Vec3 = [-Infinity, -Infinity, -Infinity];
    for (const list of vertices) {
      for (let i = 0; i < list.length; i += 3) {
        for (let axis = 0; axis < 3; ++axis) {
          const x = list[i + axis] as number;
          if (x < (low[axis] as number)) low[axis] = x;
          if (x > (high[axis] as number)) high[axis] = x;
        }
      }
    }
    const middle = (axis: 0 | 1 | 2): number =>
      low[axis] <= high[axis] ? (low[axis] + high[axis]) / 2 : 0;
    const origin: Vec3 = [middle(0), middle(1), middle(2)];
    const bodies = scene.bodies.map((body, b) => {
      const list = vertices[b] as Float64Array;
      const positions = new Float32Array(list.length);
      for (let i = 0; i < list.length; ++i)
        positions[i] = (list[i] as number) - (origin[i % 3] as number);
      const indices = this.words(this.module._engine_triangles(b), 3 * body.triangles).slice();
      return { name: body.name, role: body.role, positions, indices };
    });
    const triangles = scene.bodies.reduce((sum, body) => sum + body.triangles, 0);
    return { triangles, origin, bodies };
  }

  // A view is good only until memory grows: it is asked for anew where it is used.
  private doubles(pointer: number, count: number): Float64Array {
    return count === 0
      ? new Float64Array()
      : this.module.HEAPF64.subarray(pointer / 8, pointer / 8 + count);
  }
  private words(pointer: number, count: number): Uint32Array {
    return count === 0
      ? new Uint32Array()
      : this.module.HEAPU32.subarray(pointer / 4, pointer / 4 + count);
  }

  private check(failure: number): void {
    if (failure !== 0) throw new Error(this.module.UTF8ToString(failure));
  }
  private text(pointer: number): string {
    const text = this.module.UTF8ToString(pointer);
    if (text.startsWith("!")) throw new Error(text.slice(1));
    return text;
  }
  private withText<T>(text: string, use: (pointer: number) => T): T {
    const bytes = this.module.lengthBytesUTF8(text) + 1;
    const pointer = this.module._malloc(bytes);
    if (pointer === 0)
      throw new Error("the browser gives the page too little memory for this scene");
    this.module.stringToUTF8(text, pointer, bytes);
    try {
      return use(pointer);
    } finally {
      this.module._free(pointer);
    }
  }
}

function size(scene: SceneBodies, body: number, of: "vertices" | "triangles"): number {
  return scene.bodies[body]?.[of] ?? 0;
}
