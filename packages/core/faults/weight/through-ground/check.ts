import type { Study } from "../../../base/study.ts";
import { contactsOf, groundOf, isSurface, plantShares } from "../../../motion/ground/contact.ts";
import { feetAreGuessed, weightOnFoot } from "../../../motion/ground/feet.ts";
import { standingSpeedOf } from "../../../motion/ground/foot.ts";
import { soleHeights } from "../../../motion/ground/sole-heights.ts";
import { standingsOf } from "../../../motion/ground/standing.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { boundsOf, isWithin } from "../../../motion/ground/surface-bounds.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { pictureShareOf } from "../../../rig/picture-share.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { causeOr } from "../shared/cause-or.ts";
import { heightCause } from "../shared/height-cause.ts";
import { heightFault } from "../shared/height-fault.ts";
import { isOnePose } from "../shared/one-pose.ts";
import { soleEvidence } from "../shared/sole-evidence.ts";
import { plainlySeen, standLimit } from "../shared/stand-limit.ts";
import { handsOver } from "./hands.ts";

/** With numbers in working units. */
export interface ThroughGroundFinding extends Finding {
  /** `on` is 1 where it goes through another surface than the ground, on which it stands. */
  readonly numbers: { readonly depth: number; readonly deepest: number; readonly on: number };
}

const settings = {
  depth: {
    default: 0.0125,
    unit: "H",
    what: "how deep a foot may go into the ground",
    source:
      "common practice: about 2 cm of a grown person; planted joints of captured motion stay within 1.5 cm of their level",
    min: 0,
  },
  seen: {
    default: 0.006,
    unit: "H",
    what: "how deep it may go where the feet of the shot stand exactly",
    source:
      "common practice: the edge of a sole is gone a centimetre under the floor of a grown person; four lines of a full figure in a picture of 720 lines",
    min: 0,
  },
  frames: {
    default: 2,
    unit: "frames",
    what: "for how long it has to be under it",
    source: "common practice: a foot may land between two frames",
    min: 1,
  },
} as const;

/** Tolerance of a ground that is inferred from plants, as a factor: its level is a median of them; common practice. */
const inferred = 1.5;

