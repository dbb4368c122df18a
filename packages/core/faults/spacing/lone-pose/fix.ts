import type { KeyEdit } from "../../../document/edit.ts";
import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { tracksOf } from "../../shared/keying/track.ts";
import { lonePose } from "./check.ts";

export const lonePoseFix = defineFix(lonePose, {
  what: "Takes the keys of the pose out: the shot begins with the pose behind it, or ends with the one before it.",
  title: ({ frames }) => `take the lone pose out, frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, figure, finding }) {
    if (figure < 0) return;
    const { frames, step } = gridOf(study);
    const { isFirst, first, last } = finding.numbers;
    // Keys between two judged frames go with the pose, but for those that are nearer to the motion.
    const isOfPose = (frame: number) =>
      isFirst === 1 ? frame < frames[last] + step / 2 : frame > frames[first] - step / 2;
    yield figuresOf(study)[figure].nodes.flatMap((node) =>
      tracksOf(study, node).flatMap(({ id, channel, curve }): KeyEdit[] => {
        const all = curve === null ? [] : [...curve.frames];
        const gone = all.filter(isOfPose);
        // A curve that has no other key holds what is there all along.
        if (gone.length === all.length) return [];
        return gone.map((frame) => ({ kind: "remove", node: id, channel, frame }));
      }),
    );
  },
});
