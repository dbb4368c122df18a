import { degreesPerRadian, referenceRate } from "../../../base/constants.ts";
import { sifted } from "../../../base/sifted.ts";
import type { Study } from "../../../base/study.ts";
import { carriedPath } from "../../../motion/path/carried.ts";
import { gathered } from "../../../motion/path/shown.ts";
import { deviations } from "../../../motion/path/spike.ts";
import { usualAt } from "../../../motion/path/usual-deviation.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { isRecorded } from "../../shared/keying/on-every-frame.ts";
import { belowCarrier, isSeenInWorld } from "../../spacing/shared/motion-frame.ts";
import { ownFindings, type PacedFinding } from "../../spacing/shared/own-findings.ts";
import { allMotionsOf, type Motion, type Steps } from "../../spacing/shared/paces.ts";
import { isTouched, standsNear } from "../../spacing/shared/touch.ts";
import { usualBreak } from "../../spacing/shared/usual.ts";

/** With numbers in working units. */
export interface KinkedPathFinding extends PacedFinding {
  readonly numbers: {
    readonly turn: number;
    readonly spacing: number;
    readonly cut: number;
    /** Node against which it is judged (rig index); -1 in the world. */
    readonly carrier: number;
  };
}

const settings = {
  turn: {
    default: 60,
    unit: "deg",
    what: "turn of the path from one frame to the next",
    source:
      "common practice: a quarter turn is drawn over three frames or more, at most 30° a frame; twice that in one frame is a corner",
    min: 0,
    max: 180,
  },
  spacing: {
    default: 0.01,
    unit: "H",
    what: "least spacing per frame (at 24 per second) on both sides, in body heights",
    source: "common practice: about 1.7 cm of a grown person, 0.4 m/s; a slower path may turn anywhere",
    min: 0,
  },
  spread: {
    default: 6,
    unit: "ratio",
    what: "how many times more than usual (median × 1.4826) the change of velocity there is off those next to it",
    source:
      "common practice: twice the three spreads at which outlier filters usually cut (Hampel identifier), since motion has sharp accents",
    min: 0,
  },
} as const;

type KinkValues = { readonly [K in keyof typeof settings]: number };

/**
 * The path turns the same way by at most this share of the kink's angle on the two frames next to it together: an arc
 * spreads its turn.
 */
const besideShare = 0.5;
/**
 * Spacing at the kink, at least this share of the spacing next to it: a path that turns has to slow down; halving is a
 * plain ease (our choice).
 */
const atSpeed = 0.5;

