import { degreesPerRadian } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { boneTurnsInParent } from "../../../motion/parts/bone.ts";
import { cutsOf, isCutBetween, ownCutsOf, stepsWithoutCuts } from "../../../motion/path/cuts.ts";
import { posesOf } from "../../../motion/path/pace.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface OverSpeedFinding extends Finding {
  readonly numbers: {
    readonly fastest: number;
    readonly limit: number;
    readonly turns: number;
    readonly frames: number;
    readonly takes: number;
  };
}

const turn = (degreesPerSecond: number, what: string, source: string) =>
  ({
    default: degreesPerSecond,
    unit: "deg/s",
    what: `fastest turn of ${what}`,
    source,
    min: 0,
    bound: { max: degreesPerSecond, why: "a body turns no faster" },
  }) as const;
const travel = (metresPerSecond: number, what: string, source: string) =>
  ({
    default: metresPerSecond,
    unit: "m/s",
    what: `fastest travel of ${what}`,
    source,
    min: 0,
    bound: { max: metresPerSecond, why: "a body travels no faster" },
  }) as const;

const settings = {
  spin: turn(
    2200,
    "the whole body at the hips",
    "from memory: the fastest spin of a skater on record, 308 turns a minute, is 1,848°/s; a fifth more is left",
  ),
  trunk: turn(
    1200,
    "spine and chest",
    "Journal of Sports Science and Medicine 2015, 14:246, table 3: pitchers' upper torsos turn against their pelvises at 871 ± 150°/s, two deviations more are 1,171",
  ),
  head: turn(
    1000,
    "neck and head",
    "Grossman and others 1988 (abstract): heads that are turned as fast as can be reach 780°/s, the median of 20 people; half of them are faster",
  ),
  shoulder: turn(
    4000,
    "an upper arm's swing",
    "Fleisig and others 2003: 2,420°/s in men's tennis serves, with a margin; its turn about its own length, 7,500 to 7,700°/s in throws (review PMC3445080), is left out",
  ),
  elbow: turn(
    3000,
    "an elbow",
    "from memory: elbows stretch at 2,300 to 2,500°/s in pitching; in tennis serves it is 1,510°/s (Fleisig and others 2003)",
  ),
  wrist: turn(
    3000,
    "a wrist",
    "Fleisig and others 2003: wrists bend at 1,950°/s in men's tennis serves; half as much again is left for a snap",
  ),
  hip: turn(1500, "a hip", "from memory: hips of kickers bend at about 1,000°/s; half as much again is left"),
  knee: turn(2000, "a knee", "from memory: kicking knees stretch at 1,500 to 2,000°/s"),
  ankle: turn(
    1500,
    "an ankle",
    "from memory: ankles of sprinters stretch at about 1,000°/s; half as much again is left",
  ),
  body: travel(12.5, "the hips along the ground", "from memory: the fastest sprints reach 12.3 to 12.4 m/s"),
  hand: travel(26, "a hand", "from memory: hands of pitchers reach about 25 m/s"),
  foot: travel(28, "a foot", "from memory: feet of kickers reach about 25 m/s, those of sprinters 20 m/s"),
} as const;

type Limit = keyof typeof settings;

const turning: Partial<Record<BodyPart, Limit>> = {
  root: "spin",
  spine: "trunk",
  chest: "trunk",
  neck: "head",
  head: "head",
  leftUpperArm: "shoulder",
  rightUpperArm: "shoulder",
  leftForearm: "elbow",
  rightForearm: "elbow",
  leftHand: "wrist",
  rightHand: "wrist",
  leftThigh: "hip",
  rightThigh: "hip",
  leftShin: "knee",
  rightShin: "knee",
  leftFoot: "ankle",
  rightFoot: "ankle",
};
/** Where the bones end of which only the swing is judged. */
const elbows: Partial<Record<BodyPart, BodyPart>> = {
  leftUpperArm: "leftForearm",
  rightUpperArm: "rightForearm",
};
const travelling: Partial<Record<BodyPart, Limit>> = {
  root: "body",
  leftHand: "hand",
  rightHand: "hand",
  leftFoot: "foot",
  rightFoot: "foot",
};

