// @ts-check
/**
 * Two things at once: arms that mirror each other, moves that compete.
 * @import { Body, FaultKind, Limb, Performance, Place, Poses } from "../types.d.ts"
 */
import { inverse, multiply, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { addTrack, copy, eased, localTurn, setTurn, worldAt } from "../motion/index.mjs";
import { armMoves } from "./parts-chains.mjs";
import { bodyOf, endOf, eventsOf, isBlocked, isBusy, jointOf, lengthOf } from "./tools/limbs.mjs";
import { against, apart, mirrored, rangeOf, turnsIn, turnsOn } from "./tools/turning.mjs";
import { at24, over, within } from "./tools/windows.mjs";

/** @typedef {Place & { leads: string[], follows: string[], girdle: string }} TwinPlace joints of the arm that is copied and of the
 * one that copies, from the shoulder's own carrier to the hand */

/** An arm's joints with the collar bone that carries it. @param {Performance} performance @param {Limb} limb */
function armOf(performance, { joints, girdle }) {
  const { parent } = jointOf(performance, joints[0]);
  return parent === null || parent === girdle ? [...joints] : [parent, ...joints];
}

/** @param {Body} body @param {number} limb index of the arm on the other side, −1 if there is none */
const otherArm = (body, limb) =>
  body.limbs.findIndex(({ kind, side }, n) => n !== limb && kind === "arm" && side !== body.limbs[limb].side);

/** @type {FaultKind} */
export const twinning = {
  name: "twinning",
  checks: ["twinning"],
  unit: "share of a gesture in which the other arm mirrors it",
  sizes: [
    {
      value: 0.6,
      reason:
        "Both arms go out alike and part only on the way back: what people see first in a pose are its two halves.",
    },
    { value: 0.8, reason: "All but the end of the gesture is mirrored." },
    { value: 1, reason: "Both arms do the same from rest to rest, as with a mirror along the spine." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const turns = turnsOn(performance);
    const { first, last } = performance;
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      for (const { limb, from, to } of armMoves(performance, figure, body)) {
        const other = otherArm(body, limb);
        const edge = Math.ceil(at24(performance, 14));
        if (
          other < 0 ||
          to - from < at24(performance, 10) ||
          to + edge > last + edge / 2 ||
          from - edge < first - edge
        )
          continue;
        if ([limb, other].some((n) => isBusy(performance, figure, n, from - edge, to + edge))) continue;
        const leads = armOf(performance, body.limbs[limb]);
        const follows = armOf(performance, body.limbs[other]);
        if (
          leads.length !== follows.length ||
          rangeOf(turns, body.limbs[limb].joints[0], body.limbs[limb].girdle, from, to) < 22
        )
          continue;
        const { girdle } = body.limbs[limb];
        const place = {
          figure,
          joint: follows[follows.length - 1],
          also: [...leads, ...follows],
          from,
          to,
          leads,
          follows,
          girdle,
          limb,
        };
        // Both arms may be meant to do the same, as in a cheer. In a gesture that is shorter than the blend in which the arms
        // part, no share of it could be told from another.
        const likeness = likenessOf(turns, place);
        if (likeness.length < edge || shareOf(likeness) > 0.25) continue;
        places.push(place);
      }
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const twins = /** @type {TwinPlace} */ (place);
    const { from, to, leads, follows } = twins;
    const before = copy(performance);
    const edge = at24(performance, 14);
    const put = (/** @type {number} */ end) => {
      const [first, last] = [
        Math.max(performance.first, Math.floor(from - edge)),
        Math.min(performance.last, to + edge),
      ];
      for (let frame = first; frame <= last; frame++) {
        const share = within(frame, from - edge, from, end, Math.min(to + edge, end + edge));
        leads.forEach((lead, n) => {
          const own = localTurn(before, follows[n], frame);
          const copied = mirrored(localTurn(before, lead, frame));
          setTurn(performance, follows[n], frame, share === 0 ? own : blend(own, copied, share), before);
        });
      }
    };
    // The share is one of the frames in which the leading arm has left its place; what parts goes on looking alike a little.
    for (let end = to; end > from; end--) {
      put(end);
      if (shareOf(likenessOf(turnsOn(performance), twins, turnsOn(before))) <= size + 0.02) break;
    }
  },
  measure: (poses, place, twin) =>
    shareOf(likenessOf(turnsIn(poses), /** @type {TwinPlace} */ (place), turnsIn(twin))),
};

/**
 * On the frames in which the leading arm has left its place: whether the other one mirrors it.
 * @param {import("./tools/turning.mjs").Turns} turns @param {TwinPlace} place
 * @param {import("./tools/turning.mjs").Turns} [usual] says when the leading arm has left its place
 */
function likenessOf(turns, { from, to, leads, follows, girdle }, usual = turns) {
  // Upper arm and forearm; the hand's own drag does not count.
  const pairs = [leads.length - 3, leads.length - 2].filter((n) => n >= 0);
  const start = pairs.map((n) => against(usual, leads[n], girdle, from));
  const likeness = [];
  for (const frame of over(from, to, (at) => at)) {
    const off = Math.max(...pairs.map((n, k) => apart(against(usual, leads[n], girdle, frame), start[k])));
    if (off < 8) continue;
    const gaps = pairs.map((n) =>
      apart(mirrored(against(turns, leads[n], girdle, frame)), against(turns, follows[n], girdle, frame)),
    );
    likeness.push({ frame, isAlike: Math.max(...gaps) < 5 + 0.08 * off });
  }
  return likeness;
}

/** @param {readonly { isAlike: boolean }[]} likeness */
const shareOf = (likeness) =>
  likeness.length === 0 ? 0 : likeness.filter(({ isAlike }) => isAlike).length / likeness.length;

/** From one turn to another, the short way. @param {readonly number[]} a @param {readonly number[]} b
 * @param {number} share */
function blend(a, b, share) {
  const sign = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3] < 0 ? -1 : 1;
  const cosine = Math.min(1, Math.abs(a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]));
  const angle = Math.acos(cosine);
  const [p, q] =
    angle < 1e-6
      ? [1 - share, share]
      : [Math.sin((1 - share) * angle), Math.sin(share * angle)].map((value) => value / Math.sin(angle));
  const sum = a.map((value, k) => p * value + sign * q * b[k]);
  const size = Math.hypot(...sum);
  return sum.map((value) => value / size);
}