/** A foot goes through the ground. */
export const throughGround = defineCheck({
  name: "through-ground",
  title: "Foot through the ground",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "A foot, standing or swinging, or a hand, goes through the ground.",
  why: "What goes through the ground is not carried by it.",
  computes:
    "Heights of the sole under the ankle, the ball and the end of the toes over the ground. While a foot keeps still on another declared surface, as on stairs, within its edges, they are those over that one as well. The lowest of them is under the surface by more than the tolerance, for two frames and more. The tolerance is three times the spread with which the other feet of this shot stand on their level (1.4826 times the median distance), between `seen` and `depth`. Of a body that is no person, tolerances are shares of the height of a picture that it fills: its own, or 9/16 of its breadth. A `depth` that was raised counts alone, and so does all of it where neither surface nor sole is known. The sole under each joint is as thick as the rest pose says, where that stands on the ground and a foot is seen to stand so. Else it is the level at which the joint stands in most of the shot. Every end of a limb that reaches the floor in the rest pose, and rests there again and again, is a foot. A human's hand is judged by its wrist and its first finger joint, which have flesh on all sides, against `depth`. The ground has to be declared, without edges, and no other declared level may be lower. Less than 0.0125 body heights is a minor note at most.",
  fix: "Bring the foot, or the pitch of the foot, up by the centimetres that are named.",
  notAFault: [
    "soft ground: raise the tolerance",
    "what swings past the edge of a stair: over steps a foot is judged while it stands on one of them",
    "what step keys hold beside a stair for one pose: there a foot stands where it stays for more than one",
  ],
  limits: [
    "A body with arms and a head and no part that is a foot may wear what reaches the floor: unless it is declared, its notes are polish.",
    "Where no surface is declared the ground is the one on which the rest pose stands, else the level of the lowest plants. A foot has to be seen there, or both at once for a quarter of a second, exactly. There the tolerance is half as much again for a foot whose sole is not known. The ends of the toes, which bend, are not judged without a declared surface.",
  ],
  sources: [
    "Common practice: planted feet are brought onto the floor before anything above them is judged",
    "Pražák, Hoyet, O'Sullivan 2011 (abstract): feet that slide are seen at less than 21 mm in most conditions; no figure for depth is known to us",
  ],
  since: "0.1.0",
  settings,
  repeats: "amount",
  find(study, figure, given) {
    const share = pictureShareOf(study, figure);
    const values = { ...given, depth: share * given.depth, seen: share * given.seen };
    const ground = groundOf(study);
    const { count } = gridOf(study);
    const found: ThroughGroundFinding[] = [];
    const standings = standingsOf(study, figure);
    const usual = share * settings.depth.default * statureOf(study, figure);
    const judge = (surface: Surface, counts: (points: Points) => (sample: number) => boolean) => {
      const feet = soleHeights(study, figure, surface);
      for (const foot of feet) {
        const { ankle, points } = foot;
        const isKnown = surface.declared || points.every(({ node }) => standings.get(node)?.known === true);
        const depth = isKnown
          ? standLimit(study, feet, foot, values.seen, values.depth, usual)
          : values.depth * inferred;
        const isCounted = counts(points);
        for (const { from, to } of runsWhere(count, (i) => isUnder(points, i, depth) && isCounted(i))) {
          if (to - from + 1 < Math.round(values.frames)) continue;
          found.push(finding(study, figure, surface, ankle, points, from, to, depth));
        }
      }
    };
    judge(ground, () => () => true);
    for (const { ankle: hand, points } of handsOver(study, figure, ground)) {
      for (const { from, to } of runsWhere(count, (i) => isUnder(points, i, values.depth))) {
        if (to - from + 1 < Math.round(values.frames)) continue;
        found.push({ ...finding(study, figure, ground, hand, points, from, to, values.depth), carries: 0 });
      }
    }
    for (const surface of othersStoodOn(study, figure, ground)) {
      judge(surface, (points) => standsOn(study, figure, surface, points));
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const depth = words.length(numbers.depth);
    const key = words.keys[0];
    const where = key === undefined ? "" : ` at ${key.node} ${key.channel}, frame ${key.frame}`;
    const through = numbers.on === 1 ? "the surface on which it stands" : "the ground";
    return {
      message: `${words.part} goes ${depth} through ${through} at frame ${words.frame(numbers.deepest)}, ${words.span(from, to)}`,
      suggestion: `bring it up by ${depth}${where}`,
    };
  },
});

type Points = readonly { readonly node: number; readonly height: Float64Array }[];

/** The declared surfaces beside the ground on which a figure stands somewhere: stairs, a ledge. */
function othersStoodOn(study: Study, figure: number, ground: Surface): Surface[] {
  const found = new Map<string, Surface>();
  for (const { surface } of contactsOf(study, figure)) {
    if (surface.declared && surface.id !== ground.id && isSurface(study, surface))
      found.set(surface.id, surface);
  }
  return [...found.values()];
}

/**
 * Tells whether a foot stands on a surface at a sample: one of its points is in contact with it, keeps still there, and is
 * within its edges. How thick its sole is has to be known, or seen on the ground: of what only perches there it is not.
 */
function standsOn(
  study: Study,
  figure: number,
  surface: Surface,
  points: Points,
): (sample: number) => boolean {
  const standings = standingsOf(study, figure);
  const ground = groundOf(study).id;
  const own = contactsOf(study, figure).filter(({ node }) => points.some((point) => point.node === node));
  const isSeen = own.some((contact) => contact.surface.id === ground);
  if (!isSeen && points.some(({ node }) => standings.get(node)?.known !== true)) return () => false;
  const stature = statureOf(study, figure);
  const bounds = boundsOf(study, surface.id, plantShares.deepest * stature);
  const stands = own
    .filter((contact) => contact.surface.id === surface.id)
    .map(({ node, from, to }) => ({
      from,
      to,
      speed: standingSpeedOf(study, node),
      path: worldOf(study, node).position,
      cuts: cutsOf(study, node),
    }));
  const still = plantShares.stillSpeed * stature;
  return (i) =>
    stands.some(
      ({ from, to, speed, path, cuts }) =>
        i >= from &&
        i <= to &&
        speed[i] < still &&
        (bounds === null || isWithin(bounds, path, 3 * i)) &&
        !isOnePose(path, cuts, i, stature),
    );
}

function isUnder(points: Points, sample: number, depth: number): boolean {
  for (const { height } of points) if (height[sample] < -depth) return true;
  return false;
}

function finding(
  study: Study,
  figure: number,
  ground: Surface,
  ankle: number,
  points: Points,
  from: number,
  to: number,
  limit: number,
): ThroughGroundFinding {
  let deepest = from;
  let point = points[0];
  for (const candidate of points) {
    for (let i = from; i <= to; i++) {
      if (candidate.height[i] < point.height[deepest]) {
        deepest = i;
        point = candidate;
      }
    }
  }
  const depth = -point.height[deepest];
  return {
    node: ankle,
    figure,
    from,
    to,
    measured: { quantity: "depth under the ground", value: depth, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.depth.source },
    excess: depth / limit,
    size: depth,
    carries: weightOnFoot(study, figure),
    ...(depth < plainlySeen * pictureShareOf(study, figure) * statureOf(study, figure) && {
      ceiling: "minor" as const,
    }),
    ...(feetAreGuessed(study, figure) && { ceiling: "polish" }),
    numbers: { depth, deepest, on: ground.id === groundOf(study).id ? 0 : 1 },
    evidence: [soleEvidence(study, points, from, to)],
    fault: faultOf(study, ground, point, points, from, to),
  };
}

/**
 * The key that presses the foot down, if putting it right helps; else the keys that set its height, or move its limb most.
 */
function faultOf(
  study: Study,
  ground: Surface,
  { node }: Points[number],
  points: Points,
  from: number,
  to: number,
): Fault {
  const isWhole = from === 0 && to === gridOf(study).count - 1;
  if (isWhole) {
    const keyed = heightCause(study, node, { from, to }, ground.normal);
    if (keyed !== null) return keyed;
  }
  const pressed = heightFault(study, ground, points, { from, to }, deepestOf, "deepest");
  // A leg that is keyed on every frame is pressed down by its keys together: none of them alone lifts it.
  return causeOr(study, pressed, chainOf(rigOf(study), node).slice(1).reverse(), from, to);
}

function deepestOf(heights: Float64Array): number {
  let most = 0;
  for (let i = 0; i < heights.length; i++) most = Math.max(most, -heights[i]);
  return most;
}
