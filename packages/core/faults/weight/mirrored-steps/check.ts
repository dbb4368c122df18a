import { referenceRate, standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { momentsOf, type Step, stepsOf } from "./steps.ts";

/** With numbers in working units. */
export interface MirroredStepsFinding extends Finding {
  readonly numbers: {
    /** Judged frames between the feet where they leave, and where they land; positive where the note's foot is later. */
    readonly leave: number;
    readonly land: number;
    readonly offset: number;
    /** Ankle of the other foot. */
    readonly other: number;
  };
  /** The step of the note's foot. */
  readonly step: Step;
}

const settings = {
  gap: {
    default: 1,
    unit: "frames",
    what: "least time by which one foot leaves, or lands, before the other",
    source: "common practice: feet are offset by one to three frames; under one frame they are seen as one",
    min: 0,
  },
} as const;

/** Frames at 24 per second by which feet are offset: common practice. */
const usual = 2;

/** Both feet leave, and land, on one frame. */
export const mirroredSteps = defineCheck({
  name: "mirrored-steps",
  title: "Mirrored steps",
  family: "weight",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "Both feet step on one frame: they leave together and land together, though the body does not jump.",
  why: "A body that steps stands on one foot while the other moves. Two feet that leave as one have nothing to push on, and read as one leg copied from the other.",
  computes:
    "For two steps of a pair of legs: when each foot leaves its place and when it comes to the next one, between frames. A foot has left when ankle and ball are both 0.01 body heights from where they stood. It is a fault where less than a frame lies between the two feet, both where they leave and where they land. The larger of the two times is told.",
  fix: "Let one foot step two frames later than the other.",
  notAFault: [
    "a jump: the body rises by half of what free fall asks for, or more",
    "feet that are up for longer than a step of a slow walk, 0.69 s: the body hangs, sits or lies",
    "bodies with more than two feet: hind legs go together in a leap",
    "figures with propulsors, whose beat carries them",
    "a cut by step keys, and poses on twos",
  ],
  limits: ["Two feet that land as one after a jump are not told, however stiff it looks."],
  sources: [
    "Common practice: feet are offset in time, so that one leads",
    "Journal of NeuroEngineering and Rehabilitation 9:69, table 1: a step of a slow walk takes 0.69 s",
  ],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "Both feet may change in one drawing." },
    twos: { off: true, why: "A frame between two feet is not drawn." },
  },
  find(study, figure, values) {
    if (footCountOf(study, figure) > 2 || propulsorsOf(study, figure).length > 0) return [];
    const { rate, dt } = gridOf(study);
    const near = (4 * rate) / referenceRate;
    const steps = stepsOf(study, figure);
    const found: MirroredStepsFinding[] = [];
    for (const left of steps.filter(({ leg }) => leg.side === "left")) {
      for (const right of steps.filter(({ leg }) => leg.side === "right")) {
        const first = Math.min(left.leaves, right.leaves);
        const last = Math.max(left.lands, right.lands);
        if (Math.abs(left.leaves - right.leaves) > near || Math.abs(left.lands - right.lands) > near)
          continue;
        const moments = [left, right].map((step) => momentsOf(study, figure, step, first, last));
        const [mine, its] = moments;
        if (mine === null || its === null) continue;
        const leave = its[0] - mine[0];
        const land = its[1] - mine[1];
        if (Math.max(Math.abs(leave), Math.abs(land)) >= values.gap || isDrawn(study, left, right)) continue;
        if ((Math.max(mine[1], its[1]) - Math.min(mine[0], its[0])) * dt > longest) {
          excused(
            right.leg.end,
            first,
            last,
            "both feet are up for too long for a step: it hangs, sits or lies",
          );
          continue;
        }
        if (isJump(study, figure, Math.max(mine[0], its[0]), Math.min(mine[1], its[1]))) {
          excused(right.leg.end, first, last, "the body jumps");
          continue;
        }
        found.push(findingOf(study, figure, [left, right], [leave, land], values.gap));
      }
    }
    return found;
  },
  word(finding, words) {
    const { leave, land, offset, other } = finding.numbers;
    return {
      message: `${words.part} and ${words.name(other)} step as one over ${words.span(finding.from, finding.to)}: they leave within ${words.frames(Math.abs(leave))} and land within ${words.frames(Math.abs(land))} of each other`,
      suggestion: `let the ${words.part} leave and land ${words.frames(offset)} later`,
    };
  },
});

/** Seconds that a step takes at most: one of a slow walk (J NeuroEng Rehabil 9:69, table 1). */
const longest = 0.69;
/** Share of the rise of a body in free fall from which on a body without feet on the ground is taken to jump (our choice). */
const jumps = 0.5;

/** Whether a body rises and falls between two moments as one does that has left the ground, on which neither foot stands. */
function isJump(study: Study, figure: number, leaves: number, comes: number): boolean {
  const { dt } = gridOf(study);
  const centre = massCentreOf(study, figure);
  const height = (at: number) => {
    const i = Math.floor(at);
    const next = Math.min(centre.length / 3 - 1, i + 1);
    return centre[3 * i + 1] + (at - i) * (centre[3 * next + 1] - centre[3 * i + 1]);
  };
  const time = Math.max(0, comes - leaves) * dt;
  const rise = height((leaves + comes) / 2) - (height(leaves) + height(comes)) / 2;
  return rise >= (jumps * standardGravity * time * time) / 8;
}

/** Whether poses are held, or cut, in one of the steps. */
function isDrawn(study: Study, ...steps: readonly Step[]): boolean {
  return steps.some(
    ({ leg, leaves, lands }) =>
      onTwosOf(study, leg.end) > 1 || isCutBetween(cutsOf(study, leg.end), leaves, lands),
  );
}

function findingOf(
  study: Study,
  figure: number,
  [left, right]: readonly [Step, Step],
  [leave, land]: readonly [number, number],
  gap: number,
): MirroredStepsFinding {
  const { rate } = gridOf(study);
  // Named is the foot that is later as it is.
  const isRight = leave + land >= 0;
  const [step, other] = isRight ? [right, left] : [left, right];
  const { leg } = step;
  const sign = isRight ? 1 : -1;
  const from = Math.min(left.leaves, right.leaves);
  const to = Math.max(left.lands, right.lands);
  const largest = Math.max(Math.abs(leave), Math.abs(land));
  const path = worldOf(study, leg.end).position;
  return {
    node: leg.end,
    figure,
    from,
    to,
    seenAt: [leg.end, other.leg.end],
    measured: { quantity: "time between the two feet", value: largest, unit: "frames" },
    expected: { min: gap, unit: "frames", source: settings.gap.source },
    excess: 1 + (1 - largest / gap),
    size: 0.25 * Math.hypot(path[3 * to] - path[3 * from], path[3 * to + 2] - path[3 * from + 2]),
    // With both feet off at once nothing bears the body.
    carries: 1,
    numbers: {
      leave: sign * leave,
      land: sign * land,
      offset: Math.max(1, Math.round((usual * rate) / referenceRate)),
      other: other.leg.end,
    },
    step,
    fault: { kind: "keys", keys: keysOfNodes(study, [leg.root, leg.middle, leg.end], from, to, 3) },
  };
}
