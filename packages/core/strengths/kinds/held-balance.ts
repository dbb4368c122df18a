import { inRadians } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { marginAt, supportPolygonOf } from "../../motion/body/balance.ts";
import { groundDemandOf } from "../../motion/body/ground-demand.ts";
import { massCentreOf } from "../../motion/body/mass-centre.ts";
import { nodeContactAt } from "../../motion/ground/contact.ts";
import { footPointsOf } from "../../motion/ground/feet.ts";
import { hipsOf } from "../../motion/ground/foot-plant.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere } from "../../time/span.ts";
import { samplesOf } from "../shared/frames.ts";
import { lengthAlong } from "../shared/spread.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface HeldBalance extends Held {
  readonly margin: number;
  /** 1 where one foot alone carries all along. */
  readonly oneFoot: 0 | 1;
  readonly lean: number;
}

/** How far the body stays inside its feet at least, body heights: 1 cm of a grown person. */
const inside = 0.006;
/** Shortest stand that is told, frames at 24 per second: a second. */
const shortest = 24;
/** Speed of the body up to which it stands, body heights per second: 7 cm/s of a grown person. */
const standing = 0.04;
/** Lean of the trunk from which a stand on both feet is worth telling. */
const leastLean = inRadians(20);

/** Long poses over their feet. */
export const heldBalance = defineStrength<HeldBalance>({
  name: "held-balance",
  title: "Balance held",
  what: "A pose that leans, or stands on one foot, keeps its weight over its feet.",
  computes:
    "Over 24 frames (at 24 per second) or more without an impact, the extrapolated centre of mass moves by less than 0.04 body heights per second. It stays inside the soles that are down by at least 0.006 body heights. All along one foot alone carries, or the line from the hips to the head leans by 20° or more.",
  canFail:
    "Upright on both feet nothing is praised. A body that leans or stands on one foot falls unless its hips go to the other side.",
  sources: [
    "Hof, Gazendam, Sinke 2005: the extrapolated centre of mass has to lie within the base of support",
    "24 frames, 20° and 1 cm: common practice, a pose that is long enough to be doubted, and a lean that is seen",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    const { kind, parts } = figuresOf(study)[figure];
    const head = parts.get("head")?.[0];
    // Only a human's soles are known; other bodies' feet are points.
    if (kind !== "human" || head === undefined) return [];
    const { count, dt } = gridOf(study);
    const stature = statureOf(study, figure);
    const demand = groundDemandOf(study, figure);
    const hips = hipsOf(study, figure);
    const place = (i: number) => demand.extrapolated(i);
    const margins = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
    for (let i = 1; i < count; i++) {
      if (demand.steady[i] === 0 || demand.seated[i] === 1) continue;
      const [x, z] = place(i);
      const [bx, bz] = place(i - 1);
      if (lengthOf(x - bx, z - bz) > standing * stature * dt) continue;
      margins[i] = marginAt(supportPolygonOf(study, figure, i), x, z);
    }
    const least = samplesOf(study, shortest);
    const found: HeldBalance[] = [];
    const runs = runsWhere(count, (i) => margins[i] >= inside * stature);
    for (const { from, to } of runs) {
      if (to - from + 1 < least) continue;
      const oneFoot = carriesAlone(study, figure, from, to) ? 1 : 0;
      const lean = leastLeanOf(study, hips, head, from, to);
      if (oneFoot === 0 && lean < leastLean) continue;
      let margin = Number.POSITIVE_INFINITY;
      for (let i = from; i <= to; i++) margin = Math.min(margin, margins[i]);
      const source = "Hof, Gazendam, Sinke 2005; 1 cm: common practice";
      found.push({
        node: hips,
        from,
        to,
        measured: { quantity: "least margin inside the feet", value: margin, unit: "m" },
        within: { min: inside * stature, unit: "m", source },
        // As much as the body would lean out: a tenth of its height, and what it travels.
        size: 0.1 * stature + lengthAlong(massCentreOf(study, figure), from, to),
        margin,
        oneFoot,
        lean,
      });
    }
    return found;
  },
  word({ from, to, margin, oneFoot, lean }, words) {
    const how = oneFoot === 1 ? "on one foot" : `leaning ${words.angle(lean)}`;
    return `the body stands ${how} and keeps its weight ${words.length(margin)} inside its support, ${words.counted(from, to)}`;
  },
});

/** Whether the points of one foot alone are down at all samples. */
function carriesAlone(study: Study, figure: number, from: number, to: number): boolean {
  const points = footPointsOf(study, figure);
  const down = (node: number, i: number) => nodeContactAt(study, node)[i] === 1;
  return [...new Set(points.map(({ foot }) => foot))].some((foot) => {
    const own = points.filter((point) => point.foot === foot);
    const others = points.filter((point) => point.foot !== foot);
    if (others.length === 0) return false;
    for (let i = from; i <= to; i++) {
      if (!own.some(({ node }) => down(node, i)) || others.some(({ node }) => down(node, i))) return false;
    }
    return true;
  });
}

/** The least angle of the line from the hips to the head with the upright over some samples, radians. */
function leastLeanOf(study: Study, hips: number, head: number, from: number, to: number): number {
  const [low, high] = [worldOf(study, hips).position, worldOf(study, head).position];
  let least = Math.PI;
  for (let i = from; i <= to; i++) {
    const across = lengthOf(high[3 * i] - low[3 * i], high[3 * i + 2] - low[3 * i + 2]);
    least = Math.min(least, Math.atan2(across, high[3 * i + 1] - low[3 * i + 1]));
  }
  return least;
}
