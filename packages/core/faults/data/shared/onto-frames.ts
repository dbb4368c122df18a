import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import { gridOf } from "../../../time/grid.ts";

/** Every key of the judged range on its nearest frame; one that would stand on another key goes. */
export function ontoFrames(study: Study, { node, channel, frames }: Curve): KeyEdit[] {
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
