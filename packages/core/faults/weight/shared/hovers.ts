import { radiansPerDegree, referenceRate } from "../../../base/constants.ts";
import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { seatedAt } from "../../../motion/body/ground-demand.ts";
import { contactsOf, nodeContactAt } from "../../../motion/ground/contact.ts";
import { besideShare, standingSpeedOf } from "../../../motion/ground/foot.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { squaredAlong } from "../../../motion/ground/slide.ts";
import { type FootOverSurface, lowestOf } from "../../../motion/ground/sole-heights.ts";
import { solePathOf } from "../../../motion/ground/sole-path.ts";
import { bodySupportAt } from "../../../motion/ground/support.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { figureOfNode, statureOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { bearingOf, hoverFrames } from "./bearing.ts";

/** A body that nothing carries hovers where its feet keep still this near the ground, body heights: common practice. */
const hoverShare = 0.15;
/** Slower than this, body heights per second, a foot keeps still: 4 mm a frame of a grown person (our choice). */
export const stillShare = 0.06;
/** A sole tilted by less than 10° lies flat: captured steps leave the ground with 14° and more (see flat-foot). */
const flatCosine = Math.cos(10 * radiansPerDegree);
/** Of a joint that stands less than this over its sole, body heights (2 mm of a grown person), no tilt can be told: a paw, a tip. */
const leastSole = 0.001;

/** Where a foot keeps still over a surface for longer than one that is on its way, higher than a gap. */
export interface Hovers {
  /**
   * Stretches in the air: the foot touches nothing, and is on no leg of a figure that sits. It lies flat and near the surface, or
   * nothing carries the figure, or the body passes over it by the length of a foot: one that is lifted goes along. In step
   * keys the poses beside count as well in which the foot is over the same place, where it stands too. A foot that has to
   * bear need not keep still (see `bearing.ts`).
   */
  inAir(): Span[];
  /** Stretches of a plant in which the foot lies flat. */
  inPlant(plant: Span): Span[];
}

/** @param gap metres */
export function hoversOf(
  study: Study,
  figure: number,
  foot: FootOverSurface,
  surface: Surface,
  gap: number,
): Hovers {
  const stature = statureOf(study, figure);
  const { lowest, isFlat, runsIn, stayAround } = stillnessOf(study, figure, foot, surface, gap);
  return {
    inAir() {
      const carried = bodySupportAt(study, figure);
      const seated = seatedAt(study, figure);
      const touches = foot.points.map(({ node }) => nodeContactAt(study, node));
      // Whoever sits lets its legs hang; what stands in front of it still carries.
      const hangs = limbsOf(study, figure).some(
        ({ kind, root }) => kind === "leg" && isAbove(rigOf(study), root, foot.ankle),
      );
      const inAir = (i: number) => !(hangs && seated[i] === 1) && touches.every((touch) => touch[i] === 0);
      const isNear = (i: number) => lowest[i] < besideShare * stature;
      const isLow = (i: number) => surface.declared && lowest[i] < hoverShare * stature;
      const range = { from: 0, to: lowest.length - 1 };
      const passed = runsIn(range, (i) => inAir(i) && isNear(i)).filter((run) =>
        isPassed(study, figure, foot, surface, stayAround(run)),
      );
      const isPassing = bytes(lowest.length);
      for (const { from, to } of passed) isPassing.fill(1, from, to + 1);
      const others = runsIn(
        range,
        (i) =>
          inAir(i) &&
          (carried[i] === 0 ? isNear(i) || isLow(i) : isNear(i) && isFlat(i)) &&
          isPassing[i] === 0,
      );
      const bears = bearingOf(study, figure, foot, {
        carried,
        stands: (i) => inAir(i) && isNear(i) && lowest[i] > gap && isFlat(i),
      });
      return joined([...passed, ...others], bears);
    },
    inPlant: (plant) => runsIn(plant, isFlat),
  };
}

/** Some stretches, and others with all of the first that they meet taken into them. */
function joined(stretches: readonly Span[], others: readonly Span[]): Span[] {
  const meets = (a: Span, b: Span) => a.from <= b.to && b.from <= a.to;
  const wider = others.map((other) => {
    const met = [other, ...stretches.filter((stretch) => meets(stretch, other))];
    return { from: Math.min(...met.map(({ from }) => from)), to: Math.max(...met.map(({ to }) => to)) };
  });
  return [...stretches.filter((stretch) => !others.some((other) => meets(stretch, other))), ...wider];
}

