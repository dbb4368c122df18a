import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { keyOffFrame } from "./check.ts";

export const keyOffFrameFix = defineFix(keyOffFrame, {
  what: "Moves keys onto the nearest frame.",
  title: ({ keys }) => {
    const curves = new Set(keys.map(({ channel }) => channel)).size;
    const which = curves > 1 ? `in ${curves} curves` : `of ${keys[0]?.channel ?? "its curve"}`;
    return `move the keys ${which} of ${keys[0]?.node ?? "the node"} onto whole frames`;
  },
  *propose({ study, finding: { places } }) {
    const curves = new Set(places.map(({ curve }) => curve));
    yield [...curves].flatMap((curve) => ontoFrames(study, curve));
  },
});

/** Every key of the judged range on its nearest frame; one that would stand on another key goes. */
function ontoFrames(study: Study, { node, channel, frames }: Curve): KeyEdit[] {
  const grid = gridOf(study);
  const [first, last] = [grid.frames[0], grid.frames[grid.count - 1]];
  const taken = new Set([...frames].filter((frame) => frame === Math.round(frame)));
  const edits: KeyEdit[] = [];
  for (const frame of frames) {
    const whole = Math.round(frame);
    if (frame === whole || frame < first || frame > last) continue;
    if (taken.has(whole)) edits.push({ kind: "remove", node, channel, frame });
    else edits.push({ kind: "move", node, channel, frame, toFrame: whole });
    taken.add(whole);
  }
  return edits;
}
