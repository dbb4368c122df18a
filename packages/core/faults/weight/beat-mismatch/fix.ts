import { referenceRate } from "../../../base/constants.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { keysAlone, rekeyed } from "../../shared/keying/rekey.ts";
import { type Course, turnTracksOf } from "../../shared/keying/track.ts";
import { shareAt } from "../../shared/posing/end-courses.ts";
import { partBelow } from "../../shared/posing/part-offset.ts";
import { beatMismatch } from "./check.ts";

/** Lift that is taken for none, in units of the body's weight. */
const leastLift = 0.15;

export const beatMismatchFix = defineFix(beatMismatch, {
  what: "Lets wings beat wider, or less wide, so that the beat gives what the body needs.",
  title: ({ frames }) =>
    `give the beat of frames ${frames[0]} to ${frames[1]} the width that carries the body`,
  *propose({ study, figure, from, to, finding }) {
    if (figure < 0) return;
    const { frames, rate, step } = gridOf(study);
    const { need, give } = finding.numbers;
    // Lift goes with the square of the swing.
    const wanted = Math.sqrt(Math.max(need, leastLift) / Math.max(give, leastLift));
    const nodes = new Set(propulsorsOf(study, figure).flatMap(({ node }) => partBelow(study, figure, node)));
    const tracks = [...nodes].flatMap((node) => turnTracksOf(study, node)).filter(({ width }) => width === 1);
    for (const share of [0.6, 0.8, 1, 1.2]) {
      const factor = wanted ** share;
      for (const fade of [4, 8]) {
        const samples = Math.round((fade * rate) / referenceRate);
        const faded = { from, to, before: samples, after: samples };
        const span = { from: frames[from] - samples * step, to: frames[to] + samples * step };
        for (const loose of [keysAlone, 1]) {
          yield tracks.flatMap((track) => {
            const value = new Float64Array(1);
            let mean = 0;
            for (let i = from; i <= to; i++) {
              track.read(frames[i], value);
              mean += value[0] / (to - from + 1);
            }
            const wider: Course = (frame, out) => {
              track.read(frame, out);
              const keep = 1 + (factor - 1) * shareAt(study, (frame - frames[0]) / step, faded);
              out[0] = mean + keep * (out[0] - mean);
            };
            return rekeyed(study, track, span, wider, { loose });
          });
        }
      }
    }
  },
});
