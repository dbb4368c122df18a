import { floats } from "../../../base/room.ts";
import { measure, type Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { massCentreOf, massCentreVelocityOf } from "../../../motion/body/mass-centre.ts";
import { carrierOf, figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { acrossSight } from "../../../staging/across.ts";
import { type Lens, lensOf } from "../../../staging/camera.ts";
import { isInPicture, projectPoint, seenWidth } from "../../../staging/screen.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface CompetingMovesFinding extends Finding {
  readonly numbers: {
    readonly first: number;
    readonly second: number;
    readonly firstNode: number;
    readonly wait: number;
  };
}

const settings = {
  frames: {
    default: 3,
    unit: "frames",
    what: "how close together in time two peaks have to be to compete",
    source: "common practice: the eye cannot go from one to the other in an eighth of a second",
    min: 0,
  },
  apart: {
    default: 1,
    unit: "H",
    what: "least distance between the two",
    source: "common practice: closer than a body they are seen as one event",
    min: 0,
  },
  speed: {
    default: 0.8,
    unit: "H/s",
    what: "least speed of a big move",
    source: "common practice: about a walking pace of the whole body",
    min: 0,
  },
  stands: {
    default: 2,
    unit: "ratio",
    what: "how many times a peak stands over the figure's median speed",
    source: "common practice: an accent is at least twice as fast as what goes on around it",
    min: 1,
  },
  crowd: {
    default: 3,
    unit: "count",
    what: "up to how many moving figures a shot is judged; with more it shows a crowd",
    source:
      "common practice: two or three moving figures are staged as a scene, each to be followed; more are staged as one mass",
    min: 2,
  },
} as const;

interface Peak {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly speed: number;
}

/** Two figures make their big move at the same moment. */
export const competingMoves = defineCheck({
  name: "competing-moves",
  title: "Competing moves",
  family: "parts",
  scope: "shot",
  ceiling: "minor",
  isOfAct: true,
  what: "Two figures make a big move at the same moment in different places.",
  why: "The eye can follow one thing at a time; of two big moves at once one is lost.",
  computes:
    "Peaks of the fastest mass-carrying motion of each figure that stand over its median. That motion is the speed of its centre of mass, or a third of that of a hand or a foot against it: a limb is a smaller shape. The note is on what moves so, hips or limb. At fault are two of different figures within three frames and more than a body height apart. Where a camera holds, speeds and distance are taken across the line of sight. Both have to be in the picture then, and the one that is smaller in it is told.",
  fix: "Let the second begin when the first one ends, or make one of them smaller.",
  notAFault: ["a reaction: it begins after the first one ends", "crowds"],
  limits: ["Without a camera it judges in the world: two moves behind each other may not compete."],
  sources: ["Common practice: staging; one action at a time"],
  since: "0.1.0",
  settings,
  find(study, _shot, values) {
    const figures = figuresOf(study);
    if (figures.length < 2) return [];
    const peaks = figures.map((_, index) => peaksOf(study, index, values));
    const moving = peaks.filter((list) => list.length > 0).length;
    if (moving < 2 || moving > values.crowd) return [];
    const found: CompetingMovesFinding[] = [];
    for (let a = 0; a < figures.length; a++) {
      for (let b = a + 1; b < figures.length; b++) {
        for (const p of peaks[a]) {
          for (const q of peaks[b]) {
            const finding = competing(study, [a, p], [b, q], values);
            if (finding !== null) found.push(finding);
          }
        }
      }
    }
    return found;
  },
  word(finding, words) {
    const { first, second, wait } = finding.numbers;
    return {
      message: `two big moves compete at ${words.span(finding.from, finding.to)}: ${words.name(finding.numbers.firstNode)} (${words.speed(first)}) and ${words.part} (${words.speed(second)})`,
      suggestion: `start the move of ${words.part} ${words.frames(wait)} later, when the other one is over`,
    };
  },
});

function competing(
  study: Study,
  [a, p]: [number, Peak],
  [b, q]: [number, Peak],
  values: { frames: number; apart: number },
): CompetingMovesFinding | null {
  if (Math.abs(p.at - q.at) > values.frames) return null;
  if (p.from >= q.to || q.from >= p.to) return null;
  const seen = [
    { figure: a, at: p.at },
    { figure: b, at: p.at },
  ].map(({ figure, at }) => seenAt(study, figure, at));
  if (!(apartAs(seen[0], seen[1]) >= values.apart)) return null;
  // The smaller of the two is the one to move out of the way.
  const [first, second] =
    p.speed * seen[0].scale >= q.speed * seen[1].scale
      ? [
          { ...p, figure: a },
          { ...q, figure: b },
        ]
      : [
          { ...q, figure: b },
          { ...p, figure: a },
        ];
  const mover = moverOf(study, second.figure, second.at);
  return {
    node: mover.node,
    figure: second.figure,
    from: Math.min(p.at, q.at),
    to: Math.max(p.at, q.at),
    measured: { quantity: "frames between the two peaks", value: Math.abs(p.at - q.at), unit: "frames" },
    expected: { min: first.to - second.from, unit: "frames", source: settings.frames.source },
    excess: 1 + second.speed / first.speed,
    size: (second.speed * (second.to - second.from)) / (2 * gridOf(study).rate),
    numbers: {
      first: first.speed,
      second: second.speed,
      firstNode: moverOf(study, first.figure, first.at).node,
      wait: Math.max(1, first.to - second.from),
    },
    fault: { kind: "keys", keys: keysOfNodes(study, mover.keyed, second.from, second.to) },
  };
}

/** Where a figure is: in the picture, or, where no camera holds, in the world with a scale of 1. */
interface SeenFigure {
  readonly at: readonly number[];
  /** Picture heights a metre; NaN where it is not in the picture. */
  readonly scale: number;
}

const shown = new Float64Array(seenWidth);

function seenAt(study: Study, figure: number, i: number): SeenFigure {
  const lens = lensOf(study);
  const centre = massCentreOf(study, figure);
  if (lens === null || lens.seen[i] === 0)
    return { at: [centre[3 * i], centre[3 * i + 1], centre[3 * i + 2]], scale: 1 };
  projectPoint(lens, i, centre, 3 * i, shown, 0);
  const isIn = isInPicture(lens, i, shown, 0, statureOf(study, figure) / 4);
  return { at: [shown[0], shown[1], 0], scale: isIn ? shown[3] : Number.NaN };
}

/** How far two figures are apart, across the line of sight where a camera holds, metres; NaN where one is not seen. */
function apartAs(a: SeenFigure, b: SeenFigure): number {
  const distance = lengthOf(a.at[0] - b.at[0], a.at[1] - b.at[1], a.at[2] - b.at[2]);
  return (2 * distance) / (a.scale + b.scale);
}

function peaksOf(study: Study, figure: number, values: { speed: number; stands: number }): Peak[] {
  const speed = accentOf(study, figure);
  const { count } = gridOf(study);
  const sorted = speed.slice().sort();
  const limit = Math.max(values.speed, values.stands * sorted[count >> 1]);
  const peaks: Peak[] = [];
  for (let i = 1; i < count - 1; i++) {
    if (speed[i] < limit || speed[i] < speed[i - 1] || speed[i] <= speed[i + 1]) continue;
    // One move: what stays above a fifth of its peak, which need not be the first of its maxima.
    let at = i;
    let from = i;
    let to = i;
    for (;;) {
      while (from > 0 && speed[from - 1] > 0.2 * speed[at]) from--;
      while (to < count - 1 && speed[to + 1] > 0.2 * speed[at]) to++;
      const highest = largestIn(speed, from, to);
      if (speed[highest] <= speed[at]) break;
      at = highest;
      from = highest;
    }
    peaks.push({ at, from, to, speed: speed[at] });
    i = Math.max(i, to);
  }
  return peaks;
}

function largestIn(speed: Float64Array, from: number, to: number): number {
  let at = from;
  for (let i = from + 1; i <= to; i++) if (speed[i] > speed[at]) at = i;
  return at;
}

/** A limb's end and the joints that move it, from the end inwards. */
const limbs = (["left", "right"] as const).flatMap((side) => [
  [`${side}Hand`, `${side}Forearm`, `${side}UpperArm`, `${side}Shoulder`] as const,
  [`${side}Foot`, `${side}Shin`, `${side}Thigh`] as const,
]);

/** A third of a limb's speed weighs like the whole body's: a limb is a smaller shape (our choice). */
const limbShare = 1 / 3;

/** What a figure moves at a sample, the whole body or a limb, and the nodes whose keys do it. */
function moverOf(study: Study, figure: number, at: number): { node: number; keyed: readonly number[] } {
  const { rate } = gridOf(study);
  const { parts } = figuresOf(study)[figure];
  const velocity = massCentreVelocityOf(study, figure);
  const centre = massCentreOf(study, figure);
  const root = carrierOf(figuresOf(study)[figure]);
  const lens = lensOf(study);
  const k = 3 * at;
  let fastest = acrossSight(lens, at, centre, velocity[k], velocity[k + 1], velocity[k + 2]);
  let mover = { node: root, keyed: [root] };
  for (const [end, ...above] of limbs) {
    const node = parts.get(end)?.[0];
    if (node === undefined || at < 1) continue;
    const speed = limbShare * rate * stepAgainst(lens, worldOf(study, node).position, centre, at);
    if (speed <= fastest) continue;
    fastest = speed;
    mover = { node, keyed: [...above.flatMap((part) => parts.get(part) ?? []), node] };
  }
  return mover;
}

/** How far a point goes against another one from the sample before, as far as it is seen. */
function stepAgainst(lens: Lens | null, path: Float64Array, centre: Float64Array, i: number): number {
  const k = 3 * i;
  return acrossSight(
    lens,
    i,
    path,
    path[k] - path[k - 3] - (centre[k] - centre[k - 3]),
    path[k + 1] - path[k - 2] - (centre[k + 1] - centre[k - 2]),
    path[k + 2] - path[k - 1] - (centre[k + 2] - centre[k - 1]),
  );
}

/** Largest speed that a figure shows, across the line of sight where a camera holds: its centre of mass, or a hand or foot against it, m/s. */
const accentOf = measure<number, Float64Array>("accent", (study, figure) => {
  const { count, rate } = gridOf(study);
  const { parts } = figuresOf(study)[figure];
  const velocity = massCentreVelocityOf(study, figure);
  const centre = massCentreOf(study, figure);
  const speed = floats(count);
  const lens = lensOf(study);
  for (let i = 0; i < count; i++)
    speed[i] = acrossSight(lens, i, centre, velocity[3 * i], velocity[3 * i + 1], velocity[3 * i + 2]);
  const limit = 10 * statureOf(study, figure);
  for (const [end] of limbs) {
    const node = parts.get(end)?.[0];
    if (node === undefined) continue;
    const path = worldOf(study, node).position;
    for (let i = 1; i < count; i++) {
      const limb = limbShare * rate * stepAgainst(lens, path, centre, i);
      speed[i] = Math.min(limit, Math.max(speed[i], limb));
    }
  }
  return speed;
});
