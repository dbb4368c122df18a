import { radiansPerDegree, referenceRate } from "../../../base/constants.ts";
import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { groundDemandOf } from "../../../motion/body/ground-demand.ts";
import { groundOf, nodeContactAt } from "../../../motion/ground/contact.ts";
import { besideShare, standingSpeedOf } from "../../../motion/ground/foot.ts";
import {
  type FootPlant,
  footPlantsOf,
  hipsOf,
  otherFootContactsOf,
} from "../../../motion/ground/foot-plant.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { type FootOverSurface, lowestOf, soleHeights } from "../../../motion/ground/sole-heights.ts";
import { solePathOf } from "../../../motion/ground/sole-path.ts";
import { standingsOf } from "../../../motion/ground/standing.ts";
import { bodySupportAt } from "../../../motion/ground/support.ts";
import { heightsOver, type Surface } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { causeOr } from "../shared/cause-or.ts";
import { heightCause } from "../shared/height-cause.ts";

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
  frames: {
    default: 3,
    unit: "frames",
    what: "for how long it has to stand there",
    source:
      "common practice: a foot lands or lifts within two frames; one that stands in the air for three hovers",
    min: 1,
  },
} as const;

/** A body that nothing carries hovers where its feet keep still this near the ground, body heights: common practice. */
const hoverShare = 0.15;
/** Slower than this, body heights per second, a foot keeps still: 4 mm a frame of a grown person (our choice). */
const stillShare = 0.06;
/**
 * A foot that keeps still for fewer frames (at 24 per second) than this is on its way: half a step of a walk on
 * twelves.
 */
