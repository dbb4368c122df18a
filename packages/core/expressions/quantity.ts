import type { Unit } from "../base/quantity.ts";

/** Exponents of metres, seconds and radians: a speed is [1, -1, 0], a plain number [0, 0, 0]. */
export type Quantity = readonly [metres: number, seconds: number, radians: number];

/** What an expression gives: a quantity, or yes or no. */
export type Kind = Quantity | "truth";

export const plainNumber: Quantity = [0, 0, 0];
export const metres: Quantity = [1, 0, 0];
export const metresPerSecond: Quantity = [1, -1, 0];
export const metresPerSecondSquared: Quantity = [1, -2, 0];
export const radians: Quantity = [0, 0, 1];
export const radiansPerSecond: Quantity = [0, -1, 1];
export const seconds: Quantity = [0, 1, 0];

interface Shown {
  readonly quantity: Quantity;
  readonly words: string;
  /** The unit of notes in which it is shown, and what one of the computing units (m, s, rad) is in it. */
  readonly unit: Unit;
  readonly factor: number;
}

const degrees = 180 / Math.PI;
const shown: readonly Shown[] = [
  { quantity: plainNumber, words: "a plain number", unit: "ratio", factor: 1 },
  { quantity: metres, words: "a length", unit: "m", factor: 1 },
  { quantity: metresPerSecond, words: "a speed", unit: "m/s", factor: 1 },
  { quantity: metresPerSecondSquared, words: "an acceleration", unit: "m/s^2", factor: 1 },
  { quantity: radians, words: "an angle", unit: "deg", factor: degrees },
  { quantity: radiansPerSecond, words: "a turning speed", unit: "deg/s", factor: degrees },
  { quantity: seconds, words: "a time", unit: "s", factor: 1 },
  { quantity: [0, -1, 0], words: "a rate", unit: "Hz", factor: 1 },
];

export function sameQuantity(a: Quantity, b: Quantity): boolean {
  return a[0] === b[0] && a[1] === b[1] && a[2] === b[2];
}

export function sameKind(a: Kind, b: Kind): boolean {
  return a === "truth" || b === "truth" ? a === b : sameQuantity(a, b);
}

/** The quantity of a product, each factor to a power. */
export function product(a: Quantity, b: Quantity, power = 1): Quantity {
  return [a[0] + power * b[0], a[1] + power * b[1], a[2] + power * b[2]];
}

/** How a quantity is shown in notes; null for one that has no unit there, such as an area. */
export function shownAs(quantity: Quantity): { readonly unit: Unit; readonly factor: number } | null {
  return shown.find((one) => sameQuantity(one.quantity, quantity)) ?? null;
}

/** A kind in words, for errors. */
export function kindInWords(kind: Kind): string {
  if (kind === "truth") return "yes or no";
  const known = shown.find((one) => sameQuantity(one.quantity, kind));
  if (known !== undefined) return known.words;
  const units = ["m", "s", "rad"]
    .map((unit, i) => [unit, kind[i] as number] as const)
    .filter(([, power]) => power !== 0)
    .map(([unit, power]) => (power === 1 ? unit : `${unit}^${power}`));
  return `a quantity in ${units.join(" ")}`;
}
