import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { legPairsOf, type Tread } from "../../../motion/body/treads.ts";
import { wingPairsOf } from "../../../motion/body/wing-pairs.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { type OddStretch, oddStretchesOf } from "./odd-steps.ts";
import { type WingLag, wingLagsOf } from "./wing-lag.ts";

/** With numbers in working units. */
export interface OutOfStepFinding extends Finding {
  /** What is out of step: a leg that lands beside its time, one that misses a step, or a wing. */
  readonly about: "leg" | "missed" | "wing";
  readonly numbers: {
    /** Samples by which it is late; negative for early. */
    readonly late: number;
    readonly share: number;
    /** Landings that are off, or beats. */
    readonly times: number;
    /** The end of the leg, or the wing, and of the one on the other side (rig indices). */
    readonly own: number;
    readonly other: number;
  };
  /** Nodes of the leg, or of the wing, from the body outwards. */
  readonly limb: readonly number[];
}

const settings = {
  steps: {
    default: 0.125,
    unit: "share",
    what: "share of a stride by which a foot lands beside halfway between two landings of the foot on the other side",
    source:
      "from memory: in walk, trot and pace the feet of each pair land evenly spaced in time (Hildebrand 1965, Science 150:701). An eighth is half of the way to the next beat of a walk",
    min: 0.02,
    max: 0.5,
  },
  wings: {
    default: 1 / 12,
    unit: "share",
    what: "share of a beat by which one wing is behind the other",
    source:
      "geometry: a twelfth of a beat is 30° of it; as the one wing passes the level, the other is half of its swing away, and the body would roll",
    min: 0.01,
    max: 0.5,
  },
} as const;

type Values = { readonly [K in keyof typeof settings]: number };

/** A leg that falls beside its place in the gait, or a wing that beats behind the other. */
export const outOfStep = defineCheck({
  name: "out-of-step",
  title: "Out of step",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  notBefore: "splining",
  what: "A leg of an animal that walks or trots lands beside its time, or misses a step, while the other legs keep theirs; or one wing beats behind the other.",
  why: "Legs and wings of one body keep one beat. A leg that is a few frames off reads as a limp that nobody meant. Wings that are apart would roll the body over.",
  computes:
    "Bodies on four legs and more. A foot lands where it is farthest ahead of the body, along the way that the body goes; legs that lie opposite each other are a pair. In a walk, a trot or a pace each foot of a pair lands halfway between two landings of the other one. A landing is off where it is beside halfway by an eighth of the stride, and by a frame. Most of the other pairs have to keep halfway within half of that. Of the pair that leg is named which is farther from where it lands else, against the other pairs. Where it lands nowhere else, it is the one that shares no beat with a leg of another pair. Else it is the one farther from the nearest quarter of a stride. Where a foot does not land between two landings of the other, it misses a step. Landings in a row are one note; it tells the median of how far they are off, as a share of the stride. Of wings, the turning points of the elevation of the tips against the body are compared. One wing is behind where five of them in a row, two beats, are a twelfth of a beat behind those of the other. Less than three quarters of a frame is no lag. The median is told.",
  fix: "Slide the keys of the leg, or of the wing, by the frames that are named.",
  notAFault: [
    "gallop, canter and bounds, in which the feet of all pairs land one shortly after the other",
    "starting, stopping and changes of gait, in which no pair keeps halfway or strides differ by more than 1.4 times",
    "a wing that is before the other while the body rolls or turns, by 15° within a beat",
    "a leg that stands for a shorter time than its opposite, by an eighth and more: that is a limp, and a minor note at most",
  ],
  limits: [
    "Bodies that step on the spot have no way that they go: they are not judged.",
    "Of two legs it is silent: who limps and who stumbles is acting.",
    "Which gait an animal takes is not judged, as long as its pairs keep step.",
  ],
  sources: [
    "Hildebrand 1965, Science 150:701: symmetrical gaits (from memory)",
    "Zeni, Richards and Higginson 2008, Gait & Posture 27:710: a foot lands where it is farthest ahead of the body (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const pairs = legPairsOf(study, figure);
    const legs = oddStretchesOf(pairs, values.steps).map((odd) => legFinding(study, figure, odd, values));
    const wings = wingPairsOf(study, figure).flatMap((pair) =>
      wingLagsOf(study, figure, pair, values.wings).map((lag) => wingFinding(study, figure, lag, values)),
    );
    return [...legs, ...wings].filter(({ node, from, to }) => !isCutBetween(cutsOf(study, node), from, to));
  },
  word({ about, numbers, from, to }, words) {
    const { late, share, times, own, other } = numbers;
    const side = late > 0 ? "late" : "early";
    const by = words.frames(Math.abs(late));
    // Keys stand on frames.
    const slide = words.frames(Math.max(1, Math.round(Math.abs(late))));
    if (about === "missed") {
      return {
        message: `${words.name(own)} misses a step, ${words.span(from, to)}: ${words.name(other)} lands twice while it does not land, and the other legs keep step`,
        suggestion: `let it step halfway between the two landings of ${words.name(other)}`,
      };
    }
    if (about === "wing") {
      return {
        message: `${words.part} beats ${by} behind ${words.name(other)}, ${words.span(from, to)}: ${words.share(share)} of a beat`,
        suggestion: `slide the keys of ${words.part} ${slide} earlier`,
      };
    }
    return {
      message: `${words.name(own)} lands ${by} ${side} ${times > 1 ? "stride after stride" : "once"}, ${words.span(from, to)}: ${words.share(share)} of a stride beside halfway between two landings of ${words.name(other)}; the other legs keep step`,
      suggestion: `slide the keys of the leg ${slide} ${late > 0 ? "earlier" : "later"}`,
    };
  },
});

