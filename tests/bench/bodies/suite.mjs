// @ts-check
/**
 * Forty and more skeletons and what is right to say of each. Written down before the program was asked. Nothing of them
 * is declared, but where a row says so.
 * @import { Shape } from "./shapes.mjs"
 * @import { Habit } from "./habits.mjs"
 */
import * as habits from "./habits.mjs";
import { bird, crawler, dog, fish, lamp, person, snake } from "./shapes.mjs";

/**
 * @typedef {object} Skeleton
 * @property {string} what
 * @property {Shape} shape
 * @property {Habit} names
 * @property {number} [unit] metres per unit in which it is built
 * @property {number} [scale] how much larger than its shape it is
 * @property {"y" | "z"} [up]
 * @property {readonly ("unit" | "up")[]} [declares]
 */

/** @param {string} what @param {Shape} shape @param {Habit} names @param {Omit<Skeleton, "what" | "shape" | "names">} [more] @returns {Skeleton} */
const row = (what, shape, names, more = {}) => ({ what, shape, names, ...more });

const { suffixed, prefixed, dotted, recorded, shouted, clipped, numbered, within, ended } = habits;

/** @type {readonly Skeleton[]} */
export const suite = [
  row("a person", person(), suffixed),
  row("a person, sides in front", person(), prefixed),
  row("a person, sides behind a dot", person(), dotted),
  row("a person as recordings have it, cm", person(), recorded, { unit: 0.01 }),
  row("a person in capitals, cm", person(), shouted, { unit: 0.01 }),
  row("a person in words without vowels", person(), clipped),
  row("a person in words without vowels, inches", person({ fingers: false }), clipped, { unit: 0.0254 }),
  row("a person in a name space", person(), within("mara", suffixed)),
  row("a person, every name ends in jnt", person(), ended("jnt", suffixed)),
  row("a person in numbers alone", person(), numbered),
  row("a person in numbers alone, cm", person({ fingers: false }), numbered, { unit: 0.01 }),
  row("a person without fingers", person({ fingers: false }), suffixed),
  row("a person without fingers and toes", person({ fingers: false, toes: false }), prefixed),
  row("a person with one arm", person({ arms: ["left"] }), suffixed),
  row("a person with one arm, in numbers", person({ arms: ["right"], fingers: false }), numbered),
  row("a person in inches", person(), dotted, { unit: 0.0254 }),
  row("a person in millimetres", person(), prefixed, { unit: 0.001 }),
  row("a person in feet", person(), recorded, { unit: 0.3048 }),
  row("a person, z up", person(), suffixed, { up: "z" }),
  row("a person, z up, cm", person(), recorded, { up: "z", unit: 0.01 }),
  row("a person, z up, declared", person(), numbered, { up: "z", declares: ["up"] }),
  row("a person, z up, in numbers", person(), numbered, { up: "z" }),
  row("a person in German", person(), habits.german),
  row("a person in French", person(), habits.french),
  row("a person in Spanish", person(), habits.spanish),
  row("a person in Italian", person(), habits.italian),
  row("a person in Polish", person(), habits.polish),
  row("a person in Dutch", person(), habits.dutch),
  row("a person in Portuguese", person(), habits.portuguese),
  row("a person in Swedish", person({ fingers: false }), habits.swedish),
  row("a person in Finnish", person({ fingers: false }), habits.finnish),
  row("a person in Hungarian", person({ fingers: false }), habits.hungarian),
  row("a person in Turkish", person({ fingers: false }), habits.turkish),
  row("a person in Estonian", person({ fingers: false }), habits.estonian),
  row("a person in Japanese", person({ fingers: false }), habits.japanese),
  row("a child of 1.1 m, declared unit", person(), suffixed, { scale: 0.65, declares: ["unit"] }),
  row("a child of 1.1 m, cm", person(), suffixed, { scale: 0.65, unit: 0.01 }),
  row("a child of 0.9 m", person(), recorded, { scale: 0.53 }),
  row("a giant of 6 m, declared unit", person(), suffixed, { scale: 3.5, declares: ["unit"] }),
  row("a giant of 6 m", person(), suffixed, { scale: 3.5 }),
  row("a giant of 3.4 m, cm", person(), prefixed, { scale: 2, unit: 0.01 }),
  row("a dog", dog(), suffixed),
  row("a dog, cm, declared unit", dog(), prefixed, { unit: 0.01, declares: ["unit"] }),
  row("a dog in numbers", dog(), numbered),
  row("a dog in German", dog(), habits.german),
  row("a dog in French", dog(), habits.french),
  row("a dog in Spanish", dog(), habits.spanish),
  row("a dog in Italian", dog(), habits.italian),
  row("a dog in Turkish", dog(), habits.turkish),
  row("a dog in Japanese", dog(), habits.japanese),
  row("a dog, z up", dog(), dotted, { up: "z" }),
  row("a bird", bird(), suffixed),
  row("a bird in German, cm, declared unit", bird(), habits.german, { unit: 0.01, declares: ["unit"] }),
  row("a bird in French", bird(), habits.french),
  row("a bird in numbers", bird(), numbered),
  row("an insect", crawler(3), suffixed),
  row("an insect in numbers", crawler(3), numbered),
  row("a spider", crawler(4), prefixed),
  row("a spider in numbers", crawler(4), numbered),
  row("a snake", snake(), suffixed),
  row("a snake in numbers", snake(14), numbered),
  row("a fish", fish(), suffixed),
  row("a lamp", lamp(), suffixed),
];

/** The document of a skeleton, without motion. @param {Skeleton} skeleton */
export function documentOf({ shape, names, unit = 1, scale = 1, up = "y", declares = [] }) {
  const ids = new Map(shape.joints.map(({ key }, index) => [key, names(key, index)]));
  const nodes = shape.joints.map(({ key, parent, at: [x, y, z] }) => {
    const place = up === "y" ? [x, y, z] : [x, -z, y];
    return {
      id: ids.get(key) ?? key,
      ...(parent === null ? {} : { parent: ids.get(parent) }),
      translation: place.map((value) => Number(((value * scale) / unit).toFixed(6))),
    };
  });
  const space = {
    ...(declares.includes("unit") ? { metresPerUnit: unit } : {}),
    ...(declares.includes("up") ? { up } : {}),
  };
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "skeleton", frameRate: 24, range: [1, 24] },
    ...(Object.keys(space).length === 0 ? {} : { space: { ...space, angle: "degrees" } }),
    nodes,
    curves: [],
  };
}
