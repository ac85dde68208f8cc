import type { Vec3 } from "../data/wire";

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
