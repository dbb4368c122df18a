/*
 * Whether a kept result is one. It says what the schema of the report says (a test holds the two together), without the
 * schema's library: a run over an unchanged archive would spend more on loading that than on all its shots.
 */

type Test = (value: unknown) => boolean;

const isText: Test = (value) => typeof value === "string";
const isNumber: Test = (value) => typeof value === "number" && Number.isFinite(value);
const isWhole: Test = (value) => Number.isSafeInteger(value);
const isCount: Test = (value) => isWhole(value) && (value as number) >= 0;
const isPlace: Test = (value) => isWhole(value) && (value as number) >= 1;
const isShare: Test = (value) => isNumber(value) && (value as number) >= 0 && (value as number) <= 1;
const isFlag: Test = (value) => typeof value === "boolean";

const orNull =
  (test: Test): Test =>
  (value) =>
    value === null || test(value);
const optional =
  (test: Test): Test =>
  (value) =>
    value === undefined || test(value);
const listOf =
  (test: Test): Test =>
  (value) =>
    Array.isArray(value) && value.every(test);
const oneOf =
  (...words: readonly string[]): Test =>
  (value) =>
    words.includes(value as string);
const isTier = oneOf("broken", "major", "minor", "polish");
const range: Test = (value) => Array.isArray(value) && value.length === 2 && value.every(isNumber);

function shape(members: Readonly<Record<string, Test>>): Test {
  const tests = Object.entries(members);
  return (value) =>
    typeof value === "object" &&
    value !== null &&
    !Array.isArray(value) &&
    tests.every(([name, test]) => test((value as Record<string, unknown>)[name]));
}

/** The units of notes; a test holds them equal to the core's. */
export const storedUnits: readonly string[] =
  "m H m/s H/s m/s^2 g deg deg/s s frames Hz ratio share count".split(" ");
const isUnit = oneOf(...storedUnits);

const ending = { endLine: optional(isPlace), endColumn: optional(isPlace) };
const place = shape({ line: isPlace, column: isPlace, ...ending });

const key = shape({
  node: isText,
  channel: (value) =>
    typeof value === "string" && /^(rotation|(translation|rotation|scale)\.[xyz])$/.test(value),
  frame: isNumber,
  line: orNull(isPlace),
  column: orNull(isPlace),
  ...ending,
});

const also = shape({
  check: isText,
  tier: isTier,
  figure: orNull(isText),
  node: orNull(isText),
  part: isText,
  frames: range,
  message: isText,
  fingerprint: isText,
  place: optional(place),
});

const replacement = shape({
  ...{ line: isPlace, column: isPlace, endLine: isPlace, endColumn: isPlace },
  text: isText,
});

const noteMembers = {
  check: isText,
  tier: isTier,
  weight: isShare,
  figure: orNull(isText),
  node: orNull(isText),
  part: isText,
  frames: orNull(range),
  keys: listOf(key),
  message: isText,
  measured: orNull(shape({ quantity: isText, value: isNumber, unit: isUnit })),
  expected: orNull(shape({ min: optional(isNumber), max: optional(isNumber), unit: isUnit, source: isText })),
  why: isText,
  suggestion: isText,
  fingerprint: isText,
  also: optional(listOf(also)),
  place: optional(place),
  fix: optional(shape({ title: isText, replacements: listOf(replacement), gone: listOf(isText) })),
};

const waiver = shape({
  reason: isText,
  by: optional(isText),
  lastRevision: optional(isWhole),
  inDocument: isFlag,
});

const strength = shape({
  ...{ kind: isText, title: isText, figure: isText, node: isText, part: isText, message: isText },
  frames: range,
  measured: shape({ quantity: isText, value: isNumber, unit: isUnit }),
  within: shape({ min: optional(isNumber), max: optional(isNumber), unit: isUnit, source: isText }),
  rank: shape({
    ...{ plainness: isNumber, metres: isNumber, size: isNumber, seconds: isNumber },
    part: orNull(isText),
  }),
});

const isWeight = oneOf("must", "should", "could", "keep");
const remark = shape({
  kind: oneOf("remark"),
  ...{ id: isText, weight: isWeight, text: isText, by: isText, date: isText, part: isText },
  ...{ figure: orNull(isText), node: orNull(isText), frames: orNull(range) },
  state: oneOf("open", "done", "still-open"),
  strokes: isCount,
  targets: listOf(
    shape({
      ...{ node: isText, part: isText, frames: range, late: range },
      ...{ mean: isNumber, largest: isNumber, largestAt: isNumber, covered: isNumber },
    }),
  ),
  conflicts: optional(isText),
});
const reviewedNote = shape({
  ...{ kind: oneOf("note"), fingerprint: isText, frames: orNull(range), weight: isWeight },
  ...{ text: orNull(isText), by: orNull(isText), isWeighed: isFlag },
});
const review = shape({
  list: listOf((value) => remark(value) || reviewedNote(value)),
  problems: listOf(isText),
});

const storedShot = shape({
  name: orNull(isText),
  frameRate: (value) => isNumber(value) || isText(value),
  range,
  figures: listOf(isText),
  inferred: listOf(isText),
  notes: listOf(shape(noteMembers)),
  waived: optional(listOf(shape({ ...noteMembers, waiver }))),
  strengths: optional(listOf(strength)),
  review: optional(review),
  failures: optional(
    listOf(shape({ check: isText, subject: orNull(isText), others: isCount, message: isText })),
  ),
});

/** Whether a text is a stored result as JSON. */
export function isStoredShot(text: string): boolean {
  try {
    return storedShot(JSON.parse(text));
  } catch {
    return false;
  }
}
