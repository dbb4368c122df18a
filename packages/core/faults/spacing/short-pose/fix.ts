import type { KeyEdit } from "../../../document/edit.ts";
import { figuresOf } from "../../../rig/body.ts";
import { chainOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import type { Warp } from "../../shared/keying/courses.ts";
import { retimed, retimedInPlace } from "../../shared/keying/retime.ts";
import { tracksOf, turnTracksOf } from "../../shared/keying/track.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { type ShortPoseFinding, shortPose } from "./check.ts";

export const shortPoseFix = defineFix(shortPose, {
  what: "Holds the pose for some frames more: the part leaves it later, or comes to it sooner, and takes the frames from the hold beyond.",
  title: ({ node, frames }) => `hold the pose of ${node ?? "the part"} at frame ${frames[0]} longer`,
  *propose(subject) {
    const { study, shot, node, finding } = subject;
    const { stands, needed, carrier, drawn, body } = finding.numbers;
    if (node < 0 || carrier < 0) return;
    const rig = rigOf(study);
    const joints = chainOf(rig, node).filter((joint) => joint !== carrier && isAbove(rig, carrier, joint));
    const missing = Math.ceil(needed - stands);
    if (drawn === 1) {
      const moved = body === 1 ? figuresOf(study)[finding.figure].nodes : joints;
      yield* keptAndPlain(subject, shot, switchedLater(subject, moved, missing));
      return;
    }
    for (const by of [missing, missing + 1]) {
      for (const later of [1, 0.5, 0]) {
        const { warp, span } = heldLonger(subject, later * by, (1 - later) * by);
        if (warp === null) continue;
        for (const retime of [retimed, retimedInPlace]) {
          const edits = joints.flatMap((joint) =>
            turnTracksOf(study, joint).flatMap((track) => retime(study, track, span, warp)),
          );
          yield* keptAndPlain(subject, shot, edits);
        }
      }
    }
  },
});

/** Moves the step keys that end a pose so many samples on. */
function switchedLater(
  { study, finding }: Subject<ShortPoseFinding>,
  joints: readonly number[],
  by: number,
): KeyEdit[] {
  const { frames, step } = gridOf(study);
  const frame = frames[finding.shown.out];
  return joints.flatMap((joint) =>
    tracksOf(study, joint).flatMap(({ id: node, channel, curve }) =>
      curve?.frames.includes(frame) === true
        ? [{ kind: "move", node, channel, frame, toFrame: frame + by * step }]
        : [],
    ),
  );
}

/**
 * Shows a pose for so many samples more, before and behind it: the moves keep their pace, and the holds beyond them become
 * as much shorter. Null where these have no such room.
 */
function heldLonger(
  { study, finding }: Subject<ShortPoseFinding>,
  later: number,
  sooner: number,
): { readonly warp: Warp | null; readonly span: { readonly from: number; readonly to: number } } {
  const { frames, step } = gridOf(study);
  const { at: slowest, sets, arrives, before, after } = finding.shown;
  // In the middle of its slowest step: held there, it comes to rest and sets out as it did.
  const pose = slowest - 0.5;
  const knots: readonly (readonly [now: number, was: number])[] = [
    [sets - before, sets - before],
    [sets - sooner, sets],
    [pose - sooner, pose],
    [pose + later, pose],
    [arrives + later, arrives],
    [arrives + after, arrives + after],
  ];
  const at = (sample: number) => frames[0] + sample * step;
  const span = { from: Math.ceil(at(knots[0][0])), to: Math.floor(at(knots[5][0])) };
  if (sooner > before / 2 || later > after / 2) return { warp: null, span };
  const warp: Warp = (frame) => {
    const sample = (frame - frames[0]) / step;
    const n = knots.findIndex(([now]) => now > sample);
    if (n <= 0) return frame;
    const [[a, wasA], [b, wasB]] = [knots[n - 1], knots[n]];
    return at(wasA + ((sample - a) * (wasB - wasA)) / (b - a));
  };
  return { warp, span };
}
