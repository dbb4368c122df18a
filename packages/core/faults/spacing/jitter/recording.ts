import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import { figuresOf } from "../../../rig/body.ts";
import { localMotionOf } from "../../../rig/local.ts";
import { curveNamesOfNode } from "../../../rig/pose.ts";
import { chainTopsOf } from "../../../rig/rig.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";

/** Fewest chains by which a recording is told from a part or two that tremble (our choice). */
const fewestChains = 4;
/** How many spreads a tremble has to stand out from those of the recording: Hampel's identifier. */
const standsOut = 3;

/**
 * Tells the noise of a recording, which is in all of it, from trembles of parts. Of a figure that is keyed on every frame
 * more than half of the chains that move tremble. What stands out from the others by three spreads (median absolute
 * deviation × 1.4826) is no such noise.
 * @param nodes the joints that tremble, one entry for each stretch
 * @param sizes how far each stretch is seen to tremble, metres
 * @returns the size up to which a tremble is of the recording; 0 where the figure is no recording, or is calm
 */
export function recordingNoiseOf(
  study: Study,
  figure: number,
  nodes: readonly number[],
  sizes: readonly number[],
): number {
  if (figure < 0) return 0;
  const tops = chainTopsOf(study);
  const trembling = new Set(nodes.map((node) => tops[node]));
  // Most figures are told off by this; whether they are keyed on every frame asks for all their keys.
  if (trembling.size < fewestChains) return 0;
  const moving = new Set<number>();
  for (const node of figuresOf(study)[figure].nodes) {
    const { shift, turn } = localMotionOf(study, node);
    if (shift.still && turn.still) continue;
    if (!isDense(study, node)) return 0;
    moving.add(tops[node]);
  }
  if (2 * trembling.size <= moving.size) return 0;
  const middle = medianOf(sizes);
  return middle + standsOut * 1.4826 * medianOf(sizes.map((size) => Math.abs(size - middle)));
}

/** Whether all that moves a node has a key on every frame. */
function isDense(study: Study, node: number): boolean {
  return curveNamesOfNode(study, node).every((name) => {
    const curve = curveOf(study, name);
    return curve === null || curve.frames.length < 2 || isOnEveryFrame(study, curve);
  });
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
