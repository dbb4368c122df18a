import type { KeyEdit } from "../../../document/edit.ts";
import { defineFix } from "../../fix.ts";
import type { KeyPlace } from "../shared/places.ts";
import { keyCrowding } from "./check.ts";

export const keyCrowdingFix = defineFix(keyCrowding, {
  what: "Keeps one of two keys that stand within a frame, on the whole frame.",
  title: ({ keys }) =>
    keys.length > 2
      ? `keep one of each two keys of ${keys[0].node} that stand within a frame`
      : `keep one of the two ${keys[0]?.channel ?? ""} keys of ${keys[0]?.node ?? "the curve"} at frame ${keys[0]?.frame ?? ""}`,
  *propose({ finding: { places } }) {
    // The one that stands on a frame is the one that was meant.
    yield inOrder(places).flatMap((place) => keptOf(place, 0));
    yield inOrder(places).flatMap((place) => keptOf(place, 1));
  },
});

/** Of three keys in a frame, the one in the middle stands in two pairs and goes once. */
function inOrder(places: readonly KeyPlace[]): readonly KeyPlace[] {
  return places.filter(
    ({ curve, index }) => !places.some((other) => other.curve === curve && other.index === index - 1),
  );
}

/**
 * Edits that keep one key of a pair, on the whole frame.
 * @param which 0 keeps the one nearer to a frame, 1 the other
 */
function keptOf({ curve, index }: KeyPlace, which: 0 | 1): KeyEdit[] {
  const { node, channel, frames } = curve;
  const pair = [frames[index], frames[index - 1]].sort((a, b) => offFrame(a) - offFrame(b));
  const [kept, other] = [pair[which], pair[1 - which]];
  const edits: KeyEdit[] = [{ kind: "remove", node, channel, frame: other }];
  const whole = Math.round(kept);
  const isFree = kept === whole || !frames.some((frame) => frame === whole && frame !== other);
  if (kept !== whole && isFree) edits.push({ kind: "move", node, channel, frame: kept, toFrame: whole });
  return edits;
}

function offFrame(frame: number): number {
  return Math.abs(frame - Math.round(frame));
}
