import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { angularSpeedOf, localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface FrozenPartFinding extends Finding {
  readonly numbers: {
    readonly frames: number;
    /** How fast it turned just before, rad/s. */
    readonly before: number;
    /** How far the trunk turns meanwhile, radians. */
    readonly carried: number;
    /** Judged frames by which it should trail, and by what angle at most. */
    readonly lag: number;
    readonly amount: number;
    /** What carries it: the last joint of the trunk. */
    readonly trunk: number;
  };
}

const settings = {
  still: {
    default: 0.25,
    unit: "deg/s",
    what: "angular speed under which a joint stands still",
    source:
      "common practice: 0.01° a frame moves the end of an arm by 0.1 mm, a tenth of a pixel where the figure fills a picture of 1080 lines",
    min: 0,
  },
  motion: {
    default: 15,
    unit: "deg/s",
    what: "least angular speed of the part just before and just after",
    source:
      "common practice: 0.6° a frame, at which a forearm drifts in a moving hold; what is slower is at rest",
    min: 0,
  },
  body: {
    default: 12,
    unit: "deg/s",
    what: "angular speed from which the trunk moves on",
    source: "common practice: half a degree a frame, at which a chest drifts in a moving hold",
    min: 0,
  },
  shortest: {
    default: 12,
    unit: "frames",
    what: "shortest freeze of a part that is noted",
    source: "common practice: half a second; one part may wait for less while others act",
    min: 1,
  },
} as const;

/** Frames (at 24 per second) beside a freeze in which the part has to move: a quarter of a second, as long as an ease (our choice). */
const directly = 6;

/** What may freeze: joints of each from the inmost one outwards. */
export const freezingLimbs = [
  ["neck", "head"],
  ["leftUpperArm", "leftForearm", "leftHand"],
  ["rightUpperArm", "rightForearm", "rightHand"],
] as const;

/** A head, an arm or a hand that freezes in the middle of a body that moves on. */
export const frozenPart = defineCheck({
  name: "frozen-part",
  title: "Frozen part",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  ripening: "no bench has a row for it yet",
  notBefore: "splining",
  what: "A head, an arm or a hand stops dead in the middle of a body that moves on, and moves again later.",
  why: "What a moving body carries is shaken by it; a part that keeps its pose to the hundredth of a degree looks switched off.",
  computes:
    "How fast each joint of head and arms turns against its parent. A part is a joint with all that follow it up to head or hand. It is frozen where none of them turns by more than 0.25° a second for 12 frames and more. In the six frames before it and in the six after it one of them goes by 15° a second at least. In half of its frames at least a joint of the trunk turns in the world by more than 12° a second. Of an arm the largest part that is frozen is told.",
  fix: "Let the part drift on, a frame or two behind the trunk.",
  notAFault: [
    "a part that is at rest before or after: it was never in a move",
    "a hand that a contact holds for half of the time or more",
    "a body that stands still as well; see frozen-hold",
    "a pose that step keys hold",
  ],
  limits: ["Legs are not judged, and of fingers nothing is asked."],
  sources: ["Common practice: a moving hold, in which no part of a living thing stops altogether"],
  since: "0.1.0",
  settings,
  // A hand that is still while its forearm sweeps.
  yieldsTo: ["still-wrist"],
  styles: {
    limited: { off: true, why: "A held drawing is the style: what does not act stays as it was drawn." },
    twos: { off: true, why: "A part that is held is one drawing, and has no moving hold." },
  },
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { count } = gridOf(study);
    const found: FrozenPartFinding[] = [];
    const root = carrierOf(figure);
    const trunk = [root, ...(["spine", "chest"] as const).flatMap((part) => figure.parts.get(part) ?? [])];
    const body = fastestOf(
      trunk.map((node) => angularSpeedOf(study, node)),
      count,
    );
    for (const parts of freezingLimbs) {
      const joints = parts.flatMap((part) => figure.parts.get(part) ?? []);
      const speeds = joints.map((node) => localAngularSpeedOf(study, node));
      const told = new Uint8Array(count);
      joints.forEach((_, k) => {
        const speed = fastestOf(speeds.slice(k), count);
        for (const { from, to } of runsWhere(count, (i) => i > 0 && speed[i] < values.still)) {
          if (to - from + 1 < values.shortest || told[from] === 1 || told[to] === 1) continue;
          const still = { from, to, speed, body, trunk: trunk[trunk.length - 1] };
          const finding = frozenIn(study, index, joints.slice(k), still, values);
          if (finding === null) continue;
          told.fill(1, from, to + 1);
          found.push(finding);
        }
      });
    }
    return found;
  },
  word(finding, words) {
    const { before, carried, lag } = finding.numbers;
    const trunk = words.name(finding.numbers.trunk);
    return {
      message: `${words.part} freezes at frame ${words.frame(finding.from)} out of a turn of ${words.angularSpeed(before)} and keeps its pose for ${words.counted(finding.from, finding.to)}, while ${trunk} turns by ${words.angle(carried)}`,
      suggestion: `let ${words.part} drift on through it, ${words.frames(lag)} behind ${trunk}`,
    };
  },
});

