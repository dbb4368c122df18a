import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel } from "../../../document/model.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { keyingOf } from "../keying/rekey.ts";
import { trackOf, turnTracksOf } from "../keying/track.ts";

/** A curve keeps at least this many keys. */
const fewestKeys = 3;

/**
 * Keys taken out, fewest first: the named ones one by one, those of the first named curve that stand in the noted frames,
 * and all of its joint there. Curves with a key on every frame are left alone: a gap would be a stumble.
 */
export function* keysOut({ study, keys, from, to }: Subject): Generator<KeyEdit[]> {
  const { indexOf } = rigOf(study);
  const { frames, step } = gridOf(study);
  const [first, last] = [frames[from] - step, frames[to] + step];
  const outOf = (node: number, channel: Channel, isMeant: (frame: number) => boolean): KeyEdit[] => {
    const { curve, id } = trackOf(study, node, channel);
    if (curve === null || keyingOf(curve, { from: first, to: last }, step) === "dense") return [];
    // The first and the last key of a curve hold it.
    const meant = [...curve.frames]
      .slice(1, -1)
      .filter((frame) => frame >= first && frame <= last && isMeant(frame));
    if (curve.frames.length - meant.length < fewestKeys) return [];
    return meant.map((frame) => ({ kind: "remove", node: id, channel, frame }));
  };
  for (const { node, channel, frame } of keys.slice(0, 3)) {
    const at = indexOf.get(node);
    if (at !== undefined) yield outOf(at, channel, (other) => other === frame);
  }
  const lead = keys[0] === undefined ? undefined : indexOf.get(keys[0].node);
  if (lead === undefined || keys[0] === undefined) return;
  yield outOf(lead, keys[0].channel, () => true);
  yield turnTracksOf(study, lead).flatMap(({ channel }) => outOf(lead, channel, () => true));
}
