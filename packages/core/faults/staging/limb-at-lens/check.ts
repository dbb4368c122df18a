import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { massSharesBelow } from "../../../motion/body/mass-centre.ts";
import type { Limb } from "../../../rig/limb.ts";
import { lensOf } from "../../../staging/camera.ts";
import { isInPicture, screenOf, seenWidth } from "../../../staging/screen.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { armsOf, isTied } from "../shared/arms.ts";

/** With numbers in working units. */
export interface LimbAtLensFinding extends Finding {
  /** Rig indices of the arm's joints. */
  readonly arm: { readonly root: number; readonly middle: number };
  readonly numbers: { readonly share: number };
}

const settings = {
  share: {
    default: 0.35,
    unit: "share",
    what: "least share of an arm's length that is seen",
    source:
      "common practice: an arm within 20° of the line of sight (sine 0.34) shows no bend and no direction",
    min: 0,
    max: 1,
  },
  frames: {
    default: 6,
    unit: "frames",
    what: "how long it may be so",
    source: "common practice: a quarter of a second, in which an arm passes through",
    min: 1,
  },
} as const;

/** An arm that points into the lens. */
export const limbAtLens = defineCheck({
  name: "limb-at-lens",
  title: "Limb at the lens",
  family: "staging",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "An arm points at the camera or away from it, so that its length and its bend are lost.",
  why: "Forearm lies over upper arm in the picture: nobody sees where the hand is, or that the elbow bends.",
  computes:
    "The lengths of upper arm and forearm as the camera sees them, shoulder to elbow to wrist, in metres at the elbow's distance, over their true lengths. Told are stretches in which all three joints are in the picture and this is under 35 %. The number is the mean of the stretch.",
  fix: "Turn the arm at the shoulder until it lies across the line of sight.",
  notAFault: [
    "a shot without a camera",
    "an arm that passes through",
    "hands that touch what the document says, or hold it with another hand or where it stands",
  ],
  limits: ["It looks at arms alone.", "A hand that is meant to reach for the lens is told of; waive it."],
  sources: ["Common practice: staging; a limb is shown across the line of sight, not along it"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const found: LimbAtLensFinding[] = [];
    const { count } = gridOf(study);
    for (const arm of armsOf(study, index)) {
      const shares = sharesOf(study, arm);
      if (shares === null) return found;
      for (let from = 0; from < count; from++) {
        let to = from;
        let sum = 0;
        while (to < count && shares[to] < values.share) sum += shares[to++];
        if (to - from > values.frames)
          found.push(findingOf(study, index, arm, [from, to - 1], sum / (to - from), values.share));
        from = to;
      }
    }
    return found;
  },
  word(finding, words) {
    const { share } = finding.numbers;
    return {
      message: `the arm of ${words.part} points along the line of sight at ${words.counted(finding.from, finding.to)}: ${words.share(share)} of its length is seen`,
      suggestion: "turn it at the shoulder until it lies across the line of sight",
    };
  },
});

/** Per sample: the share of an arm's length that the camera sees; NaN where it is not judged. Null without a camera. */
function sharesOf(study: Study, { root, middle, end, upper, lower }: Limb): Float64Array | null {
  const lens = lensOf(study);
  const a = screenOf(study, root);
  const b = screenOf(study, middle);
  const c = screenOf(study, end);
  if (lens === null || a === null || b === null || c === null) return null;
  const shares = floats(lens.seen.length).fill(Number.NaN);
  for (let i = 0; i < shares.length; i++) {
    const k = seenWidth * i;
    if (![a, b, c].every((seen) => isInPicture(lens, i, seen, k, 0)) || isTied(study, end, i)) continue;
    const drawn = lengthOf(b[k] - a[k], b[k + 1] - a[k + 1]) + lengthOf(c[k] - b[k], c[k + 1] - b[k + 1]);
    shares[i] = drawn / (b[k + 3] * (upper + lower));
  }
  return shares;
}

function findingOf(
  study: Study,
  figure: number,
  { root, middle, end, upper, lower }: Limb,
  [from, to]: readonly [number, number],
  share: number,
  least: number,
): LimbAtLensFinding {
  return {
    node: end,
    figure,
    from,
    to,
    measured: { quantity: "share of the arm's length that is seen", value: share, unit: "share" },
    expected: { min: least, unit: "share", source: settings.share.source },
    excess: least > 0 ? 2 - share / least : 1,
    size: (1 - Math.min(1, share)) * (upper + lower),
    // What puts it right turns the arm.
    carries: massSharesBelow(study, figure)[root],
    arm: { root, middle },
    numbers: { share },
    fault: { kind: "keys", keys: keysOfNodes(study, [root, middle], from, to) },
  };
}
