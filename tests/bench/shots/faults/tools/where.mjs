// @ts-check
/**
 * Where a fault may be put: joints and limbs of a clean shot by part of the body, and the moves that they make.
 * @import { Body, ChannelName, Figure, KeyedCurve, KeyedShot, Place, Random } from "../../types.d.ts"
 * @import { Channels, Lever } from "./local.mjs"
 * @import { Move } from "./moves.mjs"
 */
import { moves as changes } from "./curve.mjs";
import { leverOf } from "./local.mjs";

/** @typedef {"arm" | "head" | "trunk" | "root" | "leg" | "wing" | "tail" | "fin" | "neck" | "loose" | "other"} Part */

/**
 * How often a part is drawn. Arms act most; head and torso are looked at first and most (McDonnell et al. 2009);
 * legs are mostly tied to the ground.
 * @type {Readonly<Record<Part, number>>}
 */
const weights = {
  arm: 5,
  head: 3,
  trunk: 2.5,
  root: 2,
  wing: 2.5,
  leg: 1.5,
  tail: 1.5,
  fin: 1.5,
  neck: 1.5,
  loose: 1.5,
  other: 0.5,
};

/** @param {Body} body @param {string} joint @returns {Part} */
export function partOf(body, joint) {
  if (joint === body.root) return "root";
  if (joint === body.head) return "head";
  if (body.trunk.includes(joint)) return "trunk";
  if (neckOf(body).includes(joint)) return "neck";
  return body.limbs.find(({ joints }) => joints.includes(joint))?.kind ?? "other";
}

/** Joints between the trunk and the head, from the trunk on. @param {Body} body @returns {string[]} */
function neckOf({ joints, head, trunk }) {
  const parents = new Map(joints.map(({ id, parent }) => [id, parent]));
  const way = [];
  for (let at = head === null ? null : parents.get(head); at; at = parents.get(at)) {
    if (trunk.includes(at)) return way;
    way.unshift(at);
  }
  return [];
}

/**
 * One joint, or a limb as one: what a fault is put on.
 * @typedef {object} Mover
 * @property {Figure} figure
 * @property {Part} part
 * @property {string} joint where a reader would put the note
 * @property {readonly string[]} also others on which it shows: what hangs on it, or the rest of the limb
 * @property {readonly string[]} joints whose curves are changed
 * @property {Lever} lever
 * @property {number} weight
 * @property {number | undefined} limb index into the body's limbs
 */

/** Everything that hangs on a joint. @param {Body} body @param {string} joint @returns {string[]} */
export function below(body, joint) {
  const found = new Set([joint]);
  for (let before = 0; before !== found.size; ) {
    before = found.size;
    for (const { id, parent } of body.joints) if (parent !== null && found.has(parent)) found.add(id);
  }
  found.delete(joint);
  return [...found];
}

/** Names of a joint's curves that change, turns and places. @param {KeyedShot} shot @param {string} joint @returns {KeyedCurve[]} */
export const curvesOf = (shot, joint) =>
  channelNames.flatMap((channel) => {
    const curve = shot.curves.get(`${joint} ${channel}`);
    return curve !== undefined && curve.keys.length > 1 && changes(curve) ? [curve] : [];
  });

/** @type {readonly ChannelName[]} */
const channelNames = [
  "translation.x",
  "translation.y",
  "translation.z",
  "rotation.x",
  "rotation.y",
  "rotation.z",
];

/** Curves of a place's joints. @param {KeyedShot} shot @param {Place} place @returns {KeyedCurve[]} */
export const curvesAt = (shot, place) => spotOf(place).joints.flatMap((joint) => curvesOf(shot, joint));

/** Joints that have curves, each by itself; fingers are left out, for nobody judges one alone. @param {KeyedShot} shot @returns {Mover[]} */
export function jointsIn(shot) {
  const all = shot.performance.figures.flatMap((figure) => {
    const { body } = figure;
    const fingers = new Set(body.limbs.flatMap((limb) => limb.fingers ?? []).flat());
    return body.joints.flatMap(({ id }) => {
      if (fingers.has(id) || curvesOf(shot, id).length === 0) return [];
      const limb = body.limbs.findIndex(({ joints }) => joints.includes(id));
      /** @type {Mover} */
      const one = {
        figure,
        part: partOf(body, id),
        joint: id,
        also: below(body, id),
        joints: [id],
        lever: leverOf(body, id),
        weight: 1,
        limb: limb < 0 ? undefined : limb,
      };
      return [one];
    });
  });
  return weighted(all);
}