interface Still {
  readonly from: number;
  readonly to: number;
  /** Fastest turn of the part's joints against their parents at each sample, and of the trunk's in the world, rad/s. */
  readonly speed: Float64Array;
  readonly body: Float64Array;
  /** The last joint of the trunk. */
  readonly trunk: number;
}

/** What is wrong with a part whose joints stand still at samples from..to; null for nothing. */
function frozenIn(
  study: Study,
  figure: number,
  joints: readonly number[],
  { from: first, to, speed, body, trunk }: Still,
  values: { readonly motion: number; readonly body: number; readonly shortest: number },
): FrozenPartFinding | null {
  const { count, rate } = gridOf(study);
  const near = Math.round((directly * rate) / referenceRate);
  // Sample `first` repeats the one before it.
  const from = first - 1;
  const before = largestIn(speed, Math.max(1, from - near + 1), from);
  const after = largestIn(speed, to + 1, Math.min(count - 1, to + near));
  if (before < values.motion || after < values.motion) return null;
  let moving = 0;
  let carried = 0;
  for (let i = first; i <= to; i++) {
    carried += body[i] / rate;
    if (body[i] > values.body) moving++;
  }
  const frames = to - from;
  if (2 * moving < frames) return null;
  if (joints.some((node) => isCutBetween(cutsOf(study, node), from - 1, to + 1))) {
    excused(joints[0], from, to, "step keys hold it");
    return null;
  }
  // Of an arm its hand, where that is known.
  const hand = joints[joints.length - 1];
  const held = contactsOf(study, figure).reduce(
    (sum, contact) =>
      contact.node === hand
        ? sum + Math.max(0, Math.min(to, contact.to) - Math.max(from, contact.from) + 1)
        : sum,
    0,
  );
  if (2 * held >= frames) {
    excused(hand, from, to, "a contact holds it for half of the time or more");
    return null;
  }
  const reach = farReachOf(study, joints[0]);
  return {
    // A neck and its head are told as the head.
    node: figuresOf(study)[figure].parts.get("head")?.includes(hand) === true ? hand : joints[0],
    figure,
    from,
    to,
    measured: { quantity: "frames in which nothing of the part turns", value: frames, unit: "frames" },
    expected: { max: values.shortest, unit: "frames", source: settings.shortest.source },
    excess: frames / values.shortest,
    size: missedShare * carried * reach,
    numbers: {
      frames,
      before,
      carried,
      lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
      amount: Math.min(driftShare * carried, mostDrift),
      trunk,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, joints, from, to) },
  };
}

/** Share of its trunk's turn whose lack is seen of a frozen part: what it would have lagged by, on the average (our choice). */
const missedShare = 0.1;
/** Share of its trunk's turn by which a fix lets it drift (our choice). */
const driftShare = 0.25;
/** Most that a part drifts while it is held, radians (6°): what moves a hand at the end of an arm by a few centimetres, common practice. */
const mostDrift = Math.PI / 30;

/** The largest of several series at each sample. */
function fastestOf(all: readonly Float64Array[], count: number): Float64Array {
  const fastest = floats(count);
  for (const speed of all) {
    for (let i = 0; i < count; i++) if (speed[i] > fastest[i]) fastest[i] = speed[i];
  }
  return fastest;
}

function largestIn(series: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let i = from; i <= to; i++) if (series[i] > largest) largest = series[i];
  return largest;
}
