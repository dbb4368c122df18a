import { create, createUnitDependencies, type Unit as MathUnit, unitDependencies } from "mathjs";
import type { ChosenValue, Unit } from "./quantity.ts";

/**
 * Numbers with units, as people write them: "2 cm", "90 deg/s", "0.35 g", "3 frames", "5 %", "1.5 H".
 *
 * Loading the unit parser takes longer than checking a small shot, so nothing imports this file but
 * `readConfig`, and that only once a value is written with a unit.
 */
const math = create({ unitDependencies, createUnitDependencies });
// A body height is a length of its own kind: it becomes metres only with a figure beside it.
math.createUnit({ bodyheight: { aliases: ["H"] } }, { override: true });
math.createUnit("g", { definition: "9.80665 m/s^2", prefixes: "none" }, { override: true });
// Settings in frames are frames at 24 per second (see `inWorkingUnits`).
math.createUnit("frame", { definition: `${1 / 24} s`, aliases: ["frames"] });

/** A written value that cannot be used, with the reason in one sentence. */
export class UnitError extends Error {
  override readonly name = "UnitError";
}

interface Kind {
  /** The kind in words. */
  readonly words: string;
  readonly example: string;
  /** Units in which a value of this kind may be chosen; a written unit is converted to the first that fits. */
  readonly units: readonly Unit[];
}

const length: Kind = { words: "a length", example: "2 cm", units: ["m", "H"] };
const speed: Kind = { words: "a speed", example: "1.5 m/s", units: ["m/s", "H/s"] };
const acceleration: Kind = { words: "an acceleration", example: "0.35 g", units: ["m/s^2"] };
const plain: Kind = { words: "a plain number", example: "5 %", units: [] };

const kinds: Readonly<Record<Unit, Kind>> = {
  m: length,
  H: length,
  "m/s": speed,
  "H/s": speed,
  "m/s^2": acceleration,
  g: { ...acceleration, units: ["g"] },
  deg: { words: "an angle", example: "20 deg", units: ["deg"] },
  "deg/s": { words: "a turning speed", example: "90 deg/s", units: ["deg/s"] },
  s: { words: "a time", example: "0.2 s", units: ["s"] },
  frames: { words: "a number of frames", example: "3 frames", units: ["frames"] },
  Hz: { words: "a rate", example: "4 Hz", units: ["Hz"] },
  ratio: plain,
  share: plain,
  count: plain,
};

/**
 * Reads a value that is written with its unit.
 * @param text for example "2 cm"; a bare number is taken only where the setting is a plain number
 * @param declared the unit in which the setting is declared
 * @returns the value in the declared unit, or in the other unit of its kind (body heights for metres and back)
 * @throws UnitError where the unit is unknown, of another kind, or missing
 */
export function chosenValue(text: string, declared: Unit): ChosenValue {
  const kind = kinds[declared];
  const trimmed = text.trim();
  const wanted = `${kind.words} is wanted, for example "${kind.example}"`;
  if (trimmed.endsWith("%")) {
    const percent = Number(trimmed.slice(0, -1));
    if (!Number.isFinite(percent) || trimmed === "%") throw new UnitError(`"${text}" is not a number.`);
    if (kind !== plain) throw new UnitError(`"${text}" is a share, but ${wanted}.`);
    return { value: percent / 100, unit: declared };
  }
  const parsed = parse(trimmed.replace(/°/g, " deg"), text, wanted);
  const dimensionless = parsed.units.length === 0;
  if (kind === plain) {
    if (!dimensionless) throw new UnitError(`"${text}" has a unit, but ${wanted}.`);
    return { value: parsed.toNumber(""), unit: declared };
  }
  if (dimensionless) throw new UnitError(`"${text}" has no unit: ${wanted}.`);
  for (const unit of kind.units) {
    const target = math.unit(unit === "frames" ? "frame" : unit);
    if (parsed.equalBase(target)) return { value: rounded(parsed.toNumber(target.formatUnits())), unit };
  }
  throw new UnitError(`"${text}" is another kind of quantity: ${wanted}.`);
}

/** A unit as expressions use it. */
export interface NamedUnit {
  /** How many metres, seconds, radians it is; how many body heights. */
  readonly factor: number;
  /** Exponents of metres, seconds and radians. */
  readonly quantity: readonly [number, number, number];
  readonly isHeights: boolean;
}

const namedUnits = new Map<string, NamedUnit | null>();

/** A unit of motion by its name, such as "cm", "deg" or "frames"; null where there is none of that name. */
export function unitNamed(name: string): NamedUnit | null {
  let unit = namedUnits.get(name);
  if (unit === undefined) {
    unit = readUnit(name);
    namedUnits.set(name, unit);
  }
  return unit;
}

function readUnit(name: string): NamedUnit | null {
  if (name === "H") return { factor: 1, quantity: [1, 0, 0], isHeights: true };
  let unit: MathUnit;
  try {
    unit = math.unit(1, name);
  } catch {
    return null;
  }
  // SI value and exponents by base quantity, in the order in which mathjs keeps them.
  const { value, dimensions } = unit as unknown as { value: number; dimensions: readonly number[] };
  const [mass, length, time, current, temperature, light, amount, angle, ...others] = dimensions;
  const rest = [mass, current, temperature, light, amount, ...others];
  if (
    unit.units.length !== 1 ||
    !Number.isFinite(value) ||
    rest.some((power) => power !== 0 && power !== undefined)
  ) {
    return null;
  }
  return { factor: rounded(value), quantity: [length ?? 0, time ?? 0, angle ?? 0], isHeights: false };
}

function parse(cleaned: string, text: string, wanted: string): MathUnit {
  let parsed: MathUnit;
  try {
    parsed = math.unit(cleaned);
  } catch (error) {
    const unknown = /^Unit "(.*)" not found/.exec((error as Error).message);
    if (unknown !== null) throw new UnitError(`"${text}" has an unknown unit, "${unknown[1]}": ${wanted}.`);
    throw new UnitError(`"${text}" is not a number with a unit: ${wanted}.`);
  }
  // A unit alone, such as "cm", parses with a null value.
  if (!Number.isFinite((parsed as unknown as { value: number | null }).value ?? Number.NaN)) {
    throw new UnitError(`"${text}" is not a number with a unit: ${wanted}.`);
  }
  return parsed;
}

/** Takes off the last digit, in which unit conversion leaves its rounding. */
function rounded(value: number): number {
  return Number(value.toPrecision(14));
}