const hoverFrames = 6;
/** A sole tilted by less than 10° lies flat: captured steps leave the ground with 14° and more (see flat-foot). */
const flatCosine = Math.cos(10 * radiansPerDegree);

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
    "For each plant of a foot the sole's lowest point is compared with the surface, as a median over the plant without a frame at each end. Its points are under the ankle, the ball and the end of the toes. The sole under each joint is as thick as the rest pose says, where that stands on the ground and a foot is seen to stand so. Else it is the level at which the joint stands in most of the shot. A foot that keeps still for six frames and touches nothing is judged alike, whatever else carries the figure. It has to lie flat, within 0.06 body heights of a ground that is declared, or on which the rest pose stands. Where nothing carries the figure, it may be up to 0.15 body heights over a declared ground.",
  fix: "Bring the foot down by the centimetres that are named, or take the same off the hips' height if both feet hover.",
  notAFault: [
    "standing on the ball with the heel up",
    "a foot that is lifted while something else carries: higher than a step is thick, moving, or tilted",
    "soft or uneven ground: raise the tolerance",
  ],
  limits: [
    "Where no surface is declared, and the rest pose stands on none, the ground is the level of the lowest plants. A figure that hovers all through the shot is not seen then.",
    "Beside a foot that stands, one that keeps still higher than 0.06 body heights (10 cm of a grown person) is taken for lifted.",
  ],
  sources: ["Common practice: planted feet are brought onto the floor before anything above them is judged"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: OffGroundFinding[] = [];
    const heights = new Map<string, FootOverSurface[]>();
    const feetOver = (surface: Surface) => {
      const known = heights.get(surface.id) ?? soleHeights(study, figure, surface);
      heights.set(surface.id, known);
      return known;
    };
    for (const stance of footPlantsOf(study, figure)) {
      const surface = (stance.toe ?? stance.heel)?.surface;
      const foot =
        surface &&
        feetOver(surface).find(({ ankle }) => ankle === stance.leg.end || ankle === stance.leg.ball);
      if (surface === undefined || foot === undefined) continue;
      judge(study, figure, surface, foot, feetOver(surface), coreOf(study, stance), values, found);
    }
    for (const { contact, foot: node } of otherFootContactsOf(study, figure)) {
      const { surface, from, to } = contact;
      const foot = feetOver(surface).find(({ ankle }) => ankle === node);
      const plant = { from, to, lands: from > 0, leaves: to < gridOf(study).count - 1 };
      if (foot === undefined) continue;
      judge(study, figure, surface, foot, feetOver(surface), coreOf(study, plant), values, found);
    }
    const ground = groundOf(study);
    const isKnown = [...standingsOf(study, figure).values()].some(({ known }) => known);
    if (!ground.declared && !isKnown) return found;
    for (const foot of feetOver(ground)) {
      for (const run of hoverRuns(study, figure, foot, ground)) {
        judge(study, figure, ground, foot, feetOver(ground), run, values, found);
      }
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

/** The plant without the frame in which it lands and the one in which it leaves. */
function coreOf(
  study: Study,
  { from, to, lands, leaves }: Pick<FootPlant, "from" | "to" | "lands" | "leaves">,
): Span {
  const trim = Math.max(1, Math.round(gridOf(study).rate / referenceRate));
  return { from: lands ? from + trim : from, to: leaves ? to - trim : to };
}

/**
 * Stretches in which a foot of a figure that does not sit keeps still over the ground and touches nothing: flat and near
 * it, whatever else carries the figure, or somewhat higher where nothing does.
 */
function hoverRuns(study: Study, figure: number, foot: FootOverSurface, ground: Surface): Span[] {
  const { rate } = gridOf(study);
  const carried = bodySupportAt(study, figure);
  const { seated } = groundDemandOf(study, figure);
  const stature = statureOf(study, figure);
  const speed = standingSpeedOf(study, foot.ankle);
  const lowest = lowestOf(foot);
  const touches = foot.points.map(({ node }) => nodeContactAt(study, node));
  const tilt = tiltLimits(study, foot, ground, stature);
  const runs: Span[] = [];
  let from = -1;
  for (let i = 0; i <= lowest.length; i++) {
    const isStill =
      i < lowest.length &&
      seated[i] === 0 &&
      speed[i] < stillShare * stature &&
      lowest[i] > 0 &&
      touches.every((touch) => touch[i] === 0);
    const hovers =
      isStill &&
      ((lowest[i] < besideShare * stature && tilt(i)) ||
        (ground.declared && carried[i] === 0 && lowest[i] < hoverShare * stature));
    if (hovers && from < 0) from = i;
    if (hovers || from < 0) continue;
    if (i - from >= (hoverFrames * rate) / referenceRate) runs.push({ from, to: i - 1 });
    from = -1;
  }
  return runs;
}

/** Tells whether a foot lies flat over a surface at a sample, as one that stands does; a lifted one hangs or points. */
function tiltLimits(
  study: Study,
  { ankle, points }: FootOverSurface,
  { normal: [nx, ny, nz] }: Surface,
  stature: number,
): (sample: number) => boolean {
  if (points.length > 1) {
    const width = levelWidthShare * stature;
    return (i) => {
      let [low, high] = [points[0].height[i], points[0].height[i]];
      for (const { height } of points) {
        low = Math.min(low, height[i]);
        high = Math.max(high, height[i]);
      }
      return high - low <= width;
    };
  }
  const joint = worldOf(study, ankle).position;
  const sole = solePathOf(study, ankle);
  // Without a plant no sole is known, and whether it is tilted cannot be told.
  if (sole === joint) return () => true;
  return (i) => {
    const k = 3 * i;
    const [x, y, z] = [joint[k] - sole[k], joint[k + 1] - sole[k + 1], joint[k + 2] - sole[k + 2]];
    return x * nx + y * ny + z * nz >= flatCosine * lengthOf(x, y, z);
  };
}

function judge(
  study: Study,
  figure: number,
  surface: Surface,
  foot: FootOverSurface,
  feet: readonly FootOverSurface[],
  run: Span,
  values: { readonly gap: number; readonly frames: number },
  found: OffGroundFinding[],
): void {
  if (run.to - run.from + 1 < Math.round(values.frames)) return;
  const gap = medianOf(lowestOf(foot).subarray(run.from, run.to + 1));
  if (!(gap > values.gap)) return;
  const other = feet.find(({ ankle }) => ankle !== foot.ankle);
  const middle = (run.from + run.to) >> 1;
  const otherStands = other !== undefined && Math.abs(lowestOf(other)[middle]) <= values.gap;
  found.push({
    node: foot.ankle,
    figure,
    from: run.from,
    to: run.to,
    measured: { quantity: "gap under the foot", value: gap, unit: "m" },
    expected: { max: values.gap, unit: "m", source: settings.gap.source },
    excess: gap / values.gap,
    size: gap,
    numbers: { gap },
    fault: faultOf(study, figure, surface, foot.ankle, otherStands ? other.ankle : -1, run, gap),
  });
}

function faultOf(
  study: Study,
  figure: number,
  surface: Surface,
  ankle: number,
  elsewhere: number,
  run: Span,
  gap: number,
): Fault {
  const keyed = heightCause(study, ankle, run, surface.normal, elsewhere);
  if (keyed !== null) return keyed;
  const path = worldOf(study, ankle).position.subarray(3 * run.from, 3 * run.to + 3);
  const level = medianOf(heightsOver(surface, path)) - gap;
  const fault: Fault = {
    kind: "position",
    subject: ankle,
    lo: run.from,
    hi: run.to,
    from: run.from,
    to: run.to,
    strength: (series) => Math.max(0, medianOf(heightsOver(surface, series)) - level),
  };
  const chain = chainOf(rigOf(study), ankle);
  const limb = chain.slice(chain.indexOf(hipsOf(study, figure)) + 1);
  return causeOr(study, fault, limb, run.from, run.to);
}
