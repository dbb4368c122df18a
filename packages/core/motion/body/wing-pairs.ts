import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { headerOf } from "../../document/inputs.ts";
import { type Figure, figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { extremesOf, timeOfExtreme } from "./beat.ts";
import { elevationOf, leastBeat } from "./propulsors.ts";

/** Two wings that beat together: the roots of a left and a right one. */
export interface WingPair {
  readonly left: number;
  readonly right: number;
}

/** Wings of a figure in pairs: those that its document declares as limbs, by their sides; else those of its body map. */
export const wingPairsOf = measure("wing pairs", (study, figure: number): readonly WingPair[] => {
  const body = figuresOf(study)[figure];
  const declared = (["left", "right"] as const).map((side) => declaredWings(study, body, side));
  if (declared[0].length > 0 && declared[0].length === declared[1].length) {
    return declared[0].map((left, i) => ({ left, right: declared[1][i] }));
  }
  const left = body.parts.get("leftWing")?.[0];
  const right = body.parts.get("rightWing")?.[0];
  return left === undefined || right === undefined ? [] : [{ left, right }];
});

function declaredWings(study: Study, { id }: Figure, side: "left" | "right"): number[] {
  const { indexOf } = rigOf(study);
  const limbs = headerOf(study).figures?.find((spec) => spec.id === id)?.limbs ?? [];
  return limbs.flatMap((limb) =>
    limb.kind === "wing" && limb.side === side ? (indexOf.get(limb.nodes[0]) ?? []) : [],
  );
}

/** A turning point of a wing's beat against that of the wing on the other side. */
export interface WingTurn {
  /** Sample, with a fraction, at which the right wing turns. */
  readonly at: number;
  /** Samples by which the left wing turns later; negative for sooner. */
  readonly late: number;
  /** Samples of a whole beat. */
  readonly beat: number;
  readonly isTop: boolean;
}

/** Turning points of two wings that lie within half a beat of each other, in order. */
export function wingTurnsOf(study: Study, figure: number, { left, right }: WingPair): WingTurn[] {
  const [mine, its] = [right, left].map((node) => {
    const series = elevationOf(study, figure, { node, series: floats(0), declared: false });
    const all = extremesOf(series, leastBeat);
    return all.map((at, e) => ({
      at: timeOfExtreme(series, at),
      isTop: series[at] > series[all[e + 1 < all.length ? e + 1 : e - 1] ?? at],
    }));
  });
  const turns: WingTurn[] = [];
  mine.forEach(({ at, isTop }, e) => {
    const next = mine[e + 2] ?? mine[e];
    const before = mine[e - 2] ?? mine[e];
    const beat = next === mine[e] ? at - before.at : next.at - at;
    if (!(beat > 0)) return;
    let late = Number.POSITIVE_INFINITY;
    for (const turn of its) {
      if (turn.isTop === isTop && Math.abs(turn.at - at) < Math.abs(late)) late = turn.at - at;
    }
    if (Math.abs(late) <= beat / 2) turns.push({ at, late, beat, isTop });
  });
  return turns;
}

/** Radians by which the line through the roots of two wings turns between two samples: as the body rolls or turns aside. */
export function turnOfWingRoots(study: Study, { left, right }: WingPair, from: number, to: number): number {
  const a = worldOf(study, left).position;
  const b = worldOf(study, right).position;
  const lengths = distanceBetween(a, from, b, from) * distanceBetween(a, to, b, to);
  let dot = 0;
  for (let k = 0; k < 3; k++) dot += (a[3 * from + k] - b[3 * from + k]) * (a[3 * to + k] - b[3 * to + k]);
  return lengths > 0 ? Math.acos(Math.max(-1, Math.min(1, dot / lengths))) : 0;
}
