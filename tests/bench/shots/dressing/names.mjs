// @ts-check
/**
 * Habits of naming joints.
 * @import { Performance, Random } from "../types.d.ts"
 * @import { Words } from "./words.mjs"
 */
import { rigOf } from "../motion/rig.mjs";
import { openNames, prefixOf, tongues, translated, wordsOf } from "./words.mjs";

/** @param {string} word */
const capital = (word) => word.charAt(0).toUpperCase() + word.slice(1);
/** @param {string} text words with underscores */
const camel = (text) => text.split("_").map(capital).join("");
/** @param {(string | null)[]} words */
const joined = (...words) => words.filter((word) => word !== null && word !== "").join("_");
/** @param {Words["side"]} side @param {string} left @param {string} right */
const sided = (side, left, right) => (side === null ? "" : side === "left" ? left : right);

/**
 * A habit: how a joint of a figure is called. `prefix` is the figure's, without its underscore; empty where the shot has one
 * figure.
 * @typedef {(words: Words, prefix: string, number: number) => string} Habit
 */

/** @param {Random} random @returns {{ name: string, habit: Habit }} */
export function drawHabit(random) {
  const draw = random.integer(0, 9);
  if (draw <= 1) {
    return {
      name: "short English",
      habit: ({ part, side, rest }, prefix) => joined(prefix, part, rest, sided(side, "l", "r")),
    };
  }
  if (draw <= 3) {
    const space = random.chance(0.5) ? ":" : "_";
    return {
      name: "side and part in one word",
      habit: ({ part, side, rest }, prefix) => {
        const name = `${sided(side, "Left", "Right")}${openNames[part] ?? camel(part)}${rest.replace("_", "")}`;
        return prefix === "" ? name : `${prefix}${space}${name}`;
      },
    };
  }
  if (draw === 4) {
    return {
      name: "side first",
      habit: ({ part, side, rest }, prefix) => joined(prefix, sided(side, "L", "R"), part, rest),
    };
  }
  if (draw === 5) {
    return {
      name: "side behind a point",
      habit: ({ part, side, rest }, prefix) =>
        `${joined(prefix, camel(part), rest)}${side === null ? "" : sided(side, ".L", ".R")}`,
    };
  }
  if (draw === 6) {
    const space = random.pick(["porter", "hero", "chrA", "lead"]);
    return {
      name: "in a namespace",
      habit: ({ part, side, rest }, prefix) =>
        `${prefix === "" ? space : prefix}:${joined(part, rest, sided(side, "l", "r"))}`,
    };
  }
  if (draw <= 8) {
    const { tongue, left, right, words } = random.pick(tongues);
    return {
      name: tongue,
      habit: ({ part, side, rest }, prefix) =>
        joined(prefix, translated(part, words), rest, sided(side, left, right)),
    };
  }
  return {
    name: "numbered",
    habit: (_, prefix, number) => joined(prefix, "joint", String(number).padStart(2, "0")),
  };
}

/**
 * The document's name of every joint and prop; unique.
 * @param {Performance} performance @param {Habit} habit
 * @returns {Map<string, string>} our id → the document's
 */
export function namesOf(performance, habit) {
  /** @type {Map<string, string>} */
  const names = new Map();
  const used = new Set();
  const give = (/** @type {string} */ id, /** @type {string} */ wanted) => {
    let name = wanted;
    for (let n = 2; used.has(name); n++) name = `${wanted}_${n}`;
    used.add(name);
    names.set(id, name);
  };
  const several = performance.figures.length > 1;
  for (const { id: figure, body } of performance.figures) {
    const prefix = prefixOf(body);
    const said = several ? (prefix === "" ? figure : prefix.slice(0, -1)) : "";
    body.joints.forEach(({ id }, n) => {
      give(id, habit(wordsOf(id.slice(prefix.length)), said, n + 1));
    });
  }
  for (const { id } of performance.props) give(id, id);
  for (const id of rigOf(performance).ids) if (!names.has(id)) give(id, id);
  return names;
}
