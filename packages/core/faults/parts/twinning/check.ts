import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { bytes, floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { bodyPathOf, mirrored } from "../../../motion/body/body-path.ts";
import { flightsOf } from "../../../motion/body/flight.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { distances, heldByBoth } from "../../../motion/parts/held-thing.ts";
import { carrierOf, type Figure, figuresOf, statureOf } from "../../../rig/body.ts";
import { chainOf, curveNamesOfNode } from "../../../rig/pose.ts";
import { restPositionsOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With numbers in working units. */
export interface TwinningFinding extends Finding {
  readonly numbers: {
    readonly correlation: number;
    readonly offset: number;
    readonly pose: number;
  };
}

const settings = {
  correlation: {
    default: 0.95,
    unit: "ratio",
    what: "correlation at zero lag of the one side's motion with the mirrored other side's",
    source: "common practice: the same move, not merely a similar one",
    min: 0,
    max: 1,
  },
  frames: {
    default: 12,
    unit: "frames",
    what: "for how long both sides have to move together",
    source: "common practice: half a second is long enough to be read as one gesture",
    min: 4,
  },
  pose: {
    default: 0.04,
    unit: "H",
    what: "mean distance between the one hand and the mirrored other one up to which the poses are the same",
    source: "common practice: about a hand's breadth",
    min: 0,
  },
  pause: {
    default: 3,
    unit: "frames",
    what: "for how long the hands may pause within one move, at its turning point",
    source: "common practice: a longer stop is a hold",
    min: 0,
  },
  speed: {
    default: 0.1,
    unit: "H/s",
    what: "speed against the chest above which a hand counts as moving",
    source:
      "common practice: 7 mm a frame of a grown person; a hand that drifts more slowly is in a moving hold",
    min: 0,
  },
} as const;

/** Left and right arm do the same at the same time. */
export const twinning = defineCheck({
  name: "twinning",
  title: "Twinning",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  what: "Both arms do the same thing at the same time.",
  why: "Bodies favour a side: arms that mirror each other frame by frame read as one mechanism and flatten the pose.",
  computes:
    "Velocities of both hands against the chest are compared, the right one mirrored on the body's own plane of symmetry. Measured are their correlation at zero lag, their share in size, and the mean distance between the one hand and the mirrored other. A window is half a second in which both move. The note marks the frames from the one on which the hands set out to the one on which they arrive.",
  fix: "Start one arm two or three frames after the other, and let its pose differ.",
  notAFault: [
    "jumps, with the frames that lead into them and out of them, until the arms have come down from balancing the landing",
    "hands joined: near each other, at a distance that stays the same",
    "hands that hold one thing, go to it or leave it",
    "wings: they beat together by nature",
    "fore legs: limbs of a trunk that lies level in its rest pose",
  ],
  limits: ["It looks at hands only; legs mirror each other in every jump and crouch."],
  sources: ["Common practice: left and right are kept apart in time or in pose (twinning)"],
  since: "0.1.0",
  settings,
  comparesMirrored: true,
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const pair = pairOf(figure);
    if (pair === null) return [];
    if (isLevel(study, figure, pair)) {
      excused(
        pair.left,
        0,
        gridOf(study).count - 1,
        "its trunk lies level: its fore limbs are legs or wings",
      );
      return [];
    }
    const { count, dt } = gridOf(study);
    // A minimum is not rounded up by the rate.
    const window = Math.max(4, Math.floor(values.frames + 0.01));
    if (count < window + 2) return [];
    const left = bodyPathOf(study, pair.left);
    const right = mirrored(bodyPathOf(study, pair.right));
    const busy = bothMoving(left, right, values.speed * dt, values.pause);
    excuse(study, index, pair, busy, window);
    const alike = bytes(count);
    const strengths = floats(count);
    for (let from = 1; from + window <= count; from++) {
      if (!allSet(busy, from, from + window)) continue;
      const correlation = correlationOf(left, right, from, from + window);
      if (correlation < values.correlation) continue;
      if (distanceBetween(left, right, from, from + window) > values.pose) continue;
      for (let i = from; i < from + window; i++) {
        alike[i] = 1;
        strengths[i] = Math.max(strengths[i], correlation);
      }
    }
    return runsOf(alike).map(([from, to]) =>
      finding(study, index, pair, left, strengths, { first: from, last: to }, values, window),
    );
  },
  word(finding, words) {
    const { correlation, offset } = finding.numbers;
    return {
      message: `both arms make the same move in ${words.counted(finding.from, finding.to)}, ${words.share(correlation)} alike and with no offset`,
      suggestion: `start the ${words.part.replace(/ ?\(.*/, "")} ${words.frames(offset)} later, or let its pose differ by more than ${words.length(finding.numbers.pose)}`,
    };
  },
});

interface Pair {
  readonly left: number;
  readonly right: number;
  readonly leftArm: number;
  readonly rightArm: number;
}

function pairOf(figure: Figure): Pair | null {
  const last = (side: "left" | "right") => {
    for (const part of ["Hand", "Forearm"] as const) {
      const node = figure.parts.get(`${side}${part}` as BodyPart)?.[0];
      if (node !== undefined) return node;
    }
    return undefined;
  };
  const [left, right] = [last("left"), last("right")];
  const leftArm = figure.parts.get("leftUpperArm")?.[0];
  const rightArm = figure.parts.get("rightUpperArm")?.[0];
  if (left === undefined || right === undefined || leftArm === undefined || rightArm === undefined)
    return null;
  return { left, right, leftArm, rightArm };
}

/**
 * Whether a trunk lies level over its legs in the rest pose: the way from the hips to between the shoulders is less than
 * 45° away from being square to a leg. False where no leg is known.
 */
function isLevel(study: Study, figure: Figure, { leftArm, rightArm }: Pair): boolean {
  const [thigh, foot] = [figure.parts.get("leftThigh")?.[0], figure.parts.get("leftFoot")?.[0]];
  if (thigh === undefined || foot === undefined) return false;
  const rest = restPositionsOf(study);
  const hips = carrierOf(figure);
  const trunk: number[] = [];
  const leg: number[] = [];
  for (let axis = 0; axis < 3; axis++) {
    trunk.push((rest[3 * leftArm + axis] + rest[3 * rightArm + axis]) / 2 - rest[3 * hips + axis]);
    leg.push(rest[3 * foot + axis] - rest[3 * thigh + axis]);
  }
  const along = trunk[0] * leg[0] + trunk[1] * leg[1] + trunk[2] * leg[2];
  const sizes = lengthOf(trunk[0], trunk[1], trunk[2]) * lengthOf(leg[0], leg[1], leg[2]);
  return sizes > 0 && Math.abs(along) < Math.SQRT1_2 * sizes;
}

/** Frames in which both hands move; a turning point of up to `pause` frames belongs to a move. */
function bothMoving(left: Float64Array, right: Float64Array, step: number, pause: number): Uint8Array {
  const busy = bytes(left.length / 3);
  let last = -1;
  for (let i = 1; i < busy.length; i++) {
    if (stepOf(left, i) <= step || stepOf(right, i) <= step) continue;
    busy.fill(1, last >= 0 && i - last <= pause + 1 ? last : i, i + 1);
    last = i;
  }
  return busy;
}

function stepOf(path: Float64Array, i: number): number {
  const k = 3 * i;
  return lengthOf(path[k] - path[k - 3], path[k + 1] - path[k - 2], path[k + 2] - path[k - 1]);
}

/** Takes out the frames in which mirrored arms are natural: around flights, and while the hands hold one thing. */
function excuse(study: Study, index: number, pair: Pair, busy: Uint8Array, window: number): void {
  const { count, rate } = gridOf(study);
  // A jump is led into by a swing of both arms of up to a second, and balanced out of: common practice. Arms that still
  // move when the body has settled are on their way back from balancing it, which takes them as long as the swing did.
  const [swing, settle] = [Math.round(rate), Math.round(0.6 * rate)];
  for (const flight of flightsOf(study, index)) {
    const landing = Math.ceil(flight.to);
    const last = Math.min(count, landing + swing);
    let rest = Math.min(count, landing + settle);
    while (rest < last && busy[rest] === 1) rest++;
    const first = Math.max(0, Math.floor(flight.from) - swing);
    busy.fill(0, first, rest);
    excused(-1, first, rest - 1, "both arms swing with a jump");
  }
  const held = heldByBoth(study, index, pair.left, pair.right);
  const [byLeft, byRight] = [bytes(count), bytes(count)];
  for (const contact of contactsOf(study, index)) {
    if (contact.node !== pair.left && contact.node !== pair.right) continue;
    (contact.node === pair.left ? byLeft : byRight).fill(1, contact.from, contact.to + 1);
    busy.fill(0, contact.from, contact.to + 1);
    excused(-1, contact.from, contact.to, "a hand has a contact");
  }
  for (let i = 0; i < count; i++) if (byLeft[i] === 1 && byRight[i] === 1) held[i] = 1;
  // Both hands go to one thing and leave it together: the move into the hold and the one out of it belong to it.
  for (const [from, to] of runsOf(held)) {
    let first = from;
    while (first > 1 && from - first < swing && isBusyNear(busy, first, -1)) first--;
    let last = to;
    while (last + 1 < count && last - to < swing && isBusyNear(busy, last, 1)) last++;
    busy.fill(0, first, last + 1);
    excused(-1, first, last, "both hands hold one thing, go to it or leave it");
  }
  // Hands that are joined keep their distance. So do hands far apart that move alike, which is twinning itself.
  const half = Math.min(Math.round(0.5 * rate), window);
  const stature = statureOf(study, index);
  const apart = distances(study, pair.left, pair.right);
  const moving = busy.slice();
  for (let from = 0; from + half < count; from++) {
    if (!allSet(moving, from + 1, from + half + 1)) continue;
    let low = Number.POSITIVE_INFINITY;
    let high = 0;
    for (let i = from; i <= from + half; i++) {
      low = Math.min(low, apart[i]);
      high = Math.max(high, apart[i]);
    }
    if (high <= joinedShare * stature && high - low < 0.01 * stature) {
      busy.fill(0, from + 1, from + half + 1);
      excused(-1, from, from + half, "the hands are joined");
    }
  }
}

/** How far apart the wrists of joined hands are at the most, in body heights; a hand is 0.108 long (our choice). */
const joinedShare = 0.15;

/** Whether both hands move within two samples on one side of a sample. */
function isBusyNear(busy: Uint8Array, at: number, way: 1 | -1): boolean {
  return busy[at + way] === 1 || busy[at + 2 * way] === 1;
}

function allSet(flags: Uint8Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (flags[i] === 0) return false;
  return true;
}

/** Correlation of two paths' steps, 0 where one is less than four fifths of the other in size. */
function correlationOf(left: Float64Array, right: Float64Array, from: number, to: number): number {
  let both = 0;
  let l = 0;
  let r = 0;
  for (let k = 3 * from; k < 3 * to; k++) {
    const a = left[k] - left[k - 3];
    const b = right[k] - right[k - 3];
    both += a * b;
    l += a * a;
    r += b * b;
  }
  if (Math.min(l, r) < 0.64 * Math.max(l, r)) return 0;
  return both / Math.sqrt(l * r);
}

function distanceBetween(left: Float64Array, right: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) {
    const k = 3 * i;
    sum += lengthOf(left[k] - right[k], left[k + 1] - right[k + 1], left[k + 2] - right[k + 2]);
  }
  return sum / (to - from);
}

