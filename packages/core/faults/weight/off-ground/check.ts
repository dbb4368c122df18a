import { referenceRate } from "../../../base/constants.ts";
import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { feetAreGuessed, weightOnFoot } from "../../../motion/ground/feet.ts";
import {
  type FootPlant,
  footPlantsOf,
  hipsOf,
  otherFootContactsOf,
} from "../../../motion/ground/foot-plant.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { type FootOverSurface, lowestOf, soleHeights } from "../../../motion/ground/sole-heights.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { statureOf } from "../../../rig/body.ts";
import { pictureShareOf } from "../../../rig/picture-share.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { hoverFrames } from "../shared/bearing.ts";
import { isGroundSeen } from "../shared/ground-seen.ts";
import { heightCause } from "../shared/height-cause.ts";
import { heightFault } from "../shared/height-fault.ts";
import { type Hovers, hoversOf, stillShare } from "../shared/hovers.ts";
import { isOnePose } from "../shared/one-pose.ts";
import { heightsUnrolled } from "../shared/rolled-up.ts";
import { soleEvidence } from "../shared/sole-evidence.ts";
import { plainlySeen, standLimit } from "../shared/stand-limit.ts";

/** With numbers in working units. */
export interface OffGroundFinding extends Finding {
  readonly numbers: { readonly gap: number };
}

const settings = {
  gap: {
    default: 0.0125,
    unit: "H",
    what: "how high over its surface a foot may stand",
    source:
      "common practice: about 2 cm of a grown person; planted joints of captured motion stay within 1.5 cm of their level",
    min: 0,
  },
  seen: {
    default: 0.006,
    unit: "H",
    what: "how high it may stand where the feet of the shot stand exactly",
    source:
      "common practice: light under a sole is seen from a centimetre of a grown person on; four lines of a full figure in a picture of 720 lines",
    min: 0,
  },
  frames: {
    default: 3,
    unit: "frames",
    what: "for how long it has to stand there",
    source:
      "common practice: a foot lands or lifts within two frames; one that stands in the air for three hovers",
    min: 1,
  },
} as const;