/** A part that moves faster than a body can move it. */
export const overSpeed = defineCheck({
  name: "over-speed",
  title: "Over speed",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "A joint turns, or a part travels, faster than a body can move it.",
  why: "Muscles have a limit that viewers know from their own bodies; past it a move reads as a cut or as a machine.",
  computes:
    "For figures that are human: the turn of each joint against its parent per frame, against the limits by part. The travel of hips (along the ground), hands and feet is judged alike. Of an upper arm only the swing counts, not the turn about its own length. A pose that step keys show for two or three frames takes all of them. Frames over a limit that follow each other are one note.",
  fix: "Give the move the frames that the note names, or spread it over more joints.",
  notAFault: [
    "creatures: only human figures are judged",
    "an upper arm that turns about its own length, as in a throw",
    "the speed of a fall, which is up to gravity",
    "a cut by step keys from one held pose to the next",
    "figures with other limits: each limit is a setting",
  ],
  limits: [
    "At 24 frames per second a turn of more than half a turn a frame (4,320°/s) looks like a smaller one.",
    "Most limits are from memory and wide; they find what is impossible, not what is improbable.",
  ],
  sources: [
    "Grossman, Leigh, Abel, Lanska, Thurston 1988, PubMed 3384048: speed of the head (abstract)",
    "Journal of Sports Science and Medicine 2015, 14:246, table 3: turning of pitchers' trunks",
    "Fleisig and others 2003: speeds of joints in tennis serves (abstract)",
    "Review of throwing biomechanics, PMC3445080: inward turn of the upper arm",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["pop", "rotation-flip"],
  caution: "bodies",
  find(study, node, values) {
    const index = figureOfNode(study, node);
    if (index < 0) return [];
    const figure = figuresOf(study)[index];
    const part = figure.partOf.get(node);
    // Tips count with the joint above them; only the joint turns.
    if (figure.kind !== "human" || part === undefined || !figure.parts.get(part)?.includes(node)) return [];
    const found: OverSpeedFinding[] = [];
    const turns = turning[part];
    if (turns !== undefined) {
      const inMotion = (series: Float64Array) => perPose(study, node, series, ownCutsOf(study, node));
      let speed = inMotion(localAngularSpeedOf(study, node));
      let runs = runsOver(speed, values[turns]);
      const elbow = elbows[part];
      const end = elbow === undefined ? undefined : figure.parts.get(elbow)?.[0];
      if (runs.length > 0 && end !== undefined) {
        const { rate } = gridOf(study);
        speed = inMotion(boneTurnsInParent(study, node, end).map((angle) => angle * rate));
        runs = runsOver(speed, values[turns]);
      }
      for (const run of runs) {
        found.push(findingOf(study, node, run, speed, values[turns], turns, true));
      }
    }
    const travels = travelling[part];
    if (travels !== undefined && figure.parts.get(part)?.[0] === node) {
      const { rate } = gridOf(study);
      const least = values[travels] / rate;
      const inMotion = (series: Float64Array) => perPose(study, node, series, cutsOf(study, node));
      const steps = inMotion(spacingOf(study, node));
      for (const run of runsOver(steps, least)) {
        const speed = travels === "body" ? null : steps.map((step) => step * rate);
        const along = speed ?? inMotion(groundSpeed(study, node));
        for (const inner of runsOver(along, values[travels], run)) {
          found.push(findingOf(study, node, inner, along, values[travels], travels, false));
        }
      }
    }
    return found;
  },
  word({ from, to, numbers }, words) {
    const { fastest, limit, turns, frames, takes } = numbers;
    const speed = turns === 1 ? words.angularSpeed : words.speed;
    return {
      message: `${words.part} ${turns === 1 ? "turns" : "travels"} at ${speed(fastest)} at ${words.span(from, to)}; a body reaches ${speed(limit)}`,
      suggestion: `take ${words.frames(takes)} for what now takes ${words.frames(frames)}, or let the joints above share the move`,
    };
  },
});

interface Run {
  readonly from: number;
  readonly to: number;
}

/**
 * Runs of samples over a limit, among those of a range.
 * @param speed speed from the sample before to each sample; the first entry is not used
 */
function runsOver(speed: Float64Array, limit: number, { from, to } = wholeOf(speed)): Run[] {
  const runs: { from: number; to: number }[] = [];
  for (let i = from; i <= to; i++) {
    if (speed[i] <= limit) continue;
    const run = runs[runs.length - 1];
    if (run !== undefined && run.to === i - 1) run.to = i;
    else runs.push({ from: i, to: i });
  }
  return runs;
}

function wholeOf(speed: Float64Array): Run {
  return { from: 1, to: speed.length - 1 };
}

/**
 * A series of speeds as it is seen: a cut from one held pose to the next is none, and a pose on twos or threes takes all
 * the frames for which the pose before it is shown.
 */
function perPose(study: Study, node: number, series: Float64Array, cuts: Int32Array): Float64Array {
  const poses = posesOf(study, node);
  if (poses.length === series.length) return stepsWithoutCuts(series, null, cuts);
  const seen = floats(series.length);
  for (let k = 1; k < poses.length; k++) {
    const [from, to] = [poses[k - 1], poses[k]];
    if (!isCutBetween(cuts, from, to)) seen.fill(series[to] / (to - from), from + 1, to + 1);
  }
  return seen;
}

/** Speed along the ground, from the sample before, m/s. */
function groundSpeed(study: Study, node: number): Float64Array {
  const { rate } = gridOf(study);
  const path = worldOf(study, node).position;
  const speed = floats(path.length / 3);
  for (let i = 1; i < speed.length; i++) {
    speed[i] = lengthOf(path[3 * i] - path[3 * i - 3], path[3 * i + 2] - path[3 * i - 1]) * rate;
  }
  return speed;
}

function findingOf(
  study: Study,
  node: number,
  { from, to }: Run,
  speed: Float64Array,
  limit: number,
  name: Limit,
  turns: boolean,
): OverSpeedFinding {
  const { dt } = gridOf(study);
  let fastest = 0;
  let way = 0;
  for (let i = from; i <= to; i++) {
    fastest = Math.max(fastest, speed[i]);
    way += speed[i] * dt;
  }
  const frames = to - from + 1;
  const unit = turns ? "deg/s" : "m/s";
  const scale = turns ? degreesPerRadian : 1;
  return {
    node,
    figure: figureOfNode(study, node),
    from: from - 1,
    to,
    measured: { quantity: turns ? "speed of turning" : "speed", value: fastest * scale, unit },
    expected: { max: limit * scale, unit, source: settings[name].source },
    excess: fastest / limit,
    size: way * (turns ? reachOf(study, node) : 1),
    numbers: { fastest, limit, turns: turns ? 1 : 0, frames, takes: Math.ceil(way / (limit * dt)) },
    fault: turns ? { kind: "keys", keys: keysOfNodes(study, [node], from, to) } : travelFault(node, from, to),
  };
}

function travelFault(node: number, from: number, to: number): Fault {
  return {
    kind: "position",
    subject: node,
    lo: from - 1,
    hi: to,
    from: from - 1,
    to,
    strength: (series) => {
      let furthest = 0;
      for (let i = 3; i < series.length; i += 3) {
        furthest = Math.max(
          furthest,
          lengthOf(series[i] - series[i - 3], series[i + 1] - series[i - 2], series[i + 2] - series[i - 1]),
        );
      }
      return furthest;
    },
  };
}
