import { soleHeights } from "../motion/clearance.ts";
import { gridOf } from "../motion/grid.ts";
import type { Run } from "../motion/plant.ts";
import { medianOf } from "../motion/smoothing.ts";
import { type Stance, stancesOf } from "../motion/stance.ts";
import { heightsOver } from "../motion/surface.ts";
import { worldOf } from "../rig/pose.ts";
import type { Study } from "../study/study.ts";
import { defineCheck, type Fault, type Finding } from "./check.ts";
import { heightCause } from "./height-cause.ts";

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
    source: "common practice",
    min: 1,
  },
} as const;

/** A foot stands above the surface. */
export const groundGap = defineCheck({
  name: "ground-gap",
  title: "Gap under the foot",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "A foot stands in the air over the surface that should carry it.",
  why: "A gap under a foot that bears tells that the figure and the ground are two layers: the weight goes nowhere.",
  computes:
    "For each plant of a foot the sole's lowest point (under the ankle, the ball, the end of the toes) is held against the surface, as a median over the plant without a frame at each end. The thickness of the sole under each joint is the lowest level at which the joint stands in the shot, no more than a sole can be.",
  mend: "Bring the foot down by the centimetres that are named, or take the same off the hips' height if both feet hover.",
  notAFault: ["standing on the ball with the heel up", "soft or uneven ground: raise the tolerance"],
  limits: [
    "Where no surface is declared the ground is the level of the lowest plants, so that a figure that hovers all through the shot is not seen.",
    "A foot that stands still higher than about 5 cm is taken for one that is lifted.",
  ],
  sources: ["Common practice"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: Finding[] = [];
    const stances = stancesOf(study, figure);
    if (stances.length === 0) return found;
    const heights = new Map<string, ReturnType<typeof soleHeights>>();
    for (const stance of stances) {
      const { surface } = (stance.toe ?? stance.heel)!;
      let feet = heights.get(surface.id);
      if (feet === undefined) {
        feet = soleHeights(study, figure, surface);
        heights.set(surface.id, feet);
      }
      const foot = feet.find(({ side }) => side === stance.leg.side);
      if (foot === undefined) continue;
      const run = coreOf(study, stance);
      if (run.to - run.from + 1 < values.frames) continue;
      const lowest = new Float64Array(run.to - run.from + 1).fill(Number.POSITIVE_INFINITY);
      for (const { height } of foot.points) {
        for (let i = 0; i < lowest.length; i++) lowest[i] = Math.min(lowest[i], height[run.from + i]);
      }
      const gap = medianOf(lowest);
      if (gap > values.gap) found.push(finding(study, figure, stance, run, gap, values.gap));
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
function coreOf(study: Study, { from, to, lands, leaves }: Stance): Run {
  const trim = Math.max(1, Math.round(gridOf(study).rate / 24));
  return { from: lands ? from + trim : from, to: leaves ? to - trim : to };
}

function finding(
  study: Study,
  figure: number,
  stance: Stance,
  run: Run,
  gap: number,
  limit: number,
): Finding {
  return {
    node: stance.leg.end,
    figure,
    from: run.from,
    to: run.to,
    measured: { quantity: "gap under the foot", value: gap, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.gap.source },
    excess: gap / limit,
    size: gap,
    numbers: { gap },
    fault: faultOf(study, figure, stance, run, gap, limit),
  };
}

function faultOf(
  study: Study,
  figure: number,
  { leg, toe, heel }: Stance,
  run: Run,
  gap: number,
  limit: number,
): Fault {
  const { surface } = (toe ?? heel)!;
  const other = soleHeights(study, figure, surface).find(({ side }) => side !== leg.side);
  const middle = (run.from + run.to) >> 1;
  const otherGap = other === undefined ? gap : Math.min(...other.points.map(({ height }) => height[middle]));
  const keyed = heightCause(
    study,
    leg.end,
    run,
    surface.normal,
    otherGap > limit ? -1 : (other?.ankle ?? -1),
  );
  if (keyed !== null) return keyed;
  const level = medianOf(heightsOver(surface, pathOf(study, leg.end, run))) - gap;
  return {
    kind: "position",
    subject: leg.end,
    lo: run.from,
    hi: run.to,
    from: run.from,
    to: run.to,
    strength: (series) => Math.max(0, medianOf(heightsOver(surface, series)) - level),
  };
}

function pathOf(study: Study, node: number, run: Run): Float64Array {
  return worldOf(study, node).position.subarray(3 * run.from, 3 * run.to + 3);
}
