import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { defineFix } from "../../fix.ts";
import { rekeyed } from "../../shared/keying/rekey.ts";
import { type Track, turnTracksOf } from "../../shared/keying/track.ts";
import { shareAt } from "../../shared/posing/end-courses.ts";
import { offsetInTime, partBelow, slidInTime } from "../../shared/posing/part-offset.ts";
import { twinning } from "./check.ts";

export const twinningFix = defineFix(twinning, {
  what: "Lets one arm come after the other by some frames; where that is not enough, lets it make less of the move as well.",
  // Whichever arm it is that is set off: the note names one of them.
  title: ({ frames }) => `set the arms apart over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study } = subject;
    // Which of several figures is to come later is not to be guessed.
    if (subject.figure < 0 || subject.finding.figures !== undefined) return;
    const { parts } = figuresOf(study)[subject.figure];
    const offset = subject.finding.numbers.offset;
    const arms = [parts.get("rightUpperArm")?.[0], parts.get("leftUpperArm")?.[0]].filter(
      (arm) => arm !== undefined,
    );
    for (const more of [0, 1, 2, 3]) {
      for (const arm of arms) {
        for (const keys of [slidInTime, offsetInTime]) {
          for (const ease of [4, 7]) yield offsetArm(subject, arm, offset + more, ease, keys);
        }
      }
    }
    for (const share of [0.85, 0.7, 0.55]) for (const arm of arms) yield smaller(study, subject, arm, share);
  },
});

function offsetArm(
  { study, figure, from, to }: Subject,
  arm: number,
  by: number,
  ease: number,
  keys: typeof offsetInTime,
): KeyEdit[] {
  const { frames, step } = gridOf(study);
  return keys(study, partBelow(study, figure, arm), {
    from: frames[from],
    to: frames[to],
    by: by * step,
    rampIn: ease * by * step,
    rampOut: ease * by * step,
  });
}

/** An arm's turns brought nearer to what they are on the average over the note's frames. */
function smaller(study: Study, { figure, from, to }: Subject, arm: number, share: number): KeyEdit[] {
  const { frames, step, rate } = gridOf(study);
  const fade = Math.round(rate / 3);
  const faded = { from, to, before: fade, after: fade };
  const span = { from: frames[from] - fade * step, to: frames[to] + fade * step };
  return partBelow(study, figure, arm)
    .flatMap((node) => turnTracksOf(study, node))
    .filter(({ width }) => width === 1)
    .flatMap((track) => {
      const mean = meanOver(track, frames.subarray(from, to + 1));
      return rekeyed(study, track, span, (frame, out) => {
        track.read(frame, out);
        const keep = 1 - (1 - share) * shareAt(study, (frame - frames[0]) / step, faded);
        out[0] = mean + keep * (out[0] - mean);
      });
    });
}

function meanOver(track: Track, frames: Float64Array): number {
  const value = new Float64Array(1);
  let sum = 0;
  for (const frame of frames) {
    track.read(frame, value);
    sum += value[0];
  }
  return sum / frames.length;
}
