import type { Marks, SceneData, Vec3 } from "../data/wire";

// Which stations are tied by shared nests (contract section 4). The program decides the same in
// planner/stations/; here it is told live for stations that were moved.

function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
const norm = (a: Vec3) => Math.hypot(a[0], a[1], a[2]);

type Matrix = [number[], number[], number[]];

/** One turn of Jacobi's method about the plane (p, q): afterwards a[p][q] is 0. */
function rotate(a: Matrix, v: Matrix, p: number, q: number): void {
  const row = (m: Matrix, i: number) => m[i] as number[];
  const at = (m: Matrix, i: number, j: number) => row(m, i)[j] as number;
  if (at(a, p, q) === 0) return;
  const theta = (at(a, q, q) - at(a, p, p)) / (2 * at(a, p, q));
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  for (let k = 0; k < 3; k += 1) {
    const kp = at(a, k, p);
    const kq = at(a, k, q);
    row(a, k)[p] = c * kp - s * kq;
    row(a, k)[q] = s * kp + c * kq;
  }
  for (let k = 0; k < 3; k += 1) {
    const pk = at(a, p, k);
    const qk = at(a, q, k);
    row(a, p)[k] = c * pk - s * qk;
    row(a, q)[k] = s * pk + c * qk;
    const vp = at(v, k, p);
    const vq = at(v, k, q);
    row(v, k)[p] = c * vp - s * vq;
    row(v, k)[q] = s * vp + c * vq;
  }
}

export interface Principal {
  axes: [Vec3, Vec3, Vec3]; // unit, by falling value
  values: [number, number, number];
}

/** Eigenvalues and eigenvectors of a symmetric matrix (cyclic Jacobi; Golub and Van Loan, Matrix
 * Computations, section 8.5). */
export function principal(matrix: readonly (readonly number[])[]): Principal {
  const a = matrix.map((r) => [...r]) as Matrix;
  const v: Matrix = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (let sweep = 0; sweep < 30; sweep += 1) {
    rotate(a, v, 0, 1);
    rotate(a, v, 0, 2);
    rotate(a, v, 1, 2);
  }
  const order = [0, 1, 2].sort((i, j) => (a[j]?.[j] ?? 0) - (a[i]?.[i] ?? 0));
  const column = (j: number): Vec3 => [v[0][j] ?? 0, v[1][j] ?? 0, v[2][j] ?? 0];
  const value = (j: number) => a[j]?.[j] ?? 0;
  const [i, j, k] = order as [number, number, number];
  return { axes: [column(i), column(j), column(k)], values: [value(i), value(j), value(k)] };
}

/** Whether the greatest distance from the best line is at least 1/20 of the spread. */
export function areOffOneLine(places: readonly Vec3[]): boolean {
  const first = places[0];
  if (!first || places.length < 3) return false;
  const points = places.map((place) => minus(place, first));
  const mean = points.reduce<Vec3>(
    (sum, p) => [
      sum[0] + p[0] / points.length,
      sum[1] + p[1] / points.length,
      sum[2] + p[2] / points.length,
    ],
    [0, 0, 0],
  );
  const off = points.map((p) => minus(p, mean));
  const scatter = [0, 1, 2].map((r) =>
    [0, 1, 2].map((c) => off.reduce((sum, p) => sum + (p[r] ?? 0) * (p[c] ?? 0), 0)),
  );
  const along = principal(scatter).axes[0];
  const farthest = Math.max(...off.map((p) => norm(cross(along, p))));
  const spread = Math.max(...points.flatMap((p) => points.map((q) => norm(minus(p, q)))));
  return spread > 0 && 20 * farthest >= spread;
}

/** Indices of the nests that count as shared from a station. */
export function countedNests(scene: SceneData, marks: Marks): number[] {
  return marks.nests.flatMap((mark, i) =>
    mark.verdict === "full-target" ||
    (mark.verdict === "offset-stylus" && scene.rules.ties_by_stylus)
      ? [i]
      : [],
  );
}

export interface Tie {
  a: number; // ids of stations
  b: number;
  nests: number[];
}

export interface Ties {
  links: Tie[];
  areAsked: boolean; // false: no nests, or none need be shared
  loose: number[]; // ids of stations that are not tied to the first; empty: all are tied
}

export function tiesOf(
  scene: SceneData,
  ids: readonly number[],
  marks: ReadonlyMap<number, Marks>,
): Ties {
  const areAsked = scene.nests.length > 0 && scene.rules.shared_nests > 0;
  const counted = new Map<number, Set<number>>();
  for (const id of ids) {
    const own = marks.get(id);
    counted.set(id, new Set(own ? countedNests(scene, own) : []));
  }
  const links: Tie[] = [];
  for (const [i, a] of ids.entries()) {
    for (const b of ids.slice(i + 1)) {
      const nests = [...(counted.get(a) ?? [])].filter((nest) => counted.get(b)?.has(nest));
      const places = nests.flatMap((nest) => scene.nests[nest]?.at ?? []) as number[];
      const points = nests.map((_, n) => places.slice(3 * n, 3 * n + 3) as unknown as Vec3);
      if (nests.length >= scene.rules.shared_nests && areOffOneLine(points))
        links.push({ a, b, nests });
    }
  }
  return { links, areAsked, loose: areAsked ? looseOf(ids, links) : [] };
}

function looseOf(ids: readonly number[], links: readonly Tie[]): number[] {
  const reached = new Set(ids.slice(0, 1));
  for (let grew = true; grew;) {
    grew = false;
    for (const { a, b } of links) {
      if (reached.has(a) === reached.has(b)) continue;
      reached.add(a).add(b);
      grew = true;
    }
  }
  return ids.filter((id) => !reached.has(id));
}
