/**
 * Says what is wrong with a value, as the end of a sentence that begins with its name; null where nothing is.
 * @param value as it came, of any kind
 * @param name the path to it in the params, such as `position.line`; empty for the params themselves
 */
export type Shape = (value: unknown, name: string) => Fault | null;

/** What is wrong with params, and where. */
export interface Fault {
  /** Path of what is wrong; empty for the params themselves. */
  readonly name: string;
  /** A sentence that names it. */
  readonly message: string;
}

/** The largest number of the protocol's `integer` and `uinteger`. */
const largest = 2 ** 31 - 1;

export const text = of("a text", (value) => typeof value === "string");
export const truth = of("true or false", (value) => typeof value === "boolean");
export const count = of(`a whole number from 0 to ${largest}`, (value) => isWhole(value) && value >= 0);
export const whole = of("a whole number", isWhole);
export const anything: Shape = () => null;

/** A value of a shape, or null. */
export function orNull(shape: Shape): Shape {
  return (value, name) => (value === null ? null : shape(value, name));
}

/** A value of one of two shapes; what is wrong is told of the first. */
export function either(first: Shape, second: Shape): Shape {
  return (value, name) => (second(value, name) === null ? null : first(value, name));
}

export function listOf(shape: Shape): Shape {
  return (value, name) => {
    if (!Array.isArray(value)) return misfit(name, value, "a list");
    for (const [index, each] of value.entries()) {
      const fault = shape(each, `${name}[${index}]`);
      if (fault !== null) return fault;
    }
    return null;
  };
}

/**
 * An object.
 * @param needed properties that have to be there
 * @param other properties that may be left out; whatever is not named here may hold anything
 */
export function object(
  needed: Readonly<Record<string, Shape>>,
  other: Readonly<Record<string, Shape>> = {},
): Shape {
  return (value, name) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      return misfit(name, value, "an object");
    }
    const given = value as Readonly<Record<string, unknown>>;
    const path = (property: string) => (name === "" ? property : `${name}.${property}`);
    for (const [property, shape] of Object.entries(needed)) {
      const fault = shape(given[property], path(property));
      if (fault !== null) return fault;
    }
    for (const [property, shape] of Object.entries(other)) {
      const fault = given[property] === undefined ? null : shape(given[property], path(property));
      if (fault !== null) return fault;
    }
    return null;
  };
}

function of(what: string, fits: (value: unknown) => boolean): Shape {
  return (value, name) => (fits(value) ? null : misfit(name, value, what));
}

function misfit(name: string, value: unknown, what: string): Fault {
  const subject = name === "" ? "They" : `"${name}"`;
  const message =
    value === undefined && name !== "" ? `${subject} is missing; it is ${what}.` : wrong(subject, what);
  return { name, message };
}

function wrong(subject: string, what: string): string {
  return `${subject} ${subject.startsWith('"') ? "has" : "have"} to be ${what}.`;
}

function isWhole(value: unknown): value is number {
  return Number.isInteger(value) && Math.abs(value as number) <= largest;
}