/** The nodes of a limb, from where it leaves what carries other limbs, or the body, to its end. */
function limbTo(study: Study, figure: number, end: number, others: readonly number[]): number[] {
  const rig = rigOf(study);
  const carrier = carrierOf(figuresOf(study)[figure]);
  const nodes = [end];
  for (let at = rig.parent[end]; at >= 0 && at !== carrier; at = rig.parent[at]) {
    if (others.some((other) => isAbove(rig, at, other))) break;
    nodes.unshift(at);
  }
  return nodes;
}

/** A leg stands for so much less of its stride than its opposite that it is spared: a limp (our choice, as for landings). */
const spared = 7 / 8;

/** Samples for which a leg stands each time that it lands between two samples. */
function standsOf({ landings, lifts }: Tread, from: number, to: number): number[] {
  return [...landings].flatMap((at) => {
    const lift = lifts.find((one) => one > at);
    return at < from || lift === undefined || lift > to ? [] : [lift - at];
  });
}

function legFinding(study: Study, figure: number, odd: OddStretch, { steps }: Values): OutOfStepFinding {
  const { leg, other, from, to, late, stride, missed } = odd;
  const ends = legPairsOf(study, figure).flatMap((pair) => pair.map(({ end }) => end));
  const limb = limbTo(
    study,
    figure,
    leg.end,
    ends.filter((end) => end !== leg.end),
  );
  const body = worldOf(study, carrierOf(figuresOf(study)[figure])).position;
  const way = (distanceBetween(body, from, body, to) / Math.max(1, to - from)) * stride;
  const share = Math.abs(late);
  const isLimp = Math.max(...standsOf(leg, from, to)) < spared * Math.min(...standsOf(other, from, to));
  return {
    // All of the leg is out of step; told is its foot.
    node: limb[0],
    figure,
    from,
    to,
    seenAt: [...limb, other.end],
    measured: {
      quantity: missed
        ? "share of a stride without a landing"
        : "landing beside halfway, as a share of a stride",
      value: missed ? 1 : share,
      unit: "share",
    },
    expected: { max: steps, unit: "share", source: settings.steps.source },
    excess: share / steps,
    size: way * share,
    ...(isLimp && { ceiling: "minor" as const }),
    about: missed ? "missed" : "leg",
    numbers: { late: late * stride, share, times: odd.steps, own: leg.end, other: other.end },
    limb,
    fault: { kind: "keys", keys: keysOfNodes(study, limb, from, to, 3) },
  };
}

function wingFinding(
  study: Study,
  figure: number,
  { pair, from, to, late, beat, beats }: WingLag,
  { wings }: Values,
): OutOfStepFinding {
  const [node, other] = late > 0 ? [pair.left, pair.right] : [pair.right, pair.left];
  const rig = rigOf(study);
  const limb = [node];
  for (let at = node; rig.children[at].length > 0; ) {
    at = rig.children[at][0];
    limb.push(at);
  }
  const [root, tip] = [node, limb[limb.length - 1]].map((one) => worldOf(study, one).position);
  let way = 0;
  for (let i = from; i < to; i++) {
    let squared = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) squared += (tip[k + 3] - root[k + 3] - tip[k] + root[k]) ** 2;
    way += Math.sqrt(squared);
  }
  const share = Math.abs(late) / beat;
  return {
    node,
    figure,
    from,
    to,
    seenAt: [...limb, other],
    measured: {
      quantity: "lag of a wing behind the other, as a share of a beat",
      value: share,
      unit: "share",
    },
    expected: { max: wings, unit: "share", source: settings.wings.source },
    excess: share / wings,
    size: (way / Math.max(1, to - from)) * Math.abs(late),
    about: "wing",
    numbers: { late: Math.abs(late), share, times: beats, own: node, other },
    limb,
    fault: { kind: "keys", keys: keysOfNodes(study, limb, from, to, 3) },
  };
}
