// @ts-check
/**
 * Trunk, head and shoulders: turning in one piece, heads that turn alone, shoulders that stay up.
 * @import { Body, FaultKind, KeyedShot, Performance, Place, Poses } from "../types.d.ts"
 */
import { inverse, multiply, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { addTrack, copy, setTurn, worldAt } from "../motion/index.mjs";
import { shares } from "./parts-chains.mjs";
import { fitting, sinkIntoReach } from "./tools/fitting.mjs";
import { bodyOf, eventsOf, isBlocked, jointOf, keepEnds, meets, planted } from "./tools/limbs.mjs";
import { rangeOf, swingOf, turnsIn, turnsOn } from "./tools/turning.mjs";
import { at24, calm, median, over, within } from "./tools/windows.mjs";

/** Joints from the pelvis up to the head, the pelvis apart. @param {Body} body @returns {string[]} */
function columnOf(body) {
  const chain = body.trunk.slice(1);
  /** @type {string[]} */
  const neck = [];
  const parents = new Map(body.joints.map(({ id, parent }) => [id, parent]));
  for (
    let joint = body.head;
    joint != null && !body.trunk.includes(joint);
    joint = parents.get(joint) ?? null
  )
    neck.unshift(joint);
  return [...chain, ...neck];
}

/** Window of a move: opens before it and closes after it. @param {Performance} performance @param {Place} place */
function opening(performance, { from, to }) {
  const edge = at24(performance, 8);
  return {
    first: Math.max(performance.first, Math.floor(from - edge)),
    last: Math.min(performance.last, Math.ceil(to + edge)),
    share: (/** @type {number} */ frame) => within(frame, from - edge, from, to, to + edge),
  };
}

/** @typedef {Place & { column: string[], pelvis: string, carries: boolean }} BlockPlace `carries`: the pelvis has to be given the
 * turn, as it hardly turns itself */

/** Chest and head against the pelvis. @param {import("./tools/turning.mjs").Turns} turns @param {BlockPlace} place */
const twistOf = (turns, { column, pelvis, from, to }) =>
  swingOf(turns, column[column.length - 1], pelvis, from, to);

/** @type {FaultKind} */
export const blockMove = {
  name: "block move",
  checks: ["block-move"],
  unit: "share of the turning between pelvis, chest and head that is missing",
  sizes: shares(
    "Heads outrun the pelvis by 25 to 54° a second in a turn (Exp Brain Res 2006 173:475); less than half of it is stiff.",
    "A fifth of the twist is left, and the shoulders start with the hips.",
    "Pelvis, chest and head are one block.",
  ),
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      const column = columnOf(body);
      const pelvis = body.trunk[0] ?? body.root;
      const chest = body.trunk[body.trunk.length - 1];
      if (body.trunk.length < 2) continue;
      for (const { joints, from, to } of eventsOf(performance, "move", figure)) {
        if (to - from < at24(performance, 6) || !joints.some((joint) => body.trunk.includes(joint))) continue;
        if (rangeOf(turns, chest, null, from, to) < 16) continue;
        const carries = rangeOf(turns, pelvis, null, from, to) < 12;
        const place = {
          figure,
          joint: chest,
          also: [pelvis, body.root, ...column],
          from,
          to,
          column,
          pelvis,
          carries,
        };
        if (twistOf(turns, place) < 3) continue;
        places.push(place);
      }
    }
    return fitting(performance, random.shuffled(places), blockMove, random);
  },
  perform(performance, place, size) {
    const { figure, column, pelvis, carries, from } = /** @type {BlockPlace} */ (place);
    const body = bodyOf(performance, figure);
    const before = copy(performance);
    const { first, last, share } = opening(performance, place);
    calm(performance, column, Math.max(first, from), (frame) => size * share(frame));
    if (carries) {
      // The whole turns as the chest did: about the upright by what the chest has lost of it.
      const chest = body.trunk[body.trunk.length - 1];
      const heading = (/** @type {Performance} */ table, /** @type {number} */ frame) => {
        const ahead = rotate([...worldAt(table, chest, frame).quaternion], [0, 0, 1]);
        return Math.atan2(ahead[0], ahead[2]);
      };
      for (let frame = first; frame <= last; frame++) {
        const lost = heading(before, frame) - heading(performance, frame);
        const yaw = Math.max(-0.6, Math.min(0.6, Math.atan2(Math.sin(lost), Math.cos(lost))));
        const turn = [0, Math.sin(yaw / 2), 0, Math.cos(yaw / 2)];
        if (pelvis !== body.root && jointOf(performance, pelvis).parent !== body.root) continue;
        const base = pelvis === body.root ? [0, 0, 0, 1] : worldAt(performance, body.root, frame).quaternion;
        const world = multiply(turn, [...worldAt(performance, pelvis, frame).quaternion]);
        setTurn(performance, pelvis, frame, multiply(inverse([...base]), world), before);
      }
      sinkIntoReach(
        performance,
        before,
        figure,
        planted(performance, figure, first, last),
        first,
        last,
        share,
      );
    }
    keepEnds(performance, before, figure, first, last);
  },
  measure(poses, place, twin) {
    const block = /** @type {BlockPlace} */ (place);
    return Math.max(0, 1 - twistOf(turnsIn(poses), block) / (twistOf(turnsIn(twin), block) || 1));
  },
};

/** @typedef {Place & { below: string[], base: string }} HeadPlace joints under the head that answer it; what they stand on */

/** How far what carries the head turns with it. @param {import("./tools/turning.mjs").Turns} turns @param {HeadPlace} place */
const answerOf = (turns, { below, base, from, to }) =>
  rangeOf(turns, below[below.length - 1], base, from, to);

