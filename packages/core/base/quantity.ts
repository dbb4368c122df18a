import { radiansPerDegree, referenceRate, standardGravity } from "./constants.ts";

/** Exponents of metres, seconds and radians: a speed is [1, -1, 0], a plain number [0, 0, 0]. */
export type Dimension = readonly [metres: number, seconds: number, radians: number];

/** Kinds of quantity: each in words, with an example of a value as people write it. */
export const kinds = {
  length: { words: "a length", example: "2 cm", dimension: [1, 0, 0] },
  speed: { words: "a speed", example: "1.5 m/s", dimension: [1, -1, 0] },
  acceleration: { words: "an acceleration", example: "0.35 g", dimension: [1, -2, 0] },
  angle: { words: "an angle", example: "20 deg", dimension: [0, 0, 1] },
  turningSpeed: { words: "a turning speed", example: "90 deg/s", dimension: [0, -1, 1] },
  time: { words: "a time", example: "0.2 s", dimension: [0, 1, 0] },
  frames: { words: "a number of frames", example: "3 frames", dimension: [0, 1, 0] },
  rate: { words: "a rate", example: "4 Hz", dimension: [0, -1, 0] },
  number: { words: "a plain number", example: "5 %", dimension: [0, 0, 0] },
} as const satisfies Readonly<Record<string, QuantityKind>>;
export type KindName = keyof typeof kinds;

interface QuantityKind {
  readonly words: string;
  readonly example: string;
  readonly dimension: Dimension;
}

interface UnitEntry {
  readonly kind: KindName;
  /** How many working units (metres, seconds, radians, judged frames) it is; of body heights and frames, see `scale`. */
  readonly factor: number;
  /** What else a value is multiplied by: the figure's body height, or the judged rate over 24 frames per second. */
  readonly scale?: "stature" | "rate";
  /** The unit in words. */
  readonly words: string;
  /** What stands behind a number of it. */
  readonly sign: string;
}

/** Units of settings, findings and notes. The first unit of a dimension is the one in which notes show it. */
export const units = {
  m: { kind: "length", factor: 1, words: "metres", sign: " m" },
  H: { kind: "length", factor: 1, scale: "stature", words: "body heights", sign: " body heights" },
  "m/s": { kind: "speed", factor: 1, words: "metres per second", sign: " m/s" },
  "H/s": {
    kind: "speed",
    factor: 1,
    scale: "stature",
    words: "body heights per second",
    sign: " body heights/s",
  },
  "m/s^2": { kind: "acceleration", factor: 1, words: "metres per second squared", sign: " m/s²" },
  g: { kind: "acceleration", factor: standardGravity, words: "times standard gravity", sign: " g" },
  deg: { kind: "angle", factor: radiansPerDegree, words: "degrees", sign: "°" },
  "deg/s": { kind: "turningSpeed", factor: radiansPerDegree, words: "degrees per second", sign: "°/s" },
  s: { kind: "time", factor: 1, words: "seconds", sign: " s" },
  frames: {
    kind: "frames",
    factor: 1,
    scale: "rate",
    words: `frames at ${referenceRate} per second`,
    sign: " frames",
  },
  Hz: { kind: "rate", factor: 1, words: "times per second", sign: " Hz" },
  ratio: { kind: "number", factor: 1, words: "ratio", sign: "" },
  share: { kind: "number", factor: 1, words: "share", sign: "" },
  count: { kind: "number", factor: 1, words: "number", sign: "" },
} as const satisfies Readonly<Record<string, UnitEntry>>;

/** A unit in which settings are declared and notes measure. Lengths may also be given in body heights, "H". */
export type Unit = keyof typeof units;
/** The names of all units of settings and notes. */
export const unitNames = Object.keys(units) as readonly Unit[] as readonly [Unit, ...Unit[]];

/** The kind of quantity that a unit measures. */
export function kindOf(unit: Unit): KindName {
  return units[unit].kind;
}

/** A setting's value as it was chosen: the number and the unit it is in (a unit of the same kind as declared). */
export interface ChosenValue {
  readonly value: number;
  readonly unit: Unit;
}

/**
 * A chosen value in the numbers that checks compute with: metres, radians, seconds, judged frames, metres per
 * second squared for g; ratios and counts as they are.
 * @param stature body height in metres, for values in H
 * @param rate judged frames per second, for values in frames
 */
export function inWorkingUnits({ value, unit }: ChosenValue, stature: number, rate: number): number {
  const { factor, scale }: UnitEntry = units[unit];
  if (scale === "stature") return value * stature;
  return scale === "rate" ? (value * rate) / referenceRate : value * factor;
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a[0] === b[0] && a[1] === b[1] && a[2] === b[2];
}

/** The unit in which notes show a quantity; null for one that has none, such as an area. */
export function shownUnitOf(dimension: Dimension): Unit | null {
  return unitNames.find((unit) => sameDimension(kinds[kindOf(unit)].dimension, dimension)) ?? null;
}
