import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { type FootPlant, footPlantsOf } from "../../../motion/ground/foot-plant.ts";
import { footAxesAt, soleTilts, turnBetween } from "../../../motion/ground/foot-roll.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface OneAxisRollFinding extends Finding {
  readonly numbers: { readonly roll: number; readonly width: number; readonly turn: number };
}

const settings = {
  roll: {
    default: 20,
    unit: "deg",
    what: "roll of the foot from which its axes are judged",
    source: "common practice: under 20° the heel has hardly left the ground, and no turn outward is seen yet",
    min: 0,
  },
  second: {
    default: 0.06,
    unit: "share",
    what: "least turn about the other two axes, as a share of the roll",
    source:
      "common practice: under it the foot turns like a hinge; rolls of captured feet turn by 0.1 and more",
    min: 0,
  },
  stance: {
    default: 0.2,
    unit: "H",
    what: "distance of the feet across the foot from which a stance is wide",
    source:
      "common practice: wider than the hips, whose joints are about 0.19 body heights apart at the outside",
    min: 0,
  },
} as const;

/** A foot rolls about one axis only, in a wide stance. */
export const oneAxisRoll = defineCheck({
  name: "one-axis-roll",
  title: "Roll about one axis",
  family: "weight",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "In a wide stance a foot rolls like a hinge, with no turn outward.",
  why: "From a wide stance the weight leaves over the inside of the ball, and the heel swings out as it rises. A roll about a single axis is a door, not a foot.",
  computes:
    "Judged is each plant that ends in a roll of 20° and more, with the other foot planted and wide to the side. The turn of the foot from flat to its most tilted is taken as a rotation vector. What counts is its share about axes other than the one across the foot.",
  fix: "Turn the heel outward and bank the foot toward the big toe by some degrees through the roll.",
  notAFault: ["a narrow stance: walking and running in a line", "bodies on more than two feet"],
  limits: ["Rigs without a ball joint are not judged."],
  sources: ["Common practice: in a wide stance a heel swings out and the foot banks inward as it rises"],
  since: "0.1.0",
  settings,
  repeats: "steps",
  find(study, figure, values) {
    if (footCountOf(study, figure) > 2) {
      excused(-1, 0, gridOf(study).count - 1, "a body on more than two feet does not roll over them");
      return [];
    }
    const found: OneAxisRollFinding[] = [];
    const stances = footPlantsOf(study, figure);
    for (const stance of stances) {
      if (!stance.leaves || stance.leg.ball < 0) continue;
      const finding = judge(study, figure, stance, stances, values);
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    return {
      message: `${words.part} rolls by ${words.angle(numbers.roll)} about one axis, ${words.span(from, to)}, in a stance ${words.length(numbers.width)} wide`,
      suggestion: `turn the heel outward and bank the foot inward, some ${words.angle(numbers.turn)} in all, by frame ${words.frame(to)}`,
    };
  },
});

function judge(
  study: Study,
  figure: number,
  stance: FootPlant,
  stances: readonly FootPlant[],
  values: { readonly roll: number; readonly second: number; readonly stance: number },
): OneAxisRollFinding | null {
  const { leg } = stance;
  const { flat, most, roll } = rollOf(soleTilts(study, stance), stance.from);
  if (roll < values.roll) return null;
  const axes = footAxesAt(study, stance, flat);
  if (axes === null) return null;
  const width = widthAt(study, stance, stances, axes.across, flat);
  if (width < values.stance) return null;
  const turn = turnBetween(study, leg.end, flat, most);
  const { across } = axes;
  const main = Math.abs(turn[0] * across[0] + turn[1] * across[1] + turn[2] * across[2]);
  const rest = Math.sqrt(Math.max(0, turn[0] ** 2 + turn[1] ** 2 + turn[2] ** 2 - main * main));
  const share = main > 0 ? rest / main : 1;
  if (main < values.roll || share >= values.second) return null;
  const wanted = usualShare * main;
  const ball = worldOf(study, leg.ball).position;
  const ankle = worldOf(study, leg.end).position;
  const k = 3 * flat;
  const length = lengthOf(ball[k] - ankle[k], ball[k + 1] - ankle[k + 1], ball[k + 2] - ankle[k + 2]);
  return {
    node: leg.end,
    figure,
    from: flat,
    to: most,
    measured: { quantity: "turn about the other axes, of the roll", value: share, unit: "share" },
    expected: { min: values.second, unit: "share", source: settings.second.source },
    excess: 2 - share / values.second,
    size: length * wanted,
    numbers: { roll: main, width, turn: wanted },
    fault: { kind: "keys", keys: keysOfNodes(study, [leg.end], flat, most) },
  };
}

/** Share of a roll, in angle, under which the sole still lies; common practice. */
const stillFlat = 0.02;

/**
 * The roll that ends a plant: the last sample on which the sole lies, the most tilted one, and the angle between them.
 */
function rollOf(tilts: Float64Array, from: number): { flat: number; most: number; roll: number } {
  let most = 0;
  for (let i = 0; i < tilts.length; i++) if (tilts[i] >= tilts[most]) most = i;
  let least = tilts[most];
  for (let i = 0; i < most; i++) least = Math.min(least, tilts[i]);
  const roll = tilts[most] - least;
  let flat = most;
  while (flat > 0 && tilts[flat] > least + stillFlat * roll) flat--;
  return { flat: from + flat, most: from + most, roll };
}

/** Turn about the other axes that is suggested, as a share of the roll: common practice. */
const usualShare = 0.25;

/** Distance of the other planted foot across this one; 0 where it is not planted. */
function widthAt(
  study: Study,
  { leg }: FootPlant,
  stances: readonly FootPlant[],
  across: readonly [number, number, number],
  sample: number,
): number {
  const other = stances.find(
    (stance) => stance.leg.side !== leg.side && stance.from <= sample && sample <= stance.to,
  );
  if (other === undefined) return 0;
  const a = worldOf(study, leg.end).position;
  const b = worldOf(study, other.leg.end).position;
  let width = 0;
  for (let k = 0; k < 3; k++) width += (b[3 * sample + k] - a[3 * sample + k]) * across[k];
  return Math.abs(width);
}
