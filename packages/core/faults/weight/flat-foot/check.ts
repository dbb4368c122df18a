import { degreesPerRadian, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { plantedContactsOf } from "../../../motion/ground/contact-plants.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { type FootPlant, footPlantsOf } from "../../../motion/ground/foot-plant.ts";
import { footAxesAt, legLean, soleTiltAt, soleTilts, withRoll } from "../../../motion/ground/foot-roll.ts";
import { plantShares } from "../../../motion/ground/plant-limits.ts";
import { type ToeOff, toeOffsOf, usualTilt } from "../../../motion/ground/toe-off.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { limbReachAt } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface FlatFootFinding extends Finding {
  readonly numbers: {
    readonly lean: number;
    readonly tilt: number;
    readonly stretch: number;
    readonly rise: number;
    /** 1 where the leg is straight and need not lean. */
    readonly straight: number;
    /** Tilt with which the feet leave in like steps, where the foot is stiff beside them; else 0. */
    readonly usual: number;
  };
}

const settings = {
  lean: {
    default: 18,
    unit: "deg",
    what: "how far the leg leans forward over the foot as it leaves, from which on the heel has to be up",
    source:
      "from memory: an ankle bends by about 20° over a flat foot. Captured steps (CMU motion capture database, subject 1, trials 1 and 3) leave the ground at 15° to 29°",
    min: 0,
  },
  roll: {
    default: 10,
    unit: "deg",
    what: "least tilt of the sole as the foot leaves",
    source:
      "measured: captured steps (CMU motion capture database, subject 1, trials 1 and 3) that lean as far leave the ground with the sole tilted by 14° to 65°",
    min: 0,
  },
  stretch: {
    default: 0.93,
    unit: "ratio",
    what: "share of the leg's length from which the leg pulls at the foot",
    source:
      "common practice: near its full length a leg lifts its heel; captured steps (CMU motion capture database, subject 1, trials 1 and 3) leave at 0.84 and more",
    min: 0.5,
    max: 1,
  },
  straight: {
    default: 0.985,
    unit: "ratio",
    what: "share of the leg's length from which a leg is straight: however little it leans, it leaves by its heel",
    source:
      "geometry: a knee bent by 20° between bones of one length still reaches cos 10° = 0.985 of the leg. Then only the ankle is left to take the foot along",
    min: 0.5,
    max: 1,
  },
  fold: {
    default: 30,
    unit: "deg",
    what: "how far the shin may lean forward over a flat foot, whatever the leg's stretch",
    source: "from memory: an ankle folds by 20° to 30° under load, and no further while the heel is down",
    min: 0,
  },
  alike: {
    default: 0.5,
    unit: "ratio",
    what: "least tilt of the sole as the foot leaves, as a share of that in like steps",
    source:
      "common practice: both feet peel alike from step to step. From memory: people who walk repeat the pitch of a foot at toe-off to a few degrees",
    min: 0,
    max: 1,
  },
  rolled: {
    default: 20,
    unit: "deg",
    what: "tilt of the sole from which on a foot has rolled, however far it tilts in like steps",
    source:
      "from memory: the foot of a walker stands at 50° to 65° to the ground as its toes leave. With a third of that it is stiff at any pace",
    min: 0,
  },
} as const;

