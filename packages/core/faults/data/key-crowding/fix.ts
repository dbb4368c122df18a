import type { KeyEdit } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import { defineFix } from "../../fix.ts";
import { keyCrowding } from "./check.ts";

export const keyCrowdingFix = defineFix(keyCrowding, {
  what: "Keeps one of two keys that stand within a frame, on the whole frame.",
  title: ({ keys }) =>
    `keep one of the two ${keys[0]?.channel ?? ""} keys of ${keys[0]?.node ?? "the curve"} at frame ${keys[0]?.frame ?? ""}`,
  *propose({ study, keys }) {
    const key = keys[0];
    const curve = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (curve === null || key === undefined || key.index < 1) return;
    const { node, channel } = curve;
    const pair = [curve.frames[key.index], curve.frames[key.index - 1]];
    // The one that stands on a frame is the one that was meant.
    pair.sort((a, b) => offFrame(a) - offFrame(b));
    for (const [kept, other] of [pair, [...pair].reverse()]) {
      const edits: KeyEdit[] = [{ kind: "remove", node, channel, frame: other }];
      const whole = Math.round(kept);
      const isFree = kept === whole || !curve.frames.some((frame) => frame === whole && frame !== other);
      if (kept !== whole && isFree) edits.push({ kind: "move", node, channel, frame: kept, toFrame: whole });
      yield edits;
    }
  },
});

function offFrame(frame: number): number {
  return Math.abs(frame - Math.round(frame));
}