/** How a foot stands over a surface, and where it does so for long enough. */
function stillnessOf(study: Study, figure: number, foot: FootOverSurface, surface: Surface, gap: number) {
  const { rate } = gridOf(study);
  const stature = statureOf(study, figure);
  const lowest = lowestOf(foot);
  const speeds = foot.points.map(({ node }) => standingSpeedOf(study, node));
  const slow = stillShare * stature;
  // A foot that rolls keeps one of its points where it is.
  const isStill = (i: number) => {
    for (const speed of speeds) if (speed[i] < slow) return true;
    return false;
  };
  // One pose that step keys hold does not tell whether the foot stands or is on its way.
  const held = heldOf(study, foot.ankle);
  const longestGap = Math.round(rate / referenceRate);
  const place = (levelWidthShare * stature) ** 2;
  const cuts = cutsOf(study, foot.ankle);
  const isCut = (i: number) => i > 0 && i < held.length && isCutBetween(cuts, i - 1, i);
  const isSamePlace = (a: number, b: number) =>
    foot.points.some(
      ({ node }) => squaredAlong(worldOf(study, node).position, a, b, surface.normal) <= place,
    );
  return {
    lowest,
    isFlat: flatnessOf(study, foot, surface, stature),
    /** A stretch with the poses of step keys beside it in which the foot is over the same place, up or down. */
    stayAround({ from: first, to: last }: Span): Span {
      let from = first;
      let to = last;
      if (isCut(from) && isSamePlace(from, from - 1)) for (from--; from > 0 && held[from] === 1; ) from--;
      if (isCut(to + 1) && isSamePlace(to, to + 1)) for (to++; held[to + 1] === 1; ) to++;
      return { from, to };
    },
    runsIn({ from: first, to: last }: Span, counts: (sample: number) => boolean): Span[] {
      const runs: Span[] = [];
      let from = -1;
      let to = -1;
      const close = () => {
        if (from < 0 || to - from + 1 < (hoverFrames * rate) / referenceRate) return;
        if (held.subarray(from + 1, to + 1).includes(0)) runs.push({ from, to });
      };
      for (let i = first; i <= last; i++) {
        if (!(lowest[i] > gap && isStill(i) && counts(i))) continue;
        if (from >= 0 && i - to <= longestGap + 1 && isSamePlace(to, i)) {
          to = i;
          continue;
        }
        close();
        from = i;
        to = i;
      }
      close();
      return runs;
    },
  };
}

/** Whether the hips go on over a foot that stays in its place, by more than the foot is long. */
function isPassed(
  study: Study,
  figure: number,
  { points }: FootOverSurface,
  { normal }: Surface,
  { from, to }: Span,
): boolean {
  const along = (node: number) => squaredAlong(worldOf(study, node).position, from, to, normal);
  const enough = lengthShare.foot * statureOf(study, figure);
  const own = Math.min(...points.map(({ node }) => along(node)));
  return Math.sqrt(along(hipsOf(study, figure))) - Math.sqrt(own) >= enough;
}

/** Tells whether a foot lies flat over a surface at a sample, as one that stands does; a lifted one hangs or points. */
function flatnessOf(
  study: Study,
  { ankle, points }: FootOverSurface,
  { normal: [nx, ny, nz] }: Surface,
  stature: number,
): (sample: number) => boolean {
  if (points.length > 1) {
    const width = levelWidthShare * stature;
    return (i) => {
      let low = points[0].height[i];
      let high = low;
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
  const least = leastSole * stature;
  const up = standsUnder(study, ankle, joint, sole) ? -1 : 1;
  return (i) => {
    const k = 3 * i;
    const x = joint[k] - sole[k];
    const y = joint[k + 1] - sole[k + 1];
    const z = joint[k + 2] - sole[k + 2];
    const thick = lengthOf(x, y, z);
    return thick < least || up * (x * nx + y * ny + z * nz) >= flatCosine * thick;
  };
}

/** Whether a joint stands lower than what it stands on: where only other feet tell where the ground is, it may be a little over it. */
function standsUnder(study: Study, node: number, joint: Float64Array, sole: Float64Array): boolean {
  const stand = contactsOf(study, figureOfNode(study, node)).find((contact) => contact.node === node);
  if (stand === undefined) return false;
  const k = 3 * ((stand.from + stand.to) >> 1);
  const [nx, ny, nz] = stand.surface.normal;
  return (
    nx * (joint[k] - sole[k]) + ny * (joint[k + 1] - sole[k + 1]) + nz * (joint[k + 2] - sole[k + 2]) < 0
  );
}
