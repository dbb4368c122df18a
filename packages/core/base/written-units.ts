import { create, createUnitDependencies, type Unit as MathUnit, unitDependencies } from "mathjs";
import { referenceRate, standardGravity } from "./constants.ts";
import { type ChosenValue, kindOf, kinds, type Unit, unitNames } from "./quantity.ts";

/**
 * Numbers with units, as people write them: "2 cm", "90 deg/s", "0.35 g", "3 frames", "5 %", "1.5 H".
 *
 * Loading the unit parser takes longer than checking a small shot, so nothing imports this file but
 * `readConfig`, and that only once a value is written with a unit.
 */
const math = create({ unitDependencies, createUnitDependencies });
// A body height is a length of its own kind: it becomes metres only with a figure beside it.
math.createUnit({ bodyheight: { aliases: ["H"] } }, { override: true });
math.createUnit("g", { definition: `${standardGravity} m/s^2`, prefixes: "none" }, { override: true });
math.createUnit("frame", { definition: `${1 / referenceRate} s`, aliases: ["frames"] });

/** A written value that cannot be used, with the reason in one sentence. */
export class UnitError extends Error {
  override readonly name = "UnitError";
}

/**
 * Reads a value that is written with its unit.
 * @param text for example "2 cm"; a bare number is taken only where the setting is a plain number
 * @param declared the unit in which the setting is declared
 * @returns the value in the declared unit, or in the other unit of its kind (body heights for metres and back)
 * @throws UnitError where the unit is unknown, of another kind, or missing
 */
export function chosenValue(text: string, declared: Unit): ChosenValue {
  const kind = kinds[kindOf(declared)];
  const trimmed = text.trim();
  const wanted = `${kind.words} is wanted, for example "${kind.example}"`;
  if (trimmed.endsWith("%")) {
    const percent = Number(trimmed.slice(0, -1));
    if (!Number.isFinite(percent) || trimmed === "%") throw new UnitError(`"${text}" is not a number.`);
    if (kind !== kinds.number) throw new UnitError(`"${text}" is a share, but ${wanted}.`);
    return { value: percent / 100, unit: declared };
  }
  const parsed = parse(trimmed.replace(/°/g, " deg"), text, wanted);
  const dimensionless = parsed.units.length === 0;
  if (kind === kinds.number) {
    if (!dimensionless) throw new UnitError(`"${text}" has a unit, but ${wanted}.`);
    return { value: parsed.toNumber(""), unit: declared };
  }
  if (dimensionless) throw new UnitError(`"${text}" has no unit: ${wanted}.`);
  const others = unitNames.filter((unit) => kindOf(unit) === kindOf(declared));
  for (const unit of [declared, ...others]) {
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
