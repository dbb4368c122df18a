import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel } from "../../../document/model.ts";
import { figuresOf } from "../../../rig/body.ts";
import { influenceOf } from "../../../rig/influence.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { type Track, trackOf } from "../../shared/keying/track.ts";
import { offsetTrack } from "../../shared/posing/offsets.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { raisedShoulders } from "./check.ts";

/** Digits of a document that are kept. */
const mostDecimals = 9;

export const raisedShouldersFix = defineFix(raisedShoulders, {
  what: "Lowers a shoulder through the shot by what it is held too high.",
  title: ({ node }) => `lower ${node ?? "the shoulder"} to its rest`,
  *propose(subject) {
    const { study, shot } = subject;
    const { node, figure, finding } = subject;
    if (node < 0 || figure < 0) return;
    const { parts } = figuresOf(study)[figure];
    const side = parts.get("leftShoulder")?.[0] === node ? "left" : "right";
    const arm = parts.get(`${side}UpperArm`)?.[0];
    if (arm === undefined) return;
    const { count } = gridOf(study);
    const tracks = ["rotation.x", "rotation.y", "rotation.z", "translation.y"]
      .map((channel) => trackOf(study, node, channel as Channel))
      .filter(({ curve }) => curve !== null)
      .map((track) => ({ track, lift: liftOf(study, track, arm) }))
      .filter(({ lift }) => lift !== 0)
      .sort((a, b) => Math.abs(b.lift) - Math.abs(a.lift));
    for (const share of [0.7, 1, 1.3]) {
      for (const { track, lift } of tracks.slice(0, 2)) {
        const amount = (-share * finding.numbers.mean) / lift;
        yield* keptAndPlain(subject, shot, raised(study, track, amount));
        const samples = { lo: 0, hi: count - 1 };
        yield* keptAndPlain(
          subject,
          shot,
          offsetTrack(study, track, samples, new Float64Array(count).fill(amount)),
        );
      }
    }
  },
});

/** All keys of a curve raised by as much; their handles go with them. */
function raised(study: Study, { node, id, channel, curve }: Track, amount: number): KeyEdit[] {
  if (curve === null || curve.width !== 1) return [];
  const by = rounded(amount, decimalsOf(study, node, channel));
  return Array.from(curve.frames, (frame, key) => ({
    kind: "set",
    node: id,
    channel,
    frame,
    value: rounded(curve.values[key] + by, mostDecimals),
  }));
}

/** Metres by which a unit of a channel lifts a node, in the middle of the range. */
function liftOf(study: Study, track: Track, node: number): number {
  const { frames, count } = gridOf(study);
  const middle = count >> 1;
  const value = new Float64Array(1);
  track.read(frames[middle], value);
  value[0] += 1;
  const moved = new Float64Array(3);
  influenceOf(study, track.node, track.channel, middle, middle, value, node, moved, null);
  return moved[1] - worldOf(study, node).position[3 * middle + 1];
}
