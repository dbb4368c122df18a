/*
 * Changes of texts: of their characters, of their words, and of their structure where they are JSON. Each takes a text
 * and gives another.
 */

const words = [
  "NaN",
  "Infinity",
  "-Infinity",
  "1e308",
  "-1e308",
  "1e-320",
  "1e999",
  "0",
  "-0",
  "-1",
  "0.5",
  "900000",
  "9007199254740993",
  "4294967296",
  "null",
  "true",
  "false",
  "[]",
  "{}",
  '""',
  '"\u001b[2J\u202e\u2028\n"',
  '"__proto__"',
  '"constructor"',
  '"length"',
  '"a\\u0000b"',
  "[[[[",
  "]]]]",
  "{{{{",
  '{"a":',
  ",,",
  "::",
  "//",
  "/*",
  "\\",
  '"',
  "\u0000",
  "\ufeff",
  "\r",
  "\u2028",
];

const values = [
  null,
  true,
  false,
  0,
  -1,
  0.5,
  1e308,
  -1e308,
  1e-320,
  900000,
  4294967296,
  2 ** 53,
  "",
  "a",
  "__proto__",
  "constructor",
  "length",
  "\u001b[31m\u202e\n",
  [],
  {},
  [[]],
  [null],
  { a: 1 },
  [1, 2, 3],
  [1e308, -1e308, 0],
  "24000/1001",
  "1/0",
  "-1/3",
];

/** A text with some of its characters, words or members changed. */
export function mutated(text, random, others) {
  let result = text;
  const times = 1 + random.below(4);
  for (let i = 0; i < times; i++) result = once(result, random, others);
  return result.length > 60_000 ? result.slice(0, 60_000) : result;
}

function once(text, random, others) {
  const at = random.below(text.length + 1);
  const length = random.of([1, 1, 2, 5, 20, 100]);
  switch (random.below(12)) {
    case 0:
      return text.slice(0, at) + text.slice(at + length);
    case 1:
      return text.slice(0, at) + random.of(words) + text.slice(at);
    case 2:
      return text.slice(0, at) + random.of(words) + text.slice(at + length);
    case 3:
      return text.slice(0, at);
    case 4:
      return text.slice(0, at) + text.slice(at, at + length).repeat(1 + random.below(20)) + text.slice(at);
    case 5: {
      const from = random.below(text.length + 1);
      return text.slice(0, at) + text.slice(from, from + length) + text.slice(at);
    }
    case 6:
      return (
        text.slice(0, at) +
        String.fromCharCode(random.below(random.of([128, 256, 65536]))) +
        text.slice(at + 1)
      );
    case 7:
      return withOtherNumber(text, random);
    case 8: {
      const other = random.of(others);
      const from = random.below(other.length + 1);
      return text.slice(0, at) + other.slice(from, from + 5 * length) + text.slice(at);
    }
    default:
      return withOtherMember(text, random);
  }
}

function withOtherNumber(text, random) {
  const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
  if (numbers.length === 0) return text;
  const { index, 0: found } = random.of(numbers);
  return text.slice(0, index) + random.of(words.slice(0, 14)) + text.slice(index + found.length);
}

/** Another value, or none, in some place of a text that is JSON. */
function withOtherMember(text, random) {
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    return withOtherNumber(text, random);
  }
  const holder = { data };
  let container = holder;
  let key = "data";
  for (let depth = random.below(9); depth > 0; depth--) {
    const value = container[key];
    if (typeof value !== "object" || value === null) break;
    const keys = Object.keys(value);
    if (keys.length === 0) break;
    container = value;
    key = random.of(keys);
  }
  switch (random.below(5)) {
    case 0:
      delete container[key];
      break;
    case 1:
      if (Array.isArray(container)) container.push(container[key]);
      else container[random.of(["name", "id", "parent", "x", "keys", "constructor"])] = container[key];
      break;
    case 2:
      if (typeof container[key] === "number") container[key] *= random.of([-1, 0, 10, 1e6, 1e300]);
      else container[key] = random.of(values);
      break;
    default:
      container[key] = random.of(values);
  }
  return JSON.stringify(holder.data) ?? "";
}
