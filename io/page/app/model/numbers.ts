import type { Vec3 } from "../data/wire";

// Numbers as people read them. The same steps as io/words/lengths.h: files carry full precision, people
// need no more digits than they can act on.

/** Finest step shown for each kind of quantity, mm. */
export const step = { place: 1, margin: 0.1, uncertainty: 1e-3 } as const;

export interface Units {
  name: string;
  mm: number; // mm in one
}

/** A number with `decimals` digits after the point; never "-0.0"; "–" where it is not finite. */
export function fixedText(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return "–";
  const text = value.toFixed(decimals);
  return /^-[0.]*$/.test(text) ? text.slice(1) : text;
}

/** Decimals that show a step of `stepMm` in the scene's units. */
export function decimalsFor(units: Units, stepMm: number): number {
  const digits = Math.log10(units.mm / stepMm);
  return Math.min(9, Math.max(0, Math.ceil(digits - 1e-9)));
}

/** A length given in scene units, with the decimals that its kind asks for. */
export function lengthText(units: Units, value: number | null, stepMm: number): string {
  return value === null ? "–" : fixedText(value, decimalsFor(units, stepMm));
}

export function withUnit(units: Units, value: number, stepMm: number): string {
  return `${lengthText(units, value, stepMm)} ${units.name}`;
}

export function placeText(units: Units, at: Vec3): string {
  return at.map((value) => lengthText(units, value, step.place)).join(", ");
}

/** The nearest multiple of `stepMm`, written with no more digits than the step has. */
export function roundTo(units: Units, value: number, stepMm: number): number {
  const size = stepMm / units.mm;
  return Number((Math.round(value / size) * size).toFixed(decimalsFor(units, stepMm)));
}

/** What a person typed as a length: a decimal comma is taken for a point. Null: not a number. */
export function typedLength(text: string): number | null {
  const plain = text.trim().replace(/−/g, "-").replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) && Math.abs(value) <= 1e9 ? value : null;
}

/** A number as it would be typed: all its digits, without those that are mere rounding. */
export function plainText(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** "1 nest", "3 nests". */
export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "a", "a and b", "a, b and c"; beyond `most` names "... and 3 more". */
export function listOf(names: readonly string[], most = 6): string {
  if (names.length > most) {
    return `${names.slice(0, most).join(", ")} and ${names.length - most} more`;
  }
  const last = names[names.length - 1] ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}

export function toMm(units: Units, at: Vec3): Vec3 {
  return [at[0] * units.mm, at[1] * units.mm, at[2] * units.mm];
}

export function fromMm(units: Units, at: Vec3): Vec3 {
  return [at[0] / units.mm, at[1] / units.mm, at[2] / units.mm];
}
