import { rotateVector } from "../base/quaternion.ts";
import type { Study } from "../base/study.ts";
import { type LocalMotion, type LocalSeries, localMotionOf } from "./local.ts";
import { worldOf } from "./pose.ts";
import { chainOf, type Rig, rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import { multiplyMatrix, type World } from "./world.ts";

/** Changes a sample's own turn (4) and scale (3) of the ancestor. */
export type LocalChange = (sample: number, turn: Float64Array, scale: Float64Array) => void;

/**
 * Positions of a node, worked out sample by sample from an ancestor down: what a scaled chain carries is not rigid.
 */
export class DownChain {
  private readonly outer: World;
  private readonly metres: number;
  private readonly pivot: Float64Array;
  /** Motions from the ancestor down to the node, both included. */
  private readonly motions: readonly LocalMotion[];

  /** @param outer world of the ancestor's parent */
  constructor(study: Study, ancestor: number, node: number, outer: World) {
    this.outer = outer;
    this.metres = metresPerUnitOf(study);
    this.pivot = worldOf(study, ancestor).position;
    this.motions = chainBetween(rigOf(study), ancestor, node).map((link) => localMotionOf(study, link));
  }

  /**
   * Writes the samples from..to (both included).
   * @param out receives 3 numbers per sample, those of sample `lo` first, metres
   */
  write(from: number, to: number, lo: number, out: Float64Array, change: LocalChange): void {
    const { motions, pivot, metres, outer } = this;
    for (let i = from; i <= to; i++) {
      // The arm from the ancestor's pivot to the node, gathered from the node up.
      arm[0] = arm[1] = arm[2] = 0;
      for (let link = motions.length - 1; link >= 1; link--) {
        addSample(motions[link].shift, 3, i, arm);
        copySample(motions[link - 1].turn, 4, i, turn);
        copyScale(motions[link - 1].scale, i, scale);
        if (link === 1) change(i, turn, scale);
        for (let k = 0; k < 3; k++) arm[k] *= scale[k];
        rotateVector(turn, 0, arm, 0, arm, 0);
      }
      for (let k = 0; k < 3; k++) arm[k] *= metres;
      applyLinear(outer, i, arm);
      for (let k = 0; k < 3; k++) out[3 * (i - lo) + k] = pivot[3 * i + k] + arm[k];
    }
  }
}

const turn = new Float64Array(4);
const scale = new Float64Array(3);
const arm = new Float64Array(3);

/** v = the turns and scales of a world at a sample, applied to v. */
export function applyLinear(world: World, sample: number, v: Float64Array): void {
  if (world.linear === null) rotateVector(world.orientation, 4 * sample, v, 0, v, 0);
  else multiplyMatrix(world.linear, 9 * sample, v);
}

/** Nodes from an ancestor down to a node, both included. */
function chainBetween(rig: Rig, ancestor: number, node: number): number[] {
  const chain = chainOf(rig, node);
  return chain.slice(chain.indexOf(ancestor));
}

function copySample(series: LocalSeries, width: number, sample: number, out: Float64Array): void {
  const at = series.still ? 0 : width * sample;
  for (let k = 0; k < width; k++) out[k] = series.values[at + k];
}

function addSample(series: LocalSeries, width: number, sample: number, out: Float64Array): void {
  const at = series.still ? 0 : width * sample;
  for (let k = 0; k < width; k++) out[k] += series.values[at + k];
}

function copyScale(series: LocalSeries | null, sample: number, out: Float64Array): void {
  if (series === null) out.fill(1);
  else copySample(series, 3, sample, out);
}
