import { freeFallsOf } from "../../motion/free-fall.ts";
import { gridOf } from "../../motion/grid.ts";
import { massCentreOf } from "../../motion/mass-centre.ts";
import { hipsOf } from "../../motion/stance.ts";
import { defineMend } from "../mend.ts";
import { withEndsKept } from "../posing/kept-ends.ts";
import { shiftedNode } from "../posing/node-shift.ts";
import { type Subject, subjectOf } from "../posing/subject.ts";

/** Lets a body keep falling to the contact, and takes the fall up after it with the legs. */
export const earlyStop = defineMend({
  name: "early-stop",
  checks: ["early-stop"],
  title: ({ frames }) =>
    `keep falling from frame ${frames[0]} to the contact at frame ${frames[1]}, and give after it`,
  *propose(study, shot, note) {
    const subject = subjectOf(study, note);
    const { figure } = subject;
    if (figure < 0) return;
    const { rate, count } = gridOf(study);
    // The stop shows from the frame before on, over as many frames as an acceleration is taken from.
    for (const earlier of [0, 1, 2]) {
      for (const give of [8, 12, 16, 6]) {
        const lower = lowering(subject, earlier, Math.round((give * rate) / 24));
        if (lower === null) continue;
        const way = new Float64Array(3 * count);
        for (let i = 0; i < count; i++) way[3 * i + 1] = lower[i];
        const edits = shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
        yield withEndsKept(study, shot, edits);
      }
    }
  },
});

/**
 * How much lower the body is when it goes on falling to the contact, per sample, metres (negative); what it has come too
 * low is given back over some samples after it.
 */
function lowering({ study, figure, from, to }: Subject, earlier: number, give: number): Float64Array | null {
  const { dt, count } = gridOf(study);
  const path = massCentreOf(study, figure);
  const fall = freeFallsOf(study, figure).find((other) => other.from <= from && other.to >= from);
  if (fall === undefined) return null;
  const onset = Math.max(fall.from + 1, from - earlier);
  const height = (i: number) => path[3 * i + 1];
  const speed = (height(onset) - height(onset - 1)) / dt;
  const lower = new Float64Array(count);
  for (let i = onset + 1; i <= Math.min(to, count - 1); i++) {
    const t = (i - onset) * dt;
    // The speed is that of the middle of the step before: half a step of the fall is already in it.
    const kept = height(onset) + speed * t + 0.5 * fall.own * t * (t + dt);
    lower[i] = Math.min(0, kept - height(i));
  }
  const last = Math.min(to, count - 1);
  const [low, slope] = [lower[last], lower[last] - lower[last - 1]];
  for (let i = last + 1; i < Math.min(count, last + give); i++) {
    const t = (i - last) / give;
    lower[i] = low * (1 - t * t * (3 - 2 * t)) + slope * give * t * (1 - t) * (1 - t);
  }
  return lower;
}