function runsOf(flags: Uint8Array): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < flags.length; i++) {
    if (flags[i] === 0) continue;
    const from = i;
    while (i + 1 < flags.length && flags[i + 1] === 1) i++;
    runs.push([from, i]);
  }
  return runs;
}

function finding(
  study: Study,
  figure: number,
  pair: Pair,
  left: Float64Array,
  strengths: Float64Array,
  steps: { readonly first: number; readonly last: number },
  values: { correlation: number; pose: number },
  window: number,
): TwinningFinding {
  const { first, last: to } = steps;
  // The first step sets out from the sample before it.
  const from = first - 1;
  const frames = to - from;
  let travel = 0;
  let correlation = 0;
  for (let i = first; i <= to; i++) {
    travel += stepOf(left, i);
    correlation += strengths[i] / frames;
  }
  const { rate } = gridOf(study);
  return {
    node: pair.rightArm,
    figure,
    from,
    to,
    measured: { quantity: "correlation of the mirrored arms", value: correlation, unit: "ratio" },
    expected: { max: values.correlation, unit: "ratio", source: settings.correlation.source },
    excess: frames / window,
    size: travel / 2,
    // Two frames at 24 per second for a short gesture, three for a long one: common practice for an offset.
    numbers: {
      correlation,
      offset: Math.max(1, Math.round(((frames > 2 * window ? 3 : 2) * rate) / referenceRate)),
      pose: values.pose,
    },
    fault: { kind: "keys", keys: armKeys(study, pair, from, to) },
  };
}

/** Keys of the right arm in the frames of the fault, those of the channels that change most first. */
function armKeys(study: Study, pair: Pair, from: number, to: number) {
  const { frames } = gridOf(study);
  const rig = rigOf(study);
  const channels = chainOf(rig, pair.right)
    .filter((node) => node === pair.rightArm || node === pair.right || rig.parent[node] === pair.rightArm)
    .flatMap((node) => curveNamesOfNode(study, node))
    .flatMap((name) => {
      const curve = curveOf(study, name);
      if (curve === null || curve.width !== 1) return [];
      const index = curve.frames.findIndex((frame) => frame >= frames[from] - 0.5);
      if (index < 0 || curve.frames[index] > frames[to] + 0.5) return [];
      let change = 0;
      for (
        let key = Math.max(1, index);
        key < curve.frames.length && curve.frames[key] <= frames[to] + 0.5;
        key++
      ) {
        change += Math.abs(curve.values[key] - curve.values[key - 1]);
      }
      return [{ node: curve.node, channel: curve.channel, index, change }];
    })
    .sort((a, b) => b.change - a.change);
  return channels.slice(0, 6).map(({ change: _, ...key }) => key);
}
