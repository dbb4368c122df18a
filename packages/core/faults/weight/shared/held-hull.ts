import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { convexHull, type GroundPoint, supportPolygonOf } from "../../../motion/body/balance.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { restingHandsOf } from "../../../motion/ground/resting-hands.ts";
import { soleHeights } from "../../../motion/ground/sole-heights.ts";
import { type Sole, solesOf } from "../../../motion/ground/soles.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { hoversOf } from "./hovers.ts";

/** Corners of what a figure is held over at a sample, in x and z, metres; empty in the air. */
export type HeldHull = (sample: number) => readonly GroundPoint[];

/**
 * What a figure stands on at a sample, as it would if the feet that hover stood there: that they hover is a fault of its
 * own, and no other one may come of it, nor hide behind it. Hands that rest on a declared surface may carry as well.
 * @param figure index into `figuresOf`
 */
export function heldHullOf(study: Study, figure: number): HeldHull {
  const ground = groundOf(study);
  const gap = levelWidthShare * statureOf(study, figure);
  const soles = solesOf(study, figure);
  const { count } = gridOf(study);
  const hovering: { inAir: Uint8Array; carry: Sole }[] = [];
  for (const foot of soleHeights(study, figure, ground)) {
    const spans = hoversOf(study, figure, foot, ground, gap).inAir();
    if (spans.length === 0) continue;
    const paths = foot.points.map(({ node }) => worldOf(study, node).position);
    const inAir = bytes(count);
    for (const { from, to } of spans) inAir.fill(1, from, to + 1);
    hovering.push({
      inAir,
      carry: (sample, corners) => {
        foot.points.forEach(({ node }, k) => {
          const sole = soles.get(node);
          if (sole === undefined) corners.push([paths[k][3 * sample], paths[k][3 * sample + 2]]);
          else sole(sample, corners);
        });
      },
    });
  }
  const hands = restingHandsOf(study, figure).map(({ node, from, to }) => ({
    from,
    to,
    path: worldOf(study, node).position,
  }));
  if (hovering.length === 0 && hands.length === 0) return (sample) => supportPolygonOf(study, figure, sample);
  // A body that leans is looked at three times over.
  const known: (readonly GroundPoint[])[] = [];
  const hullAt = (sample: number): readonly GroundPoint[] => {
    const hull = supportPolygonOf(study, figure, sample);
    if (hull.length === 0 && hovering.length === 0) return hull;
    const corners: GroundPoint[] = [];
    for (const { from, to, path } of hands)
      if (sample >= from && sample <= to) corners.push([path[3 * sample], path[3 * sample + 2]]);
    for (const { inAir, carry } of hovering) if (inAir[sample] === 1) carry(sample, corners);
    return corners.length === 0 ? hull : convexHull([...hull, ...corners]);
  };
  return (sample) => {
    known[sample] ??= hullAt(sample);
    return known[sample];
  };
}