/** A foot stands above the surface. */
export const offGround = defineCheck({
  name: "off-ground",
  title: "Foot off the ground",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "A foot stands in the air over the surface that should carry it.",
  why: "A gap under a foot that bears tells that the figure and the ground are two layers: the weight goes nowhere.",
  computes:
    "For each plant of a foot the sole's lowest point is compared with the surface, as a median over the plant without a frame at each end. Of a person's foot that is known by its ankle alone, what its tilt lifts the ankle by is taken off: it may stand on its toes. Of one with its ball higher than its ankle, what the back of the heel reaches lower is taken off. The limit is three times the spread with which the other feet of this shot stand on their level (1.4826 times the median distance), between `seen` and `gap`. Of a body that is no person, limits are shares of the height of a picture that it fills: its own, or 9/16 of its breadth. A `gap` that was raised counts alone. Less than `gap` counts where the foot is down for six frames and in more than one pose. The note marks the frames in which it stands at that height, without a small step beside. Where only a part of the plant is too high, the foot has to keep still and flat there for six frames. Points of the sole are under the ankle, the ball and the end of the toes. It is as thick under each joint as the rest pose says, where that stands on the ground and a foot is seen to stand so. Else it is the level at which the joint stands in most of the shot. A foot that keeps still for six frames and touches nothing is judged alike. It is within 0.06 body heights of a ground that is declared, or on which the rest pose stands, or two feet again and again. One of them may stand all through. It has to lie flat, or nothing carries the figure, or the hips pass over it by the length of a foot. A flat foot that alone carries a figure for six frames need not keep still. It stands if it keeps its height and goes slower than 0.25 body heights per second. A body that falls by half of gravity or more is carried by nothing. Where nothing carries the figure, it may be up to 0.15 body heights over a declared ground. Less than 0.0125 body heights is a minor note at most. So are feet that hang alike, somewhere else in each pose of step keys, where no ground is declared: the body may fly by.",
  fix: "Bring the foot down by the centimetres that are named, or take the same off the hips' height if both feet hover.",
  notAFault: [
    "standing on the ball with the heel up, of a foot without a joint at its ball as well",
    "standing on the back of the heel with the toes up, as of somebody who sits on the ground",
    "a foot that is lifted while something else carries: higher than a step is thick, moving, or tilted",
    "a foot that is lifted for one pose of step keys",
    "a foot that still comes down, or already rises, by more than one that keeps still does",
    "soft or uneven ground: raise the tolerance",
  ],
  limits: [
    "A body with arms and a head and no part that is a foot may wear what reaches the floor: unless it is declared, its notes are polish.",
    "Where no surface is declared, and the rest pose stands on none, the ground is the level of the lowest plants. A figure that hovers all through the shot is not seen then.",
    "Beside a foot that stands, one that keeps still higher than 0.06 body heights (10 cm of a grown person) is taken for lifted.",
  ],
  sources: [
    "Common practice: planted feet are brought onto the floor before anything above them is judged",
    "Pražák, Hoyet, O'Sullivan 2011 (abstract): feet that slide are seen at less than 21 mm in most conditions; no figure for gaps is known to us",
  ],
  since: "0.1.0",
  settings,
  repeats: "amount",
  find(study, figure, given) {
    const found: OffGroundFinding[] = [];
    const share = pictureShareOf(study, figure);
    const values = { ...given, gap: share * given.gap, seen: share * given.seen };
    const heights = new Map<string, FootOverSurface[]>();
    const feetOver = (surface: Surface) => {
      const known = heights.get(surface.id) ?? soleHeights(study, figure, surface);
      heights.set(surface.id, known);
      return known;
    };
    const usual = share * settings.gap.default * statureOf(study, figure);
    const limits = new Map<FootOverSurface, number>();
    const gapOver = (foot: FootOverSurface, surface: Surface) => {
      const known = limits.get(foot);
      if (known !== undefined) return known;
      const gap = standLimit(study, feetOver(surface), foot, values.seen, values.gap, usual);
      limits.set(foot, gap);
      return gap;
    };
    const hovers = new Map<FootOverSurface, Hovers>();
    const hoversOver = (foot: FootOverSurface, surface: Surface) => {
      const gap = gapOver(foot, surface);
      const known = hovers.get(foot) ?? hoversOf(study, figure, foot, surface, gap);
      hovers.set(foot, known);
      return known;
    };
    const least = Math.round(values.frames);
    const judge = (foot: FootOverSurface, surface: Surface, run: Span) => {
      if (run.to - run.from + 1 < least) return;
      const middle = (run.from + run.to) >> 1;
      // Of feet of which one stands the others are higher, or lower: a body that flies by has them alike.
      const width = levelWidthShare * statureOf(study, figure);
      const isAlike = feetOver(surface).every(
        (other) => Math.abs(lowestOf(other)[middle] - lowestOf(foot)[middle]) <= width,
      );
      const mayFly = !surface.declared && isAlike && isOfSinglePoses(study, figure, foot.ankle, run);
      const finding = findingIn(study, figure, surface, foot, feetOver(surface), run, gapOver(foot, surface));
      if (finding.size > values.gap || staysDown(study, foot.ankle, run))
        found.push(mayFly ? { ...finding, ceiling: finding.ceiling ?? "minor" } : finding);
    };
    const judgePlant = (ankle: (node: number) => boolean, surface: Surface, plant: Plant) => {
      const foot = feetOver(surface).find((other) => ankle(other.ankle));
      if (foot === undefined) return;
      const lowest = lowestOf(foot);
      const core = settled(study, figure, lowest, coreOf(study, foot.ankle, plant), plant);
      if (core.to - core.from + 1 < least) return;
      const gap = gapOver(foot, surface);
      if (!lowest.subarray(core.from, core.to + 1).some((height) => height > gap)) return;
      if (medianOf(heightsUnrolled(study, figure, foot, surface, core)) > gap)
        judge(foot, surface, raised(lowest, core, gap, levelWidthShare * statureOf(study, figure)));
      else for (const run of hoversOver(foot, surface).inPlant(core)) judge(foot, surface, run);
    };
    for (const stance of footPlantsOf(study, figure)) {
      const surface = (stance.toe ?? stance.heel)?.surface;
      if (surface === undefined) continue;
      judgePlant((node) => node === stance.leg.end || node === stance.leg.ball, surface, stance);
    }
    for (const { contact, foot } of otherFootContactsOf(study, figure)) {
      const { surface, from, to } = contact;
      const plant = { from, to, lands: from > 0, leaves: to < gridOf(study).count - 1 };
      judgePlant((node) => node === foot, surface, plant);
    }
    const ground = groundOf(study);
    if (!isGroundSeen(study, figure, ground)) return found;
    for (const foot of feetOver(ground)) {
      for (const run of hoversOver(foot, ground).inAir()) judge(foot, ground, run);
    }
    return found;
  },
  word(finding, words) {
    const gap = words.length(finding.numbers.gap);
    const key = words.keys[0];
    const where = key === undefined ? "" : ` at ${key.node} ${key.channel}, frame ${key.frame}`;
    return {
      message: `${words.part} stands ${gap} above the surface, ${words.span(finding.from, finding.to)}`,
      suggestion: `bring it down by ${gap}${where}`,
    };
  },
});

/**
 * Whether a foot is down for longer than one that lands or leaves, and in more than one pose of step keys: only of such
 * a one is it certain that a small gap is none of the swing.
 */
function staysDown(study: Study, node: number, { from, to }: Span): boolean {
  const frames = ((to - from + 1) * referenceRate) / gridOf(study).rate;
  return (
    frames >= hoverFrames &&
    heldOf(study, node)
      .subarray(from + 1, to + 1)
      .includes(0)
  );
}

