/** Distances between numbers that are written beside a drawing, as steps of a power of ten; common practice. */
const steps = [1, 2, 5, 10] as const;

/**
 * A round distance between numbers on an axis.
 * @param each units that a pixel stands for
 * @param apart pixels that two numbers need at least
 * @param least smallest distance, 0 for none; frames are whole, so theirs is 1
 */
export function stepOf(each: number, apart: number, least = 0): number {
  const wanted = Math.max(least, each * apart);
  if (!(wanted > 0) || !Number.isFinite(wanted)) return 1;
  const power = 10 ** Math.floor(Math.log10(wanted));
  for (const step of steps) if (step * power >= wanted * (1 - 1e-9)) return step * power;
  return 10 * power;
}

/** A number on an axis whose numbers lie so far apart: no more digits than that needs. */
export function axisText(value: number, step: number): string {
  const digits = Math.min(9, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
  return (Object.is(Math.round(value * 10 ** digits), -0) ? 0 : value).toFixed(digits).replace("-", "−");
}

/** Where values stand on a height of pixels, the greater higher. */
export interface ValueScale {
  /** The values at the lower and the upper edge. */
  low: number;
  high: number;
}

/** The pixel, counted from the top of a lane, at which a value stands. */
export function yOf(scale: ValueScale, height: number, value: number): number {
  return ((scale.high - value) / (scale.high - scale.low)) * height;
}

/** The value that stands at a pixel. */
export function valueAtY(scale: ValueScale, height: number, y: number): number {
  return scale.high - (y / height) * (scale.high - scale.low);
}

/** Share of the height that stays free above and below what is drawn. */
const air = 0.14;
/** The least that a lane shows, as a share of the values' size: a still curve shall not look as if it trembled. */
const leastShare = 1e-3;

/**
 * Scale in which values from a lowest to a highest can be seen, with air around them.
 * @param least the least difference that fills the height: smaller ones are not blown up
 */
export function scaleFor(low: number, high: number, least: number, into: ValueScale): void {
  const size = Math.max(least, leastShare * Math.max(Math.abs(low), Math.abs(high)), 1e-9);
  const span = Math.max(size, high - low);
  const middle = (low + high) / 2;
  into.low = middle - span * (0.5 + air);
  into.high = middle + span * (0.5 + air);
}
