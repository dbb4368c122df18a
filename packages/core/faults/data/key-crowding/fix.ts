import type { KeyEdit } from "../../../document/edit.ts";
import { rigOf } from "../../../rig/rig.ts";
import { defineFix } from "../../fix.ts";
import { tracksOf } from "../../shared/keying/track.ts";
import { ontoFrames } from "../shared/onto-frames.ts";
import type { KeyPlace } from "../shared/places.ts";
import { keyCrowding } from "./check.ts";

export const keyCrowdingFix = defineFix(keyCrowding, {
  what: "Keeps one of two keys that stand within a frame, on the whole frame; else brings all keys of the joint onto whole frames.",
  title: ({ keys }) =>
    keys.length > 2
      ? `keep one of each two keys of ${keys[0].node} that stand within a frame`
      : `keep one of the two ${keys[0]?.channel ?? ""} keys of ${keys[0]?.node ?? "the curve"} at frame ${keys[0]?.frame ?? ""}`,
  *propose({ study, finding: { places } }) {
    // The one that stands on a frame is the one that was meant.
    yield runsOf(places).flatMap((run) => keptOf(run, 0));
    yield runsOf(places).flatMap((run) => keptOf(run, 1));
    // Where further keys of the curves stand between frames, all come onto theirs; at last those of the whole joint.
    const curves = new Set(places.map(({ curve }) => curve));
    yield [...curves].flatMap((curve) => ontoFrames(study, curve));
    // Beside a key that is off its frame as well there is no whole frame for both.
    yield runsOf(places).flatMap(({ curve: { node, channel }, frames }) =>
      [...frames]
        .sort((a, b) => offFrame(a) - offFrame(b) || a - b)
        .slice(1)
        .map((frame): KeyEdit => ({ kind: "remove", node, channel, frame })),
    );
    const joints = new Set([...curves].flatMap(({ node }) => rigOf(study).indexOf.get(node) ?? []));
    const all = [...joints].flatMap((joint) => tracksOf(study, joint).flatMap(({ curve }) => curve ?? []));
    yield all.flatMap((curve) => ontoFrames(study, curve));
  },
});

/** Keys of a curve, each within a frame of the one before. */
interface Run {
  readonly curve: KeyPlace["curve"];
  readonly frames: readonly number[];
}

/** The keys of pairs that share a key stand together. */
function runsOf(places: readonly KeyPlace[]): Run[] {
  const runs: { curve: KeyPlace["curve"]; frames: number[]; last: number }[] = [];
  for (const { curve, index } of [...places].sort((a, b) => a.index - b.index)) {
    const run = runs.find((one) => one.curve === curve && one.last === index - 1);
    if (run === undefined)
      runs.push({ curve, frames: [curve.frames[index - 1], curve.frames[index]], last: index });
    else {
      run.frames.push(curve.frames[index]);
      run.last = index;
    }
  }
  return runs;
}

/**
 * Edits that keep keys of a run, on whole frames, a frame apart at least.
 * @param which 0 keeps those nearer to a frame; 1 the other of two
 */
function keptOf({ curve, frames }: Run, which: 0 | 1): KeyEdit[] {
  const { node, channel } = curve;
  const nearest = [...frames].sort((a, b) => offFrame(a) - offFrame(b) || a - b);
  if (which === 1 && nearest.length === 2) nearest.reverse();
  const others = new Set([...curve.frames].filter((frame) => !frames.includes(frame)));
  const taken = new Set<number>();
  const removed: KeyEdit[] = [];
  const moved: KeyEdit[] = [];
  for (const frame of nearest) {
    const whole = Math.round(frame);
    const isFree = !taken.has(whole) && !others.has(whole);
    // Of two keys one stays, also where its whole frame is another's.
    const stays = isFree || taken.size === 0;
    if (!stays) removed.push({ kind: "remove", node, channel, frame });
    else if (isFree && frame !== whole) moved.push({ kind: "move", node, channel, frame, toFrame: whole });
    if (stays) taken.add(isFree ? whole : frame);
  }
  // What goes has gone before another key comes to its frame.
  return [...removed, ...moved];
}

function offFrame(frame: number): number {
  return Math.abs(frame - Math.round(frame));
}
