import type { Note } from "@keyside/core";
import { carrierIn, paceOf } from "../shared/paces.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * Frames between a part of its peak speed (80 or 50 %, as the quantity says) and a tenth of it, speeds between poses
 * taken as linear. The peak is that of the part of the move next to the rest: up to where it falls under half, or to
 * where it is 1.25 times the pace that the part kept, the greater of the first two steps that differ by less.
 * @param way −1 for a stop, from its last frame back; 1 for a start, from its first frame on
 */
export function framesOfEnd(note: Note, shot: Sampled, way: -1 | 1): number {
  const node = shot.nodeOf(note);
  const travel = note.message.includes(" over the ground ") ? "over ground" : "travel";
  const kind = /\bturn(s|ing)\b/.test(note.message) ? "turn" : travel;
  const { poses, steps } = paceOf(shot, node, kind, carrierIn(shot, node, note.message));
  const [first, last] = shot.spanOf(note).map((sample) => poses.indexOf(sample));
  // Steps are named by the pose to which they lead.
  const quick = way < 0 ? first : last + 1;
  let kept = quick;
  const ratio = () => steps[kept + way] / steps[kept];
  const isKept = note.measured.quantity.includes("pace");
  while (isKept && (ratio() > 1.25 || ratio() < 0.8)) kept += way;
  const most = isKept ? 1.25 * Math.max(steps[kept], steps[kept + way]) : Infinity;
  let peak = steps[quick];
  for (let i = quick; i > 0 && i < steps.length && steps[i] >= peak / 2 && steps[i] <= most; i += way)
    peak = Math.max(peak, steps[i]);
  const level = Number(/(\d+) % of its/.exec(note.measured.quantity)?.[1]) / 100;
  // At rest is also what is slower than a floor, so that the step at which the end begins may be past the tenth.
  const rest = way < 0 ? last : first + 1;
  const crossing = (share: number) => {
    let i = rest;
    while (steps[i] < share * peak) i += way;
    const before = steps[i - way] ?? 0;
    return i - way * ((steps[i] - share * peak) / (steps[i] - Math.min(before, share * peak)));
  };
  const [a, b] = last > first ? [first, last] : [last - 1, last];
  return (Math.abs(crossing(level) - crossing(0.1)) * (poses[b] - poses[a])) / (b - a);
}
