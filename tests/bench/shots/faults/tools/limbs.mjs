// @ts-check
/**
 * Who stands on what and when, and how ends are kept or moved while the rest of a body changes.
 * @import { Body, Event, KeyedShot, Limb, Performance, Place, Poses, Vector } from "../../types.d.ts"
 */

import { rotate } from "../../../../../demo/motion/vector.mjs";
import { figureOf, resolve, worldAt } from "../../motion/index.mjs";

/** @param {Performance} performance @param {string} figure @returns {Body} */
export const bodyOf = (performance, figure) => figureOf(performance, figure).body;

/**
 * Events of one kind, with their fields.
 * @template {Event["kind"]} K @param {Performance} performance @param {K} kind @param {string} [figure]
 * @returns {Extract<Event, { kind: K }>[]}
 */
export const eventsOf = (performance, kind, figure) =>
  /** @type {Extract<Event, { kind: K }>[]} */ (
    performance.events.filter(
      (event) => event.kind === kind && (figure === undefined || event.figure === figure),
    )
  );

/** @param {{ from: number, to: number }} a @param {number} from @param {number} to */
export const meets = (a, from, to) => a.from <= to && a.to >= from;

/** Whether poses in step keys tell of this shot. @param {KeyedShot} clean */
export const isBlocked = ({ style }) => style.stage === "blocked";

/** Whether a joint has a key between two frames: else a fault of those frames is in no pose of a blocked shot.
 * @param {KeyedShot} clean @param {string} id @param {number} from @param {number} to */
export const isPosedIn = ({ curves }, id, from, to) =>
  [...curves.values()].some(
    ({ joint, keys }) => joint === id && keys.some(({ frame }) => frame >= from && frame <= to),
  );

/** Limbs that stand on something between two frames. @param {Performance} performance @param {string} figure
 * @param {number} from @param {number} to @returns {number[]} */
export const planted = (performance, figure, from, to) => [
  ...new Set(
    eventsOf(performance, "plant", figure)
      .filter((event) => meets(event, from, to))
      .map(({ limb }) => limb),
  ),
];

/** Limbs that hold a prop between two frames. @param {Performance} performance @param {string} figure
 * @param {number} from @param {number} to @returns {number[]} */
export const holding = (performance, figure, from, to) => [
  ...new Set(
    eventsOf(performance, "hold-prop", figure)
      .filter((event) => meets(event, from, to))
      .flatMap(({ limbs }) => limbs),
  ),
];

/** Whether a limb's end stands or holds something. @param {Performance} performance @param {string} figure
 * @param {number} limb @param {number} from @param {number} to */
export const isBusy = (performance, figure, limb, from, to) =>
  planted(performance, figure, from, to).includes(limb) ||
  holding(performance, figure, from, to).includes(limb);

/**
 * Keeps the ends of limbs that stand or hold where they are in `before`, on all frames from the one to the other, so that
 * a foot that takes a step in between keeps to its way.
 * @param {Performance} performance changed in place @param {Performance} before
 * @param {string} figure @param {number} from @param {number} to @param {readonly number[]} [except] limbs left alone
 */
export function keepEnds(performance, before, figure, from, to, except = []) {
  const [start, end] = [
    Math.max(performance.first, Math.floor(from)),
    Math.min(performance.last, Math.ceil(to)),
  ];
  const limbs = new Set([...planted(before, figure, start, end), ...holding(before, figure, start, end)]);
  for (const limb of limbs) {
    if (!except.includes(limb)) resolve(performance, before, figure, limb, start, end);
  }
}

/** The joint whose place a limb's solver meets: foot, hand or last joint. @param {Limb} limb @returns {string} */
export const endOf = ({ sole, joints, kind }) =>
  sole?.foot ?? (kind === "arm" ? joints[Math.min(2, joints.length - 1)] : joints[joints.length - 1]);

/** Points of a limb that touch the ground. @param {Limb} limb @returns {{ joint: string, at: Vector }[]} */
export const touching = (limb) =>
  limb.sole === undefined
    ? [{ joint: endOf(limb), at: [0, 0, 0] }]
    : [
        { joint: limb.sole.foot, at: limb.sole.heel },
        { joint: limb.sole.tip, at: limb.sole.toe },
      ];

/** Where those points are. @param {Poses} poses @param {Limb} limb @param {number} frame @returns {Vector[]} */
export const contactPoints = (poses, limb, frame) =>
  touching(limb).map(({ joint, at }) => poses.point(joint, at, frame));

/** The same on the table. @param {Performance} performance @param {Limb} limb @param {number} frame
 * @returns {Vector[]} */
export const contactPointsAt = (performance, limb, frame) =>
  touching(limb).map(({ joint, at }) => {
    const { position, quaternion } = worldAt(performance, joint, frame);
    const turned = rotate([...quaternion], at);
    return [position[0] + turned[0], position[1] + turned[1], position[2] + turned[2]];
  });

/** Height of the lowest of them. @param {Poses} poses @param {Limb} limb @param {number} frame */
export const lowest = (poses, limb, frame) =>
  Math.min(...contactPoints(poses, limb, frame).map((point) => point[1]));

/** Body and limb of a place. @param {Poses} poses @param {Place} place @returns {{ body: Body, limb: Limb }} */
export function limbAt(poses, place) {
  const body = bodyOf(poses.performance, place.figure);
  return { body, limb: body.limbs[/** @type {number} */ (place.limb)] };
}

/** Joint that carries a body up and down: the pelvis where it has a height of its own, else the root.
 * @param {Performance} performance @param {Body} body */
export const carrierOf = (performance, { root, trunk }) =>
  trunk[0] !== undefined && performance.tracks.has(`${trunk[0]} translation.y`) ? trunk[0] : root;

/** The swing of a limb that ends or begins within two frames of a plant. @param {Performance} performance
 * @param {{ figure: string, limb: number, from: number, to: number }} plant @param {"before" | "after"} side */
export const swingBeside = (performance, plant, side) =>
  eventsOf(performance, "swing", plant.figure).find(
    (swing) =>
      swing.limb === plant.limb &&
      Math.abs(side === "before" ? swing.to - plant.from : swing.from - plant.to) <= 2,
  );

/** A joint by its id. @param {Performance} performance @param {string} id */
export function jointOf({ figures }, id) {
  for (const { body } of figures) {
    const found = body.joints.find((joint) => joint.id === id);
    if (found !== undefined) return found;
  }
  throw new Error(`There is no joint "${id}" in this performance.`);
}

/** Length of a limb that is stretched straight, from its first joint to its end. @param {Limb} limb
 * @param {Performance} performance */
export function lengthOf(limb, performance) {
  const end = limb.joints.indexOf(endOf(limb));
  const bones = limb.joints.slice(1, end + 1).map((joint) => Math.hypot(...jointOf(performance, joint).at));
  return bones.reduce((sum, bone) => sum + bone, 0);
}
