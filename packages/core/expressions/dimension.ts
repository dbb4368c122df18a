import {
  type Dimension,
  kindOf,
  kinds,
  sameDimension,
  shownUnitOf,
  type Unit,
  units,
} from "../base/quantity.ts";

/** What an expression gives: a quantity, by its dimension, or yes or no. */
export type Result = Dimension | "truth";

export const plainNumber: Dimension = kinds.number.dimension;
export const metres: Dimension = kinds.length.dimension;
export const metresPerSecond: Dimension = kinds.speed.dimension;
export const metresPerSecondSquared: Dimension = kinds.acceleration.dimension;
export const radians: Dimension = kinds.angle.dimension;
export const radiansPerSecond: Dimension = kinds.turningSpeed.dimension;
export const seconds: Dimension = kinds.time.dimension;

export function sameKind(a: Result, b: Result): boolean {
  return a === "truth" || b === "truth" ? a === b : sameDimension(a, b);
}

/** The dimension of a product, each factor to a power. */
export function product(a: Dimension, b: Dimension, power = 1): Dimension {
  return [a[0] + power * b[0], a[1] + power * b[1], a[2] + power * b[2]];
}

/**
 * How a quantity is shown in notes: in which unit, and what one of the computing units (m, s, rad) is in it; null for
 * one that has no unit there, such as an area.
 */
export function shownAs(dimension: Dimension): { readonly unit: Unit; readonly factor: number } | null {
  const unit = shownUnitOf(dimension);
  return unit === null ? null : { unit, factor: 1 / units[unit].factor };
}

/** A kind in words, for errors. */
export function kindInWords(kind: Result): string {
  if (kind === "truth") return "yes or no";
  const unit = shownUnitOf(kind);
  if (unit !== null) return kinds[kindOf(unit)].words;
  const powers = ["m", "s", "rad"]
    .map((name, i) => [name, kind[i] as number] as const)
    .filter(([, power]) => power !== 0)
    .map(([name, power]) => (power === 1 ? name : `${name}^${power}`));
  return `a quantity in ${powers.join(" ")}`;
}
