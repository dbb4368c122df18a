// @ts-check
// Skeletons of several builds. Names here are roles; a scene gives its own names to them.
import { bothSides, makeRig } from "./rig.mjs";

/**
 * A person. @param {number} h height in metres @param {{ legs?: number, wide?: number, mass?: number, arms?: string[], head?: number }} [o]
 */
export function person(h, { legs = 0.48, wide = 1, mass = 70, arms = ["L", "R"], head = 0.13 } = {}) {
  const m = mass / 70;
  const leg = h * legs;
  const trunk = h * (1 - legs - head);
  const rows = [
    ["hips", null, [0, leg + 0.02 * h, 0], 10 * m, "yxz"],
    ["waist", "hips", [0, trunk * 0.2, 0], 10 * m, "yxz"],
    ["chest", "waist", [0, trunk * 0.35, 0], 15 * m, "yxz"],
    ["neck", "chest", [0, trunk * 0.38, 0], 1 * m, "yxz"],
    ["head", "neck", [0, trunk * 0.08, 0.01 * h], 5 * m, "yxz"],
    ["crown", "head", [0, h * head, 0], 0],
    ...bothSides([
      ["thigh*", "hips", [0.055 * h * wide, -0.02 * h, 0], 7 * m, "xzy"],
      ["shin*", "thigh*", [0, -leg * 0.48, 0], 3 * m, "xzy"],
      ["foot*", "shin*", [0, -leg * 0.45, 0], 1 * m, "xzy"],
      ["ball*", "foot*", [0, -leg * 0.07, 0.085 * h], 0],
      ["toe*", "ball*", [0, 0, 0.035 * h], 0],
    ]),
    ...bothSides([
      ["clav*", "chest", [0.02 * h, trunk * 0.3, 0], 0.5 * m],
      ["arm*", "clav*", [0.085 * h * wide, 0, 0], 2 * m, "xzy"],
      ["fore*", "arm*", [0, -0.165 * h, 0], 1.2 * m, "xzy"],
      ["hand*", "fore*", [0, -0.145 * h, 0], 0.4 * m, "xzy"],
      ["tip*", "hand*", [0, -0.085 * h, 0], 0],
    ]).filter((r) => arms.includes(r[0].slice(-1))),
  ];
  return makeRig(/** @type {any} */ (rows));
}
/** @param {string} s */
export const legOf = (s) => [`thigh${s}`, `shin${s}`, `foot${s}`, `ball${s}`];

/**
 * Four legs. Heights and lengths in metres; the legs have three bones and an end.
 * @param {{ hip: number, body: number, mass: number, wide: number, neck: number[], head: number[], tail: number[], tails: number,
 *   hind?: number[], fore?: number[] }} o  shares of the leg's height by bone
 */
export function beast({
  hip,
  body,
  mass,
  wide,
  neck,
  head,
  tail,
  tails,
  hind = [0.42, 0.44, 0.34],
  fore = [0.36, 0.42, 0.3],
}) {
  const rows = /** @type {any[]} */ ([
    ["hips", null, [0, hip, 0], mass * 0.2, "yxz"],
    ["loin", "hips", [0, 0.03 * body, body * 0.3], mass * 0.2],
    ["chest", "loin", [0, -0.01 * body, body * 0.4], mass * 0.25],
    ["neck", "chest", [0, body * 0.12, body * 0.22], mass * 0.06],
    ["head", "neck", neck, mass * 0.06],
    ["nose", "head", head, 0],
  ]);
  for (let i = 1; i <= tails; i++)
    rows.push([
      `tail${i}`,
      i === 1 ? "hips" : `tail${i - 1}`,
      i === 1 ? [0, 0.05 * body, -0.12 * body] : tail,
      i < tails ? mass * 0.005 : 0,
    ]);
  rows.push(
    ...bothSides([
      ["thigh*", "hips", [wide, 0, 0], mass * 0.04, "xzy"],
      ["shin*", "thigh*", [0, -hind[0] * hip, 0.001], mass * 0.02],
      ["hock*", "shin*", [0, -hind[1] * hip, 0], mass * 0.008],
      ["hoof*", "hock*", [0, -hind[2] * hip, 0], 0],
      ["upper*", "chest", [wide, -0.06 * body, body * 0.12], mass * 0.03, "xzy"],
      ["lower*", "upper*", [0, -fore[0] * hip, 0], mass * 0.015],
      ["wrist*", "lower*", [0, -fore[1] * hip, 0], mass * 0.006],
      ["pad*", "wrist*", [0, -fore[2] * hip, 0], 0],
    ]),
  );
  return makeRig(rows);
}
/** @param {string} s */
export const hindOf = (s) => [`thigh${s}`, `shin${s}`, `hock${s}`, `hoof${s}`];
/** @param {string} s */
export const foreOf = (s) => [`upper${s}`, `lower${s}`, `wrist${s}`, `pad${s}`];

/** A name for each role out of a table, with the role itself for what is left out. @param {Record<string, string>} table @param {string} [prefix] */
export const names =
  (table, prefix = "") =>
  (/** @type {string} */ role) => {
    const side = role.match(/^(.*?)([LR])$/);
    if (table[role]) return prefix + table[role];
    if (side && table[`${side[1]}*`])
      return (
        prefix + table[`${side[1]}*`].replace("*", side[2] === "L" ? (table.L ?? "L") : (table.R ?? "R"))
      );
    return prefix + role;
  };
/** Masses by name. @param {import('./rig.mjs').Rig} rig @param {(role: string) => string} name */
export const masses = (rig, name) =>
  Object.fromEntries(rig.joints.filter((j) => j.mass).map((j) => [name(j.id), j.mass]));