type Plant = Pick<FootPlant, "from" | "to" | "lands" | "leaves">;

/**
 * The plant without the frame in which it lands and the one in which it leaves. A pose of step keys that is held from
 * before the landing is still one of the swing.
 */
function coreOf(study: Study, node: number, { from, to, lands, leaves }: Plant): Span {
  const trim = Math.max(1, Math.round(gridOf(study).rate / referenceRate));
  const held = heldOf(study, node);
  let first = lands ? from + trim : from;
  if (lands && held[from] === 1) for (first = from; first <= to && held[first] === 1; ) first++;
  return { from: first, to: leaves ? to - trim : to };
}

/**
 * A plant from where its foot has come down, until it sets off: what still sinks or rises by more than a foot that keeps
 * still does does not stand yet, or no more. A giant takes many frames for it.
 */
function settled(
  study: Study,
  figure: number,
  height: Float64Array,
  { from, to }: Span,
  { lands, leaves }: Plant,
): Span {
  const step = stillShare * statureOf(study, figure) * gridOf(study).dt;
  let [first, last] = [from, to];
  if (lands) while (first < last && height[first] - height[first + 1] > step) first++;
  if (leaves) while (last > first && height[last] - height[last - 1] > step) last--;
  return { from: first, to: last };
}

/** Whether a foot is somewhere else with each pose of step keys in a stretch, as one that flies or walks on is. */
function isOfSinglePoses(study: Study, figure: number, node: number, { from, to }: Span): boolean {
  const cuts = cutsOf(study, node);
  if (cuts.length === 0) return false;
  const { position } = worldOf(study, node);
  const stature = statureOf(study, figure);
  for (let i = from; i <= to; i++) if (!isOnePose(position, cuts, i, stature)) return false;
  return true;
}

/**
 * The longest part of a stretch, at least half of it, in which a foot is above a gap and no higher over where it stands
 * most than heights of one level lie apart: a small step is none of its stand. Else from the first to the last sample
 * above the gap.
 */
function raised(height: Float64Array, { from, to }: Span, gap: number, width: number): Span {
  const highest = medianOf(height.subarray(from, to + 1)) + width;
  const stands = (k: number) => height[from + k] > gap && height[from + k] <= highest;
  let longest: Span = { from, to: from - 1 };
  for (const run of runsWhere(to - from + 1, stands))
    if (run.to - run.from > longest.to - longest.from) longest = { from: from + run.from, to: from + run.to };
  if (2 * (longest.to - longest.from + 1) >= to - from + 1) return longest;
  let [first, last] = [from, to];
  while (first < last && !(height[first] > gap)) first++;
  while (last > first && !(height[last] > gap)) last--;
  return { from: first, to: last };
}

function findingIn(
  study: Study,
  figure: number,
  surface: Surface,
  foot: FootOverSurface,
  feet: readonly FootOverSurface[],
  run: Span,
  most: number,
): OffGroundFinding {
  const gap = medianOf(lowestOf(foot).subarray(run.from, run.to + 1));
  const other = feet.find(({ ankle }) => ankle !== foot.ankle);
  const middle = (run.from + run.to) >> 1;
  const otherStands = other !== undefined && Math.abs(lowestOf(other)[middle]) <= most;
  return {
    node: foot.ankle,
    figure,
    from: run.from,
    to: run.to,
    measured: { quantity: "gap under the foot", value: gap, unit: "m" },
    expected: { max: most, unit: "m", source: settings.gap.source },
    excess: gap / most,
    size: gap,
    carries: weightOnFoot(study, figure),
    ...(gap < plainlySeen * pictureShareOf(study, figure) * statureOf(study, figure) && {
      ceiling: "minor" as const,
    }),
    ...(feetAreGuessed(study, figure) && { ceiling: "polish" }),
    numbers: { gap },
    evidence: [soleEvidence(study, foot.points, run.from, run.to)],
    fault: faultOf(study, figure, surface, foot, otherStands ? other.ankle : -1, run),
  };
}

/** The key that lifts the foot, if putting it right helps; else the keys that set its height, or move its limb most. */
function faultOf(
  study: Study,
  figure: number,
  surface: Surface,
  { ankle, points }: FootOverSurface,
  elsewhere: number,
  run: Span,
): Fault {
  const fault = heightFault(
    study,
    surface,
    points,
    run,
    (heights) => Math.max(0, medianOf(heights)),
    "median",
  );
  const tried = causesOf(study, fault);
  if (tried.length > 0) return keysFault(tried);
  const keyed = heightCause(study, ankle, run, surface.normal, elsewhere);
  if (keyed !== null) return keyed;
  const chain = chainOf(rigOf(study), ankle);
  const limb = chain.slice(chain.indexOf(hipsOf(study, figure)) + 1);
  return { kind: "keys", keys: keysOfNodes(study, limb, run.from, run.to, 3) };
}