/** @typedef {Place & { limb: number, upper: string, lower: string, hand: string, girdle: string, sign: number, reach: number, peak: number }} RivalPlace */

/** @type {FaultKind} */
export const competingMoves = {
  name: "competing moves",
  checks: ["competing-moves"],
  unit: "statures by which a hand moves while another figure has its big move",
  sizes: [
    {
      value: 0.25,
      reason:
        "A hand's way of 45 cm on a grown person: large enough to draw the eye from a gesture that is not larger by much.",
    },
    { value: 0.4, reason: "As large as an ordinary gesture: both ask for the eye at the same moment." },
    { value: 0.52, reason: "Larger than what it competes with; whoever looks at the one misses the other." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const { first, last, figures } = performance;
    if (isBlocked(clean) || figures.length < 2 || figures.length > 4) return [];
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const { id: leader, body: about } of figures) {
      const big = armMoves(performance, leader, about).filter(({ limb, from, to }) => {
        const { joints, girdle } = about.limbs[limb];
        return to - from > at24(performance, 8) && rangeOf(turns, joints[0], girdle, from, to) > 28;
      });
      for (const { from, to } of big) {
        for (const { id: figure, body } of figures) {
          if (figure === leader) continue;
          body.limbs.forEach((limb, n) => {
            const span = Math.max(to - from, Math.ceil(at24(performance, 18)));
            const start = Math.round((from + to - span) / 2);
            const end = start + span;
            if (
              limb.kind !== "arm" ||
              start < first ||
              end > last ||
              isBusy(performance, figure, n, start, end)
            )
              return;
            const hand = endOf(limb);
            const isStill = rangeOf(turns, limb.joints[0], limb.girdle, start, end) < 15;
            const steps = eventsOf(performance, "gait", figure).some(
              (gait) => gait.from < end && gait.to > start,
            );
            if (!isStill || steps) return;
            const sign = limb.side === "left" ? 1 : -1;
            places.push({
              figure,
              joint: limb.joints[0],
              also: [...limb.joints],
              from: start,
              to: end,
              limb: n,
              hand,
              girdle: limb.girdle,
              upper: limb.joints[0],
              lower: limb.joints[1],
              sign,
              reach: lengthOf(limb, performance),
              leader,
            });
          });
        }
      }
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { figure, from, to, upper, lower, hand, girdle, sign, reach } = /** @type {RivalPlace} */ (place);
    const wanted = size * bodyOf(performance, figure).stature;
    const before = copy(performance);
    const span = to - from;
    const lag = at24(performance, 2);
    // Out by the middle, a slow drift there, and back; elbow and hand come later.
    const course = (/** @type {number} */ frame, /** @type {number} */ late) => {
      const tau = (frame - from - late) / (span - 2 * lag);
      return eased(tau / 0.42) * (1 - 0.06 * eased((tau - 0.42) / 0.16)) - 0.94 * eased((tau - 0.58) / 0.42);
    };
    const put = (/** @type {number} */ angle) => {
      for (let frame = from; frame <= to; frame++) {
        // Forward and outward, in the space of what carries the arm.
        const lift = (-angle * course(frame, 0)) / 2;
        const out = (sign * 0.35 * angle * course(frame, 0.5 * lag)) / 2;
        const turn = multiply([0, 0, Math.sin(out), Math.cos(out)], [Math.sin(lift), 0, 0, Math.cos(lift)]);
        setTurn(performance, upper, frame, multiply(turn, localTurn(before, upper, frame)), before);
      }
    };
    const way = () =>
      Math.max(
        ...over(from, to, (frame) =>
          Math.hypot(
            ...subtract(handAt(performance, hand, girdle, frame), handAt(before, hand, girdle, frame)),
          ),
        ),
      );
    for (const [joint, degrees, late] of /** @type {const} */ ([
      [lower, -14, 1],
      [hand, 12, 2],
    ])) {
      addTrack(performance, joint, "rotation.x", (frame) => degrees * course(frame, late * lag), from, to);
    }
    let angle = 2 * Math.asin(Math.min(0.95, wanted / (2 * reach)));
    for (let n = 0; n < 3; n++) {
      put(angle);
      angle = Math.min(2.6, (angle * wanted) / (way() || 1));
    }
    put(angle);
  },
  measure(poses, place, twin) {
    const { figure, from, to, hand, girdle } = /** @type {RivalPlace} */ (place);
    const { stature } = bodyOf(poses.performance, figure);
    const at = (/** @type {Poses} */ shot, /** @type {number} */ frame) =>
      rotate(
        inverse(shot.orientation(girdle, frame)),
        subtract(shot.position(hand, frame), shot.position(girdle, frame)),
      );
    return (
      Math.max(...over(from, to, (frame) => Math.hypot(...subtract(at(poses, frame), at(twin, frame))))) /
      stature
    );
  },
};

/** A hand in the space of what carries the arm. @param {Performance} performance @param {string} hand
 * @param {string} girdle @param {number} frame */
function handAt(performance, hand, girdle, frame) {
  const base = worldAt(performance, girdle, frame);
  return rotate(
    inverse([...base.quaternion]),
    subtract([...worldAt(performance, hand, frame).position], [...base.position]),
  );
}