/** The foot stays flat while the body leaves it. */
export const flatFoot = defineCheck({
  name: "flat-foot",
  title: "Flat foot",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "A foot stays flat on the ground, stuck, while the body leaves it, and comes off in one piece.",
  why: "A foot peels: heel first, then ball, then toes. One that lifts like a plate takes the push out of the step, and the leg looks pulled off the floor.",
  computes:
    "Three things are measured in the last third of each plant that ends in a lift. They are the lean of the line from ankle to hip joint along the foot, the stretch of the leg, and the tilt of the sole. The tilt is how far the foot is turned off the way in which it lies flat. The contact of a foot without a ball joint may be declared while it lies flat alone. Its plant goes on for as long as the ankle rolls over a ball that is down. At fault is a plant at whose end the leg leans by 18° and is stretched to 0.93 of its length, or its shin leans by 30°. A leg that is straight there (0.985 of its length) need not lean forward. It must lean less than 18° to any side, and its foot rise off the ground within six frames. That is not asked of declared contacts, which may cover the flat stance alone. Its sole is tilted by less than 10°. The note marks the frames in which the leg leans by as much and the sole is still down (within 0.006 body heights of the level at which it stands). A foot whose sole has tilted by less than 20° as its ball leaves may be stiff as well. It is if that is less than half of the tilt in like steps of the same figure. In like steps the hips go as fast, along the ground and up (within 0.15 body heights per second and 30 %). The ball rises as high within a factor of two, and the leg leans within 15°. A foot that rolls so little in all of its steps is held against the other one. The half has to lie outside of three standard deviations of these tilts, or of how the other steps vary where these are fewer than three. The note marks the six frames before its ball is 0.006 body heights up. From 10° on it is a minor note at most.",
  fix: "Let the heel rise over the ball through the last third of the plant, by about as much as the leg leans.",
  notAFault: [
    "short, shuffling steps",
    "steps to the side: only the lean along the foot counts",
    "a foot that step keys cut to another pose",
    "bodies on more than two feet",
    "feet that roll little in all like steps, or now so and now so, as in captured play",
  ],
  limits: ["Rigs without a ball joint are judged by the tilt of the ankle alone."],
  sources: [
    "Common practice: a foot peels off the ground from the heel; figures from the CMU motion capture database (subject 1, trials 1 and 3)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    if (footCountOf(study, figure) > 2) {
      excused(-1, 0, gridOf(study).count - 1, "a body on more than two feet does not roll over them");
      return [];
    }
    const found: FlatFootFinding[] = [];
    for (const plant of footPlantsOf(study, figure)) {
      const stance = withRoll(study, figure, plant);
      if (!stance.leaves || stance.heel === null) continue;
      const finding = judge(study, figure, stance, values);
      if (finding !== null) found.push(finding);
    }
    const toeOffs = toeOffsOf(study, figure);
    for (const toeOff of toeOffs) {
      const { leg, from, to } = toeOff.stance;
      const isTold = found.some((told) => told.node === leg.end && told.from <= to && told.to >= from);
      const beside = isTold || toeOff.tilt >= values.rolled ? null : usualTilt(toeOffs, toeOff);
      if (beside === null || beside.usual < values.rolled) continue;
      const least = Math.min(values.alike * beside.usual, beside.least);
      if (toeOff.tilt < least)
        found.push(stiffFinding(study, figure, toeOff, beside.usual, least, values.roll));
    }
    return found;
  },
  word(finding, words) {
    const { numbers, to } = finding;
    if (numbers.usual > 0) {
      return {
        message: `${words.part} leaves the ground stiffly at frame ${words.frame(to)}: its sole has tilted by ${words.angle(numbers.tilt)}, and by ${words.angle(numbers.usual)} in like steps`,
        suggestion: `let the heel rise over the ball from frame ${words.frame(numbers.rise)}, by about ${words.angle(numbers.usual)} at frame ${words.frame(to)}`,
      };
    }
    if (numbers.straight === 1) {
      return {
        message: `${words.part} leaves the ground flat at frame ${words.frame(to)}: the leg is straight, the sole has tilted by ${words.angle(numbers.tilt)}`,
        suggestion: `let the heel rise over the ball from frame ${words.frame(numbers.rise)}, before the leg is straight`,
      };
    }
    return {
      message: `${words.part} leaves the ground flat at frame ${words.frame(to)}: the leg leans ${words.angle(numbers.lean)} over it, the sole has tilted by ${words.angle(numbers.tilt)}`,
      suggestion: `let the heel rise over the ball from frame ${words.frame(numbers.rise)}, by about ${words.angle(numbers.lean)} at frame ${words.frame(to)}`,
    };
  },
});

function judge(
  study: Study,
  figure: number,
  stance: FootPlant,
  values: {
    readonly lean: number;
    readonly roll: number;
    readonly stretch: number;
    readonly straight: number;
    readonly fold: number;
  },
): FlatFootFinding | null {
  const { leg, from, to } = stance;
  const length = to - from + 1;
  if (length < 6) return null;
  const start = Math.max(from, Math.round(to - length / 3));
  // Speed is taken over a sample on either side, so that a plant ends before the cut that takes the foot away.
  if (isCutBetween(cutsOf(study, leg.end), start, to + 2)) {
    excused(leg.end, start, to, "a step key cuts the foot to another pose: it does not leave by a movement");
    return null;
  }
  const axes = footAxesAt(study, stance, start);
  let lean = 0;
  let fold = 0;
  let stretch = 0;
  let tilt = 0;
  const last = Math.max(start, to - Math.max(1, Math.round(gridOf(study).rate / referenceRate)));
  for (const angle of soleTilts(study, stance).subarray(start - from)) tilt = Math.max(tilt, angle);
  for (let i = last; i <= to; i++) {
    lean = Math.max(lean, legLean(study, stance, leg.root, axes, i));
    fold = Math.max(fold, legLean(study, stance, leg.middle, axes, i));
    stretch = Math.max(stretch, limbReachAt(study, leg.root, leg.end, i) / (leg.upper + leg.lower));
  }
  const isPulled = stretch >= values.stretch || fold >= values.fold;
  // A leg that leans aside leaves over the edge of its foot.
  const isStraight =
    stretch >= values.straight &&
    stance.heel?.declared === false &&
    lifts(study, figure, leg.end, to) &&
    legLean(study, stance, leg.root, null, to) < values.lean;
  if (!(lean >= values.lean && isPulled) && !isStraight) return null;
  if (tilt >= values.roll) return null;
  const degrees = degreesPerRadian;
  const leans = lean >= values.lean && isPulled;
  const isPull = leans
    ? (i: number) => legLean(study, stance, leg.root, axes, i) >= values.lean
    : (i: number) => limbReachAt(study, leg.root, leg.end, i) >= values.straight * (leg.upper + leg.lower);
  const shown = pulledOver(study, figure, stance, { from: start, to }, isPull);
  // What is told is that of the frames that are told.
  tilt = Math.max(...soleTilts(study, stance).subarray(shown.from - from, shown.to - from + 1));
  lean = legLean(study, stance, leg.root, axes, shown.to);
  return {
    node: leg.end,
    figure,
    ...shown,
    measured: { quantity: "tilt of the sole as the foot leaves", value: tilt * degrees, unit: "deg" },
    expected: { min: values.roll * degrees, unit: "deg", source: settings.roll.source },
    excess: lean / values.lean + (values.roll - tilt) / values.roll,
    // The heel should have come up by about the lean, over the length of the foot.
    size: footLength(study, stance, start) * Math.sin(Math.max(lean, values.roll)),
    numbers: { lean, tilt, stretch, rise: start, straight: leans ? 0 : 1, usual: 0 },
    fault: { kind: "keys", keys: keysOfNodes(study, [leg.end], start, to) },
  };
}

