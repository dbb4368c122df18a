import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { massSharesBelow } from "../../../motion/body/mass-centre.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import type { Limb } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { type Lens, lensOf } from "../../../staging/camera.ts";
import { type Drawable, drawablesOf } from "../../../staging/draw.ts";
import { isInPicture, screenOf, seenWidth } from "../../../staging/screen.ts";
import { shareOutside } from "../../../staging/silhouette.ts";
import { solidsOf } from "../../../staging/solids.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { armsOf, handHoldsOf, hangs, isAtSomething, walksAt } from "../shared/arms.ts";

/** With numbers in working units. */
export interface MergedSilhouetteFinding extends Finding {
  /** Rig indices of the arm's joints. */
  readonly arm: { readonly root: number; readonly middle: number };
  readonly numbers: { readonly share: number };
}

const settings = {
  share: {
    default: 0.25,
    unit: "share",
    what: "least share of a hand that stands out from the rest of the figure",
    source:
      "common practice: a hand of which three quarters lie in the body's shape is not read in a flat dark figure",
    min: 0,
    max: 1,
  },
  frames: {
    default: 8,
    unit: "frames",
    what: "how long it may be lost",
    source: "common practice: a hand that passes the body is gone for a third of a second at the most",
    min: 1,
  },
  travel: {
    default: 0.15,
    unit: "H",
    what: "how far a hand has come to its pose, within a second, for the pose to be a gesture",
    source: "common practice: a gesture moves a hand by its own length and more",
    min: 0,
  },
} as const;

/** A hand that gestures is lost in the body's shape. */
export const mergedSilhouette = defineCheck({
  name: "merged-silhouette",
  title: "Merged silhouette",
  family: "staging",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "A hand holds a pose in which the camera sees it in front of the body or behind it, so that its shape is lost.",
  why: "A pose is read by its outline first. A hand inside the body's shape has none, and what it says is missed.",
  computes:
    "The figure is drawn flat through the shot's camera: capsules on its bones, or the shapes of its nodes, 128 places across the box of the figure. Of the places that the hand and its fingers cover, the share counts over which nothing else of the figure lies, its own forearm left out. Looked at are holds, seen from the hips: for a sixth of a second and more the hand stays within 3 % of the body's height. Where one follows upon the other, the hold drifts, and they are one. Within the second before it came 15 % far.",
  fix: "Turn the arm until the hand stands beside the body, or turn the body.",
  notAFault: [
    "a shot without a camera",
    "arms that hang, or swing with a walk: the forearm within 30° of straight down, beside steps within 60°; hands that pass the body",
    "hands that touch or hold what the document says",
    "hands that hold each other",
  ],
  limits: [
    "A hand that rests on the face or on a hip without a declared contact is told of.",
    "Light and colour can set a hand off from the body; it knows shapes alone.",
  ],
  sources: ["Common practice: staging; poses are tried as flat dark shapes. No threshold was found in print"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const lens = lensOf(study);
    if (lens === null) return [];
    const arms = armsOf(study, index);
    const found: MergedSilhouetteFinding[] = [];
    for (const arm of arms) {
      const holds = handHoldsOf(study, index, arm.end).filter(({ travel }) => travel >= values.travel);
      if (holds.length === 0) continue;
      const other = arms.find((one) => one !== arm) ?? null;
      const drawn = drawnApart(study, index, arm);
      const walks = walksAt(study, index);
      for (const hold of holds) {
        const shares: number[] = [];
        for (let i = hold.from; i <= hold.to + 1; i++) {
          const share =
            i > hold.to ? Number.NaN : shareAt(study, lens, index, { arm, other, walks }, drawn, i);
          if (share < values.share) {
            shares.push(share);
            continue;
          }
          if (shares.length > values.frames)
            found.push(findingOf(study, index, arm, i - 1, shares, values.share));
          shares.length = 0;
        }
      }
    }
    return found;
  },
  word(finding, words) {
    const { share } = finding.numbers;
    return {
      message: `${words.part} is lost in the body's shape at ${words.counted(finding.from, finding.to)}: ${words.share(share)} of it stands out`,
      suggestion: "turn the arm until the hand stands beside the body as the camera sees it",
    };
  },
});

/** A hand, and what of its figure it can be lost in. */
interface Apart {
  readonly hand: readonly Drawable[];
  readonly rest: readonly Drawable[];
}

function drawnApart(study: Study, figure: number, { side, middle, end }: Limb): Apart {
  const rig = rigOf(study);
  const own = solidsOf(study).filter((solid) => solid.figure === figure);
  const isHand = (part: string | undefined) => part === `${side}Hand` || part === `${side}Fingers`;
  const hand = own.filter(({ node, part }) => isAbove(rig, end, node) && isHand(part));
  const rest = own.filter(({ node }) => !isAbove(rig, middle, node));
  return { hand: drawablesOf(study, hand), rest: drawablesOf(study, rest) };
}

/** Hands nearer to each other than this hold each other, body heights: a hand and a half. */
const joined = 0.15;

/** The share of a hand that stands out at a sample; NaN where it is not to be judged. */
function shareAt(
  study: Study,
  lens: Lens,
  figure: number,
  { arm, other, walks }: { readonly arm: Limb; readonly other: Limb | null; readonly walks: Uint8Array },
  { hand, rest }: Apart,
  i: number,
): number {
  const seen = screenOf(study, arm.end);
  const stature = statureOf(study, figure);
  if (seen === null || hand.length === 0 || !isInPicture(lens, i, seen, seenWidth * i, 0)) return Number.NaN;
  if (hangs(study, arm, i, walks[i] === 1) || isAtSomething(study, arm.end, i)) return Number.NaN;
  const at = worldOf(study, arm.end).position;
  if (other !== null && distanceBetween(at, i, worldOf(study, other.end).position, i) < joined * stature)
    return Number.NaN;
  return shareOutside(study, lens, hand, rest, i);
}

function findingOf(
  study: Study,
  figure: number,
  { root, middle, end }: Limb,
  to: number,
  shares: readonly number[],
  least: number,
): MergedSilhouetteFinding {
  const from = to - shares.length + 1;
  const share = shares.reduce((sum, one) => sum + one, 0) / shares.length;
  const nodes = [root, middle, end, ...(figuresOf(study)[figure].parts.get("chest") ?? [])];
  return {
    node: end,
    figure,
    from,
    to,
    measured: { quantity: "share of the hand outside the body's shape", value: share, unit: "share" },
    expected: { min: least, unit: "share", source: settings.share.source },
    excess: least > 0 ? 2 - share / least : 1,
    size: lengthShare.hand * statureOf(study, figure),
    // What puts it right turns the arm.
    carries: massSharesBelow(study, figure)[root],
    arm: { root, middle },
    numbers: { share },
    fault: { kind: "keys", keys: keysOfNodes(study, nodes, from, to) },
  };
}