/** A corner in an arc. */
export const kinkedPath = defineCheck({
  name: "kinked-path",
  title: "Kinked path",
  family: "paths",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "The path turns a corner within one frame, at speed.",
  why: "To change direction a weight must be stopped and pushed; a corner at full speed takes a force that nothing shows.",
  computes:
    "World paths, pose by pose; for limbs, neck and head, and the trunk also their paths against the node above their first joint. A kink turns by more than 60° from one step to the next, both longer than 0.01 body heights a frame. Both are at least half the steps next to them, which together turn on at most half as much. The change of velocity there is off the middle between those before and after it by more than six times what is usual. Usual is told from the whole shot: the 60th percentile × 1.4826 over poses that are passed at half the speed at least. Of these the third that is nearest in speed counts, or all up to twice as quick, without what the kink bears upon. Where these are fewer than ten it is the median × 1.4826 over ten poses on each side, of those at half the speed at least, if there are three. A path that eases in a bend thus hides no corner, and corners beside each other do not hide one another. Against what carries a part a corner counts where the part's limb stands on nothing. The world must show half of the change of velocity at least, or of how far that is off the changes beside it.",
  fix: "Round the corner over three frames or more, or slow down into it and out of it.",
  notAFault: [
    "what an impact of the whole body gives, upward and no faster than it, a contact of the part's limb",
    "a bounce: a part of no figure that falls and rises again",
    "a turn-round that slows down",
  ],
  limits: [
    "Where a recording, or a bake, has keys on every frame a corner is minor: people who strike turn such corners too.",
    "A part that strikes something which the document does not declare as a contact is noted.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  // What trembles turns corners all the time.
  yieldsTo: ["pop", "quick-top", "jitter"],
  followsCause: true,
  find(study, node, values) {
    return ownFindings(kinks(study, node, values), rigOf(study).parent[node], (parent) =>
      kinks(study, parent, values),
    );
  },
  word({ from, numbers }, words) {
    const { turn, spacing, carrier } = numbers;
    const against = carrier < 0 ? "" : ` against ${words.name(carrier)}`;
    return {
      message: `${words.part} turns a corner of ${words.angle(turn)}${against} at frame ${words.frame(from)} without slowing down from ${words.length(spacing)} a frame`,
      suggestion: `round the corner over frames ${words.frame(from - 1)} to ${words.frame(from + 1)}, about ${words.length(numbers.cut)} inside of it, or slow down to ${words.length(spacing / 3)} a frame there`,
    };
  },
});

function kinks(study: Study, node: number, values: KinkValues): KinkedPathFinding[] {
  const found: KinkedPathFinding[] = [];
  for (const motion of allMotionsOf(study, node))
    if (motion.kind === "position" && (motion.carrier === undefined || isOfLimb(study, node)))
      kinksOf(study, node, motion, values, found);
  return found;
}

/** Whether a node is of a limb, the neck or the trunk: what a tail or a loose chain does, its carrier flings. */
function isOfLimb(study: Study, node: number): boolean {
  const figure = figureOfNode(study, node);
  const part = figure < 0 ? undefined : figuresOf(study)[figure].partOf.get(node);
  return part !== undefined && part !== "tail";
}

function kinksOf(
  study: Study,
  node: number,
  motion: Motion,
  values: KinkValues,
  found: KinkedPathFinding[],
): void {
  const { carrier, pathOf, paceOf, stepsOf, pace } = motion;
  const { poses, steps } = pace;
  const least = (values.spacing * referenceRate) / gridOf(study).rate;
  const leastTurn = Math.cos(values.turn);
  const corners = sifted(study, {
    name: `kinked-path ${node} ${paceOf.definition.name}`,
    sees: [least, leastTurn],
    reach: 3,
    isWhole: poses.length === gridOf(study).count,
    series: () => ({ poses, steps: stepsOf(study, node) ?? steps, path: pathOf(study, node) }),
    count: (series) => series.steps.length,
    sift: (series, from, to, passing) => {
      for (let i = from; i <= to; i++)
        if (turnsAt(series.path, series, i, least, leastTurn) !== -1) passing.push(i);
    },
  });
  if (corners.length === 0) return;
  const path = pathOf(study, node);
  let shown: Float64Array = none;
  let off: Float64Array = none;
  for (const i of corners) {
    const turn = turnsAt(path, pace, i, least, leastTurn);
    const before = steps[i];
    const after = steps[i + 1];
    if (shown.length === 0) {
      shown = gathered(path, poses);
      off = new Float64Array(poses.length);
      deviations(shown, off);
    }
    // What the change of velocity at a pose is off the middle of those beside it is three times what the pose is off the
    // cubic through the poses around it.
    const inShot = 3 * usualAt(shown, off, i, 1);
    const usual = inShot > 0 ? inShot : usualBreak(path, poses, i, atSpeed * Math.min(before, after));
    if (breakHere() < values.spread * usual) continue;
    if (isTouched(study, node, poses[i], poses[i]) || bounces(study, node)) continue;
    if (carrier !== undefined) {
      if (!isSeenInWorld(study, node, motion, i, i + 1)) continue;
      if (standsNear(study, node, poses[i], poses[i])) continue;
    }
    found.push(findingOf(study, node, motion, i, turn, Math.min(before, after), values.turn));
  }
}

/**
 * The angle by which a path turns at a pose at speed, and more there than beside it; −1 where it does not. Writes the
 * steps around the pose.
 */
function turnsAt(
  path: Float64Array,
  { poses, steps }: Steps,
  i: number,
  least: number,
  leastTurn: number,
): number {
  if (i < 2 || i >= poses.length - 2) return -1;
  const before = steps[i];
  const after = steps[i + 1];
  if (before < least || after < least) return -1;
  const cosine = cosineAt(path, poses, i, before * after);
  if (cosine > leastTurn) return -1;
  const outerBefore = steps[i - 1];
  const outerAfter = steps[i + 2];
  if (Math.min(before, after) < atSpeed * Math.max(outerBefore, outerAfter)) return -1;
  stepTo(path, poses, i - 1, ahead);
  stepTo(path, poses, i, here);
  stepTo(path, poses, i + 1, next);
  stepTo(path, poses, i + 2, behind);
  const turn = Math.acos(Math.max(-1, cosine));
  return turnBeside(outerBefore, before, after, outerAfter) > besideShare * turn ? -1 : turn;
}

const none = new Float64Array(0);
const ahead = new Float64Array(3);
const here = new Float64Array(3);
const next = new Float64Array(3);
const behind = new Float64Array(3);

/** The step to a pose, per frame. */
function stepTo(path: Float64Array, poses: Int32Array, pose: number, out: Float64Array): void {
  const a = 3 * poses[pose - 1];
  const b = 3 * poses[pose];
  const scale = 1 / (poses[pose] - poses[pose - 1]);
  for (let axis = 0; axis < 3; axis++) out[axis] = (path[b + axis] - path[a + axis]) * scale;
}

/** {@link cosineOf} the steps to a pose and from it, with nothing in between: every pose at speed asks for it. */
function cosineAt(path: Float64Array, poses: Int32Array, pose: number, lengths: number): number {
  if (!(lengths > 0)) return 1;
  const a = 3 * poses[pose - 1];
  const b = 3 * poses[pose];
  const c = 3 * poses[pose + 1];
  const before = poses[pose] - poses[pose - 1];
  const after = poses[pose + 1] - poses[pose];
  const to = before === 1 ? 1 : 1 / before;
  const on = after === 1 ? 1 : 1 / after;
  const x = (path[b] - path[a]) * to * ((path[c] - path[b]) * on);
  const y = (path[b + 1] - path[a + 1]) * to * ((path[c + 1] - path[b + 1]) * on);
  const z = (path[b + 2] - path[a + 2]) * to * ((path[c + 2] - path[b + 2]) * on);
  return (x + y + z) / lengths;
}

/** Cosine between two steps with a product of lengths; 1 where one of them is none. */
function cosineOf(a: Float64Array, b: Float64Array, lengths: number): number {
  return lengths > 0 ? (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / lengths : 1;
}

/** Angle between two steps with a product of lengths; 0 where one of them is none. */
function angleOf(a: Float64Array, b: Float64Array, lengths: number): number {
  return Math.acos(Math.max(-1, Math.min(1, cosineOf(a, b, lengths))));
}

/**
 * How far the path turns beside the kink, in the kink's own sense: an arc turns on, while a part that is pulled off its
 * way turns back. Reads the steps of the kink; takes their lengths.
 */
function turnBeside(outerBefore: number, before: number, after: number, outerAfter: number): number {
  const turns = (a: Float64Array, b: Float64Array, lengths: number) =>
    sameSense(a, b) ? angleOf(a, b, lengths) : 0;
  return turns(ahead, here, outerBefore * before) + turns(next, behind, after * outerAfter);
}

/** Whether one step turns into another about an axis that is nearer to the kink's than to the opposite one. */
function sameSense(a: Float64Array, b: Float64Array): boolean {
  let sum = 0;
  for (let axis = 0; axis < 3; axis++) {
    const j = (axis + 1) % 3;
    const k = (axis + 2) % 3;
    sum += (a[j] * b[k] - a[k] * b[j]) * (here[j] * next[k] - here[k] * next[j]);
  }
  return sum >= 0;
}

/**
 * How far the change of velocity at the kink is from the middle between those next to it. Reads the steps of the kink.
 */
function breakHere(): number {
  let square = 0;
  for (let axis = 0; axis < 3; axis++) {
    const own = next[axis] - here[axis];
    const beside = here[axis] - ahead[axis] + behind[axis] - next[axis];
    square += (own - beside / 2) ** 2;
  }
  return Math.sqrt(square);
}

/** Whether a part of no figure comes off a floor: it fell, and rises. Reads the steps of the kink. */
function bounces(study: Study, node: number): boolean {
  return figureOfNode(study, node) < 0 && here[1] < 0 && next[1] > 0;
}

function findingOf(
  study: Study,
  node: number,
  { pace: { poses }, carrier }: Motion,
  at: number,
  turn: number,
  spacing: number,
  limit: number,
): KinkedPathFinding {
  const lo = poses[at - 1];
  const degrees = degreesPerRadian;
  // Distance of the corner from the middle of the chord that cuts it.
  const cut = spacing * Math.sin(turn / 2);
  return {
    ...(isRecorded(study, figureOfNode(study, node)) ? { ceiling: "minor" as const } : {}),
    node,
    figure: figureOfNode(study, node),
    from: poses[at],
    to: poses[at],
    measured: { quantity: "turn of the path in one frame", value: turn * degrees, unit: "deg" },
    expected: { max: limit * degrees, unit: "deg", source: settings.turn.source },
    excess: turn / limit,
    size: cut,
    // A corner is rounded over the frames on both sides of it.
    amissOver: 3,
    isCarried: carrier !== undefined,
    numbers: { turn, spacing, cut: cut / 2, carrier: carrier ?? -1 },
    fault: {
      kind: "position",
      subject: node,
      ...(carrier !== undefined && { top: belowCarrier(study, node, carrier) }),
      lo,
      hi: poses[at + 1],
      from: poses[at],
      to: poses[at],
      sees: ["bend", poses[at] - lo, carrier ?? -1],
      strength: (series) =>
        bendAt(
          carrier === undefined ? series : carriedPath(series, worldOf(study, carrier), lo),
          poses[at] - lo,
        ),
    },
  };
}

/** How far a sample lies off the middle of its window's ends, across and along: what a corner bends. */
function bendAt(path: Float64Array, at: number): number {
  const last = path.length - 3;
  const share = at / (path.length / 3 - 1);
  let sum = 0;
  for (let axis = 0; axis < 3; axis++) {
    const line = path[axis] + share * (path[last + axis] - path[axis]);
    sum += (path[3 * at + axis] - line) ** 2;
  }
  return Math.sqrt(sum);
}