/** Frames (at 24 per second) in which a foot peels off: a quarter of a step of a walk on twelves is heel, half of it ball (our choice). */
const peelFrames = 6;

/** A foot that leaves with less tilt than in like steps. */
function stiffFinding(
  study: Study,
  figure: number,
  { stance, at, lean }: ToeOff,
  usual: number,
  least: number,
  flat: number,
): FlatFootFinding {
  const { leg } = stance;
  const start = Math.max(stance.from, at - Math.round((peelFrames * gridOf(study).rate) / referenceRate));
  let tilt = 0;
  for (let i = start; i <= at; i++) tilt = Math.max(tilt, soleTiltAt(study, stance, i));
  return {
    node: leg.end,
    figure,
    from: start,
    to: at,
    measured: {
      quantity: "tilt of the sole as the foot leaves",
      value: tilt * degreesPerRadian,
      unit: "deg",
    },
    expected: { min: least * degreesPerRadian, unit: "deg", source: settings.alike.source },
    excess: 1 + (least - tilt) / least,
    // By what the heel is lower than in like steps, over the length of the foot.
    size: footLength(study, stance, start) * (Math.sin(usual) - Math.sin(tilt)),
    ...(tilt >= flat && { ceiling: "minor" as const }),
    numbers: {
      lean,
      tilt,
      stretch: limbReachAt(study, leg.root, leg.end, at) / (leg.upper + leg.lower),
      rise: start,
      straight: 0,
      usual,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, [leg.end], start, at) },
  };
}

/** Frames (at 24 per second) in which a foot that leaves gets off the ground; one that is dragged along does not (our choice). */
const liftFrames = 6;

/** Whether a foot rises off the ground behind a sample, by as much as ends a plant. */
function lifts(study: Study, figure: number, ankle: number, at: number): boolean {
  const { rate, count } = gridOf(study);
  const { position } = worldOf(study, ankle);
  const least = position[3 * at + 1] + plantShares.leaveHeight * statureOf(study, figure);
  const last = Math.min(count - 1, at + Math.round((liftFrames * rate) / referenceRate));
  for (let i = at + 1; i <= last; i++) if (position[3 * i + 1] > least) return true;
  return false;
}

/** The part of a plant's last third in which the leg pulls at the foot over a sole that is still down. */
function pulledOver(
  study: Study,
  figure: number,
  { heel, toe }: FootPlant,
  third: Span,
  isPull: (sample: number) => boolean,
): Span {
  const ends = plantedContactsOf(study, figure).filter(({ contact }) => contact === heel || contact === toe);
  // A declared contact may leave its roll out; the plant has it.
  const lastDowns = ends.map(({ contact, lastDown }) => (contact.declared ? third.to : lastDown));
  const to = ends.length === 0 ? third.to : Math.max(third.from, ...lastDowns);
  let from = to;
  while (from > third.from && isPull(from - 1)) from--;
  return { from, to };
}

/** Distance from ankle to ball; a tenth of the leg where there is no ball. */
function footLength(study: Study, { leg }: FootPlant, sample: number): number {
  return leg.ball < 0 ? (leg.upper + leg.lower) / 10 : limbReachAt(study, leg.end, leg.ball, sample);
}
