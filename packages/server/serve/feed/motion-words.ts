import {
  angularSpeedOf,
  type Curve,
  gridOf,
  nodeNameOf,
  rigOf,
  type Study,
  sampleAt,
  spacingOf,
  speedOf,
  subtreeOf,
} from "@keyside/core";
import { numbersInWords } from "@keyside/core/internal";

/** Parts that are named before the rest is counted. */
const namedParts = 4;

/** Speed of what a curve drives at a frame: m/s for a node that is moved, degrees per second for one that is turned. */
export function speedAt(study: Study, curve: Curve, frame: number): string | null {
  const node = rigOf(study).indexOf.get(curve.node);
  if (node === undefined) return null;
  const sample = sampleAt(gridOf(study), frame);
  if (!curve.channel.startsWith("rotation")) return numbersInWords.speed(speedOf(study, node)[sample]);
  return numbersInWords.angularSpeed(angularSpeedOf(study, node)[sample]);
}

/** Spacing and speed of a node at a frame, in a sentence; null where the node is not in the rig. */
export function motionAt(study: Study, curve: Curve, frame: number): string | null {
  const rig = rigOf(study);
  const node = rig.indexOf.get(curve.node);
  if (node === undefined) return null;
  const grid = gridOf(study);
  const sample = sampleAt(grid, frame);
  if (frame < grid.frames[0] || frame > grid.frames[grid.count - 1]) {
    return "This frame is outside the range that is judged.";
  }
  const parts: string[] = [];
  if (curve.channel.startsWith("rotation")) {
    const turning = numbersInWords.angularSpeed(angularSpeedOf(study, node)[sample]);
    parts.push(`${nodeNameOf(study, node)} turns at ${turning}`);
  }
  const moved = movedNode(rig.children, rig.subtreeSize, node, curve.channel.startsWith("rotation"));
  const spacing = spacingOf(study, moved);
  const after = sample + 1 < grid.count ? `, ${numbersInWords.length(spacing[sample + 1])} in the next` : "";
  const before =
    sample > 0 ? `${numbersInWords.length(spacing[sample])} in this frame` : "nothing in this frame";
  parts.push(
    `${nodeNameOf(study, moved)} moves ${before}${after}, at ${numbersInWords.speed(speedOf(study, moved)[sample])}`,
  );
  return `${parts.join("; ")}.`;
}

/** What hangs on a node, in words. */
export function drives(study: Study, curve: Curve): string | null {
  const rig = rigOf(study);
  const node = rig.indexOf.get(curve.node);
  if (node === undefined) return null;
  const below = subtreeOf(rig, node).slice(1);
  const own = nodeNameOf(study, node);
  if (below.length === 0) return `Drives ${own}.`;
  const names = below.slice(0, namedParts).map((each) => nodeNameOf(study, each));
  const rest = below.length - names.length;
  return `Drives ${own}, and with it ${names.join(", ")}${rest > 0 ? ` and ${rest} more` : ""}.`;
}

/** The node whose path shows what a channel does: a turn moves what hangs on the node, not the node itself. */
function movedNode(
  children: readonly (readonly number[])[],
  subtreeSize: Int32Array,
  node: number,
  isTurn: boolean,
): number {
  if (!isTurn || children[node].length === 0) return node;
  return children[node].reduce((best, child) => (subtreeSize[child] > subtreeSize[best] ? child : best));
}
