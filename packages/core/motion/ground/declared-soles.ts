import type { Study } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { figuresOf } from "../../rig/body.ts";
import { rigOf } from "../../rig/rig.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import type { FootPoint } from "./foot-points.ts";

/** The points of declared soles. A point in a node's space stands for its node, whose level is learned. */
export function declaredFootPointsOf(study: Study, figure: number): FootPoint[] {
  const rig = rigOf(study);
  const { id } = figuresOf(study)[figure];
  const points: FootPoint[] = [];
  for (const { sole } of headerOf(study).figures?.find((spec) => spec.id === id)?.limbs ?? []) {
    if (sole === undefined) continue;
    const [heel, ball, toe] = [sole.heel, sole.ball, sole.toe].map((at) => {
      const node = at === undefined ? undefined : rig.indexOf.get(typeof at === "string" ? at : at.node);
      if (node === undefined) return null;
      return { node, sole: typeof at === "string" ? (sole.thickness ?? 0) * metresPerUnitOf(study) : null };
    });
    const front = ball ?? toe;
    const first = heel ?? front;
    if (first === null) continue;
    const foot = first.node;
    if (heel === null || front === null || front.node === heel.node) {
      points.push({ ...first, point: "whole", tip: -1, foot });
      continue;
    }
    const tip = ball !== null && toe !== null && toe.node !== ball.node ? toe.node : -1;
    points.push({ ...heel, point: "heel", tip: -1, foot });
    points.push({ ...front, point: "toe", tip, foot });
  }
  return points;
}