/** @type {FaultKind} */
export const loneJoint = {
  name: "lone joint",
  checks: ["lone-joint"],
  unit: "share of the answer of neck and trunk to the head that is missing",
  sizes: shares(
    "Head turns over 15° take neck and chest along (common practice); less than half of that is a head on a spike.",
    "A fifth of the answer is left, under the 1.9° at which turns are told apart (Wilson and others 2000).",
    "The head turns on a body of stone.",
  ),
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      const { head } = body;
      if (head === null) continue;
      const below = columnOf(body).slice(0, -1);
      const base = body.trunk[0] ?? body.root;
      if (below.length === 0) continue;
      for (const { joints, from, to } of eventsOf(performance, "move", figure)) {
        const isGait = eventsOf(performance, "gait", figure).some((gait) => meets(gait, from, to));
        if (isGait || !joints.includes(head) || to - from < at24(performance, 5)) continue;
        const place = { figure, joint: head, also: [...below, base], from, to, below, base };
        if (rangeOf(turns, head, base, from, to) < 18 || answerOf(turns, place) < 4) continue;
        places.push(place);
      }
    }
    return fitting(performance, random.shuffled(places), loneJoint, random);
  },
  perform(performance, place, size) {
    const { figure, joint: head, below, from } = /** @type {HeadPlace} */ (place);
    const before = copy(performance);
    const { first, last, share } = opening(performance, place);
    calm(performance, below, Math.max(first, from), (frame) => size * share(frame));
    const { parent } = jointOf(performance, head);
    for (let frame = first; frame <= last && parent !== null; frame++) {
      // The head looks where it looked: it does all of the turn itself.
      const above = inverse([...worldAt(performance, parent, frame).quaternion]);
      setTurn(
        performance,
        head,
        frame,
        multiply(above, [...worldAt(before, head, frame).quaternion]),
        before,
      );
    }
    keepEnds(performance, before, figure, first, last);
  },
  measure(poses, place, twin) {
    const lone = /** @type {HeadPlace} */ (place);
    return Math.max(0, 1 - answerOf(turnsIn(poses), lone) / (answerOf(turnsIn(twin), lone) || 1));
  },
};

/** @typedef {Place & { chest: string, shoulders: string[] }} ShoulderPlace */

/** @type {FaultKind} */
export const raisedShoulders = {
  name: "raised shoulders",
  checks: ["raised-shoulders"],
  unit: "statures by which the shoulders are up all shot long",
  sizes: [
    { value: 0.012, reason: "2 cm on a grown person: the neck looks short, which reads as cold or afraid." },
    { value: 0.022, reason: "4 cm, half of what shoulders can be shrugged (8 to 10 cm, from memory)." },
    { value: 0.036, reason: "6 cm, two thirds of a shrug, held from first frame to last." },
  ],
  layer: "motion",
  places: (clean, random) =>
    fitting(clean.performance, random.shuffled(shoulderPlaces(clean)), raisedShoulders, random),
  perform(performance, place, size) {
    const { figure, chest, shoulders } = /** @type {ShoulderPlace} */ (place);
    const body = bodyOf(performance, figure);
    const before = copy(performance);
    const height = size * body.stature;
    const { first, last } = performance;
    for (const shoulder of shoulders) {
      const { parent, at } = jointOf(performance, shoulder);
      if (parent === null || parent === chest) {
        addTrack(performance, shoulder, "translation.y", () => height);
        continue;
      }
      // The collar bone lifts its far end; the arm hangs on as it did.
      const across = Math.hypot(at[0], at[1]);
      const slope = Math.atan2(at[1], Math.abs(at[0]));
      const lift = Math.asin(Math.min(0.95, Math.sin(slope) + height / across)) - slope;
      const half = (Math.sign(at[0]) * lift) / 2;
      for (let frame = first; frame <= last; frame++) {
        const base = [...worldAt(before, jointOf(performance, parent).parent ?? chest, frame).quaternion];
        const turn = multiply(inverse(base), [...worldAt(before, parent, frame).quaternion]);
        setTurn(performance, parent, frame, multiply([0, 0, Math.sin(half), Math.cos(half)], turn), before);
        const above = inverse([...worldAt(performance, parent, frame).quaternion]);
        setTurn(
          performance,
          shoulder,
          frame,
          multiply(above, [...worldAt(before, shoulder, frame).quaternion]),
          before,
        );
      }
    }
    keepEnds(performance, before, figure, first, last);
  },
  measure(poses, place, twin) {
    const { figure, chest, shoulders, from, to } = /** @type {ShoulderPlace} */ (place);
    const { stature } = bodyOf(poses.performance, figure);
    const height = (/** @type {Poses} */ shot, /** @type {string} */ joint, /** @type {number} */ frame) =>
      rotate(
        inverse(shot.orientation(chest, frame)),
        subtract(shot.position(joint, frame), shot.position(chest, frame)),
      )[1];
    const all = shoulders.map((joint) =>
      median(over(from, to, (frame) => height(poses, joint, frame) - height(twin, joint, frame))),
    );
    return Math.max(0, Math.min(...all)) / stature;
  },
};

/** @param {KeyedShot} clean @returns {Place[]} */
function shoulderPlaces({ performance }) {
  const { first: from, last: to, rate } = performance;
  if (to - from < 2 * rate) return [];
  return performance.figures.flatMap(({ id: figure, body }) => {
    const arms = body.limbs.filter(({ kind }) => kind === "arm");
    if (arms.length !== 2) return [];
    const shoulders = arms.map(({ joints }) => joints[0]);
    const also = shoulders.flatMap((shoulder) => [
      shoulder,
      jointOf(performance, shoulder).parent ?? shoulder,
    ]);
    return [{ figure, joint: also[1], also, from, to, chest: arms[0].girdle, shoulders }];
  });
}