/**
 * Limbs as a whole, neck and head as one, and the joints of the trunk one by one: what makes a move. Legs, which the ground
 * holds, only where they are asked for, and nothing that only drags.
 * @param {KeyedShot} shot @param {boolean} [legs] @returns {Mover[]}
 */
export function moversIn(shot, legs = false) {
  const single = jointsIn(shot).filter(
    ({ limb, part }) => limb === undefined && (part === "trunk" || part === "other"),
  );
  const limbs = shot.performance.figures.flatMap((figure) =>
    chainsOf(figure.body, legs).flatMap(({ kind, joints, index }) => {
      const driven = joints.filter((joint) => curvesOf(shot, joint).length > 0);
      if (driven.length === 0) return [];
      const joint = joints[joints.length - 1];
      /** @type {Mover} */
      const one = {
        figure,
        part: kind,
        joint,
        also: [...joints.filter((id) => id !== joint), ...below(figure.body, joint)],
        joints: driven,
        lever: leverOf(figure.body, joints[0]),
        weight: 1,
        limb: index,
      };
      return [one];
    }),
  );
  return weighted([...single, ...limbs]);
}

/**
 * Chains that make moves of their own.
 * @param {Body} body @param {boolean} legs
 * @returns {{ kind: Part, joints: readonly string[], index: number | undefined }[]}
 */
function chainsOf(body, legs) {
  const limbs = body.limbs
    .map(({ kind, joints }, index) => ({ kind: /** @type {Part} */ (kind), joints, index }))
    .filter(({ kind }) => (kind !== "leg" || legs) && kind !== "loose");
  const { head } = body;
  if (head === null || limbs.some(({ joints }) => joints.includes(head))) return limbs;
  return [...limbs, { kind: "head", joints: [...neckOf(body), head], index: undefined }];
}

/** Each part of the body weighs the same however many joints it has. @param {Mover[]} all @returns {Mover[]} */
function weighted(all) {
  /** @type {Map<Part, number>} */
  const counts = new Map();
  for (const { part } of all) counts.set(part, (counts.get(part) ?? 0) + 1);
  return all.map((one) => ({ ...one, weight: weights[one.part] / (counts.get(one.part) ?? 1) }));
}

/**
 * Items in random order, heavier ones sooner (Efraimidis & Spirakis 2006).
 * @template T @param {Random} random @param {readonly T[]} items @param {(item: T) => number} weightOf @returns {T[]}
 */
export function drawn(random, items, weightOf) {
  return items
    .map((item) => ({ item, at: Math.log(1 - random.next()) / weightOf(item) }))
    .sort((a, b) => b.at - a.at)
    .map(({ item }) => item);
}

/** Frames of a shot for frames at 24 per second, at least one. @param {KeyedShot | Channels} shot @param {number} count */
export const framesAt24 = (shot, count) => Math.max(1, Math.round((count * shot.performance.rate) / 24));

/**
 * A place as the faults of spacing, paths and data make them.
 * @typedef {Place & {
 *   joints: readonly string[], lever: Lever, stature: number, channel: ChannelName, sign: number, spacing: number,
 *   at: number, start: number, peak: number, end: number, move: Move,
 * }} Spot stature in metres, spacing in metres per frame; what a kind does not need is not there
 */

/** @param {Place} place */
export const spotOf = (place) => /** @type {Spot} */ (place);

/** @param {Mover} one @param {number} from @param {number} to @param {Record<string, unknown>} [detail] @returns {Place} */
export const placeOn = ({ figure, joint, also, joints, lever }, from, to, detail = {}) => ({
  figure: figure.id,
  joint,
  also,
  from,
  to,
  joints,
  lever,
  stature: figure.body.stature,
  ...detail,
});

/** Most places that a kind offers in a shot: more would only cost time. */
const offered = 60;

/**
 * The first of the places that are some.
 * @template T @param {readonly T[]} items @param {(item: T) => Place | undefined} make @returns {Place[]}
 */
export function placesFrom(items, make) {
  /** @type {Place[]} */
  const places = [];
  for (const item of items) {
    const place = make(item);
    if (place !== undefined) places.push(place);
    if (places.length === offered) break;
  }
  return places;
}
