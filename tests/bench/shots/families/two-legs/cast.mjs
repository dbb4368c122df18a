// @ts-check
/** Who is in a shot: bodies drawn at random, and the frame rate and numbering of the shot. */
import { twoLegBody } from "../../bodies/two-legs.mjs";

/** @import { Random } from "../../types.d.ts" @import { Rig } from "../../bodies/two-legs.mjs" */

/** A grown person. @param {Random} random @param {string} [prefix] @param {boolean} [simple] few joints, for crowds */
export function grownPerson(random, prefix = "", simple = false) {
  const sex = random.pick(/** @type {const} */ (["man", "woman"]));
  // Statures between the 5th and the 95th percentile of grown people (reference tables of anthropometry).
  const stature = sex === "man" ? random.between(1.649, 1.869) : random.between(1.518, 1.724);
  if (simple) {
    return twoLegBody({
      prefix,
      build: "grown",
      sex,
      stature,
      spine: random.integer(1, 2),
      necks: random.integer(0, 1),
      fingers: 0,
      toes: random.chance(0.4),
    });
  }
  const spine = random.pick([2, 3, 3, 4, 6]);
  return twoLegBody({
    prefix,
    build: "grown",
    sex,
    stature,
    spine,
    twistFree: spine === 6,
    necks: random.pick([1, 1, 2]),
    fingers: random.pick([0, 0, 3, 5]),
    toes: random.chance(0.8),
    loose: random.pick([[], [], ["hair"], ["strap"], ["coat"], ["hair", "coat"]]),
  });
}

/** A child of 4 to 9 years. @param {Random} random @param {string} [prefix] */
export function child(random, prefix = "") {
  return twoLegBody({
    prefix,
    build: "child",
    sex: random.pick(/** @type {const} */ (["man", "woman"])),
    age: random.between(4, 9),
    spine: random.integer(2, 3),
    fingers: random.pick([0, 3]),
    toes: random.chance(0.6),
    loose: random.pick([[], ["hair"]]),
  });
}

/** A giant of 8 metres, as heavy as a person grown in all directions. @param {Random} random @param {string} [prefix] */
export function giant(random, prefix = "") {
  const stature = random.between(7, 9);
  return twoLegBody({
    prefix,
    build: "giant",
    stature,
    mass: 23.5 * 1.759 ** 2 * (stature / 1.759) ** 3,
    spine: random.integer(3, 4),
    fingers: random.pick([0, 4]),
    toes: true,
    loose: random.pick([[], ["strap"], ["coat"]]),
  });
}

/** A small stylised figure with a big head. @param {Random} random @param {string} [prefix] */
export function stylised(random, prefix = "") {
  const stature = random.between(0.7, 1.1);
  return twoLegBody({
    prefix,
    build: "stylised",
    stature,
    mass: 30 * stature ** 2.4,
    headShare: random.between(0.26, 0.32),
    hipShare: random.between(0.34, 0.38),
    spine: random.integer(1, 2),
    necks: 0,
    fingers: random.pick([0, 3]),
    toes: false,
    loose: random.pick([[], ["hair"]]),
  });
}

/** Anyone. @param {Random} random @param {string} [prefix] @returns {Rig} */
export function anyone(random, prefix = "") {
  const draw = random.next();
  if (draw < 0.68) return grownPerson(random, prefix);
  if (draw < 0.86) return child(random, prefix);
  return draw < 0.93 ? stylised(random, prefix) : giant(random, prefix);
}

/** Rate and first frame of a shot. @param {Random} random */
export function clockOf(random) {
  return { rate: random.pick([24, 24, 24, 25, 30]), first: random.pick([0, 1, 1, 101, 1001]) };
}
