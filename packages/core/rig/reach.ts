import { floats } from "../base/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../base/study.ts";
import { lengthOf } from "../base/vector.ts";
import type { Channel } from "../document/model.ts";
import { foundFiguresOf } from "./figures.ts";
import { localMotionOf } from "./local.ts";
import { worldOf } from "./pose.ts";
import { lengthShare } from "./proportions.ts";
import { radiansPerUnitOf, rigOf } from "./rig.ts";
import { metresPerUnitOf, statureOf } from "./stature.ts";

/**
 * How far a node's own bones reach from it, in metres: the distance to its furthest child in the first judged frame,
 * or to its parent at the end of a chain; of a human head its own length. Turns an angle into what is seen of it at
 * the joint.
 * @param node rig index of the node
 * @returns metres
 */
export const reachOf = measure<number, number>("reach", (study, node) => {
  const rig = rigOf(study);
  let furthest = 0;
  for (const child of rig.children[node]) furthest = Math.max(furthest, boneLengthOf(study, node, child));
  const own = headLengthsOf(study).get(node) ?? 0;
  if (Math.max(furthest, own) > 0 || rig.parent[node] < 0) return Math.max(furthest, own);
  return boneLengthOf(study, rig.parent[node], node);
});

/** From this share of a head's published length on, a bone of the head tells how far it reaches; as in the stature. */
const likely = 0.6;

/**
 * Lengths of human heads in metres, by the joint that bears each, where no bone of theirs is as long: the bone of the neck
 * under it, by which the end of a chain is judged, is far shorter than a skull. The published share of the stature, as
 * in the stature itself.
 */
const headLengthsOf = shotMeasure<ReadonlyMap<number, number>>(
  "head lengths",
  (study) => {
    const lengths = new Map<number, number>();
    foundFiguresOf(study).found.forEach(({ figure }, index) => {
      const head = figure.kind === "human" ? figure.parts.get("head")?.at(-1) : undefined;
      if (head === undefined) return;
      const length = lengthShare.head * statureOf(study, index);
      const bones = rigOf(study).children[head].map((child) => boneLengthOf(study, head, child));
      if (Math.max(0, ...bones) < likely * length) lengths.set(head, length);
    });
    return lengths;
  },
  (a, b) => a.size === b.size && [...a].every(([node, length]) => b.get(node) === length),
);

/** How far everything that hangs on a node reaches from it, in metres: the longest way along the bones below it. */
export function farReachOf(study: Study, node: number): number {
  return reachesOf(study)[node] || reachOf(study, node);
}

/** Reaches of all nodes below themselves at once: children come after their parents, so one walk back is enough. */
const reachesOf = shotMeasure<Float64Array>(
  "reaches",
  (study) => {
    const { count, parent } = rigOf(study);
    const reaches = floats(count);
    for (const [head, length] of headLengthsOf(study)) reaches[head] = length;
    for (let node = count - 1; node > 0; node--) {
      const above = parent[node];
      if (above < 0) continue;
      reaches[above] = Math.max(reaches[above], reaches[node] + boneLengthOf(study, above, node));
    }
    return reaches;
  },
  sameNumbers,
);

/** Metres that are seen to move when a channel of a node changes by one unit of the document. */
export function metresPerChannelUnit(study: Study, node: number, channel: Channel): number {
  if (channel.startsWith("translation")) return metresPerUnitOf(study);
  if (channel.startsWith("rotation.")) return radiansPerUnitOf(study) * farReachOf(study, node);
  // A quaternion component changes by half the angle; a scale changes lengths by its share.
  return channel === "rotation" ? 2 * farReachOf(study, node) : farReachOf(study, node);
}

/**
 * Distance from a node to one below it in the first judged frame, in metres. Where nothing scales it, the distance to a
 * child is the length of the child's own shift, which stays the same to the last digit however the chain above is
 * turned.
 */
export function boneLengthOf(study: Study, node: number, below: number): number {
  if (rigOf(study).parent[below] === node && worldOf(study, node).linear === null) {
    const shift = localMotionOf(study, below).shift.values;
    return metresPerUnitOf(study) * lengthOf(shift[0], shift[1], shift[2]);
  }
  const p = worldOf(study, node).position;
  const q = worldOf(study, below).position;
  return lengthOf(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}
