// The engine as Emscripten links it (engine/engine.cpp says what its functions do).

declare module "engine-module" {
  /** The measuring centre, mm, then the unit vector of the instrument's standing axis. */
  type Stance = [x: number, y: number, z: number, upX: number, upY: number, upZ: number];
  export interface EngineModule {
    HEAPF64: Float64Array;
    HEAPU32: Uint32Array;
    UTF8ToString(pointer: number): string;
    stringToUTF8(text: string, pointer: number, bytes: number): void;
    lengthBytesUTF8(text: string): number;
    _malloc(bytes: number): number;
    _free(pointer: number): void;
    _engine_take_scene(json: number): number;
    _engine_vertices(body: number): number;
    _engine_place(body: number): void;
    _engine_triangles(body: number): number;
    _engine_faces(body: number): number;
    _engine_build(): number;
    _engine_sight(...stance: Stance): number;
    _engine_sight_with_reasons(...stance: Stance): number;
    _engine_marks(...stance: Stance): number;
    _engine_ties(json: number): number;
    _engine_together(json: number): number;
    _engine_nearest(json: number): number;
    _engine_can_stand(...stance: Stance): number;
    _engine_use_at_hand(json: number): number;
  }
  const Engine: (options?: object) => Promise<EngineModule>;
  export default Engine;
}

/** The bundled worker as text. */
declare module "worker-text" {
  const text: string;
  export default text;
}
