import type { BodyPart } from "../../../document/schema.ts";
import { boneTurnsInParent } from "../../../motion/parts/bone.ts";
import { cutsOf, ownCutsOf } from "../../../motion/path/cuts.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { turning } from "./limits.ts";
import { efforts, quickOf } from "./quick.ts";
import { findingOf, groundSpeed, type OverSpeedFinding, perPose, runsOver } from "./runs.ts";
import { turnFault } from "./turn-fault.ts";

export type { OverSpeedFinding } from "./runs.ts";

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

/** What people were measured at in an effort; what is quicker may be meant, and half of them are. */
const quick = (what: string, source: string) => ({ what, source, min: 0 }) as const;

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
  quickHead: {
    default: 780,
    unit: "deg/s",
    ...quick(
      "turn of the head against the chest that is quick even where it is an effort",
      "Grossman and others 1988 (abstract): the median over 20 people of the greatest speed in vigorous turns to and fro",
    ),
  },
  quickTrunk: {
    default: 871,
    unit: "deg/s",
    ...quick(
      "turn of the chest against the hips that is quick even where it is an effort",
      "Journal of Sports Science and Medicine 2015, 14:246, table 3: the mean of pitchers' upper torsos against their pelvises",
    ),
  },
  quickHand: {
    default: 9.14,
    unit: "m/s",
    ...quick(
      "travel of a hand in the frame of what carries the arm that is quick even where it is an effort, for a stature of 1.7 m",
      "Walilko, Viano and Bir 2005 (from memory): hands of Olympic boxers hit at 9.14 ± 2.06 m/s; what is longer is quicker in proportion",
    ),
  },
  body: travel(12.5, "the hips along the ground", "from memory: the fastest sprints reach 12.3 to 12.4 m/s"),
  hand: travel(26, "a hand", "from memory: hands of pitchers reach about 25 m/s"),
  foot: travel(28, "a foot", "from memory: feet of kickers reach about 25 m/s, those of sprinters 20 m/s"),
} as const;

type Limit = keyof typeof settings;
const quickSources = {
  quickHead: settings.quickHead.source,
  quickTrunk: settings.quickTrunk.source,
  quickHand: settings.quickHand.source,
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
    "For figures that are human: the turn of each joint against its parent per frame, against the limits by part. The travel of hips (along the ground), hands and feet is judged alike. Of an upper arm only the swing counts, not the turn about its own length. There are lower limits for what is quick even where it is an effort. They hold for the head against the chest, the chest against the hips, and a hand's travel in the frame of what carries the arm. A hand has to gain more than half of its speed within a frame at 24 per second. What comes and goes within a frame is taken for eased: its peak is 1.875 times what the frames show. From 72 frames per second on they are means over half a frame at 24, and none is taken for eased. What is over these alone is minor. A pose that step keys show for two or three frames takes all of them. Frames over a limit that follow each other are one note.",
  fix: "Give the move the frames that the note names, or spread it over more joints.",
  notAFault: [
    "creatures: only human figures are judged",
    "an upper arm that turns about its own length, as in a throw",
    "a hand that gains its speed over several frames, as in a blow or a throw: a pitcher takes 0.145 s from the step to the release (review PMC3445080)",
    "the speed of a fall, which is up to gravity",
    "a cut by step keys from one held pose to the next",
    "figures with other limits: each limit is a setting",
  ],
  limits: [
    "At 24 frames per second a turn of more than half a turn a frame (4,320°/s) looks like a smaller one.",
    "Most limits are from memory and wide: they find what is impossible. What is only improbable is told of heads, trunks and hands.",
  ],
  sources: [
    "Grossman, Leigh, Abel, Lanska, Thurston 1988, PubMed 3384048: speed of the head (abstract)",
    "Journal of Sports Science and Medicine 2015, 14:246, table 3: turning of pitchers' trunks",
    "Fleisig and others 2003: speeds of joints in tennis serves (abstract)",
    "Walilko, Viano, Bir 2005, Br J Sports Med 39:710: hands of boxers (from memory)",
    "Flash, Hogan 1985: a move of minimum jerk has 1.875 times its mean speed at its peak",
    "Review of throwing biomechanics, PMC3445080: inward turn of the upper arm",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["pop", "rotation-flip", "lone-pose"],
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
        const parent = rigOf(study).parent[node];
        const finding = findingOf(study, node, run, speed, values[turns], settings[turns].source, true);
        found.push({
          ...finding,
          fault: turnFault(study, node, end ?? node, { ...run, against: parent, top: node }),
        });
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
          found.push(findingOf(study, node, inner, along, values[travels], settings[travels].source, false));
        }
      }
    }
    found.push(...quickOf(study, node, part, values, quickSources, found));
    return found;
  },
  word({ from, to, numbers }, words) {
    const { fastest, limit, turns, frames, takes, against } = numbers;
    const speed = turns === 1 ? words.angularSpeed : words.speed;
    const verb = against >= 0 ? "reaches" : turns === 1 ? "turns at" : "travels at";
    const whose = against < 0 ? "" : ` against ${words.name(against)}`;
    const known =
      against < 0
        ? `a body reaches ${speed(limit)}`
        : `${efforts[numbers.effort]} ${speed(limit)} at their utmost`;
    return {
      message: `${words.part} ${verb} ${speed(fastest)}${whose} at ${words.span(from, to)}; ${known}`,
      suggestion: `take ${words.frames(takes)} for what now takes ${words.frames(frames)}, or let the joints above share the move`,
    };
  },
});
