import { sampleCurveWithout } from "../../../curve/evaluate.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { defineFix } from "../../fix.ts";
import { rekeyed } from "../../shared/keying/rekey.ts";
import { trackOf } from "../../shared/keying/track.ts";
import { bridgesOver } from "../../shared/posing/over-causes.ts";
import { pop } from "./check.ts";

export const popFix = defineFix(pop, {
  what: "Takes the key out that leaves the path, or brings it onto the path of its neighbours.",
  title: ({ frames, keys }) => {
    const key = keys[0];
    return key === undefined
      ? `bring frame ${frames[0]} back onto its path`
      : `bring ${key.node} ${key.channel} at frame ${key.frame} back onto its path`;
  },
  // Half of what is noted: outliers are usually cut at three spreads, half of the six that a pop takes.
  margin: { floor: 0.5, angleFloor: 0.5, spread: 0.5, usual: 0.5 },
  *propose(subject) {
    const { shot } = subject;
    yield* singleKeys(subject);
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 2],
      [3, 3],
    ]);
  },
});

/** The named keys taken out, one alone and then those of the frames together. */
function* singleKeys({ study, keys }: Subject): Generator<KeyEdit[]> {
  const rig = rigOf(study);
  const { step } = gridOf(study);
  for (const { node, channel, index, frame } of keys.slice(0, 3)) {
    const at = rig.indexOf.get(node);
    if (at === undefined) continue;
    const { curve } = trackOf(study, at, channel);
    if (curve === null || curve.frames.length < 3) continue;
    const before = curve.frames[index - 1];
    const after = curve.frames[index + 1];
    const isDense = before >= frame - 1.01 * step && after <= frame + 1.01 * step;
    if (isDense && curve.width === 1) {
      // A gap in keys on every frame would be a stumble for whoever edits them next: the key stays.
      const out = new Float64Array(1);
      sampleCurveWithout(curve, index, index, Float64Array.of(frame), out);
      yield rekeyed(study, trackOf(study, at, channel), { from: before, to: after }, (f, value) => {
        if (f === frame) value[0] = out[0];
        else trackOf(study, at, channel).read(f, value);
      });
    }
    yield [{ kind: "remove", node, channel, frame }];
  }
}
