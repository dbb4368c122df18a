import { eachAt, framePaths } from "../references.ts";
import { quoted } from "../scan/cursor.ts";
import type { DocumentHeader, NodeSpec } from "../schema.ts";
import type { Report } from "./header.ts";

type Frames = readonly [number, number];

/** Reports stretches of frames that run back, and those that lie on each other where only one can hold. */
export function reportFrames(header: DocumentHeader, report: Report): void {
  for (const pattern of framePaths) {
    eachAt(header, pattern, (value, path) => {
      const [first, last] = value as Frames;
      if (first <= last) return;
      const message = `The frames run from ${first} back to ${last}; write the first frame first.`;
      report("frames-reversed", message, path);
    });
  }
  header.nodes.forEach(({ id, visible = [] }, index) => {
    const stretches = visible.map((frames, n) => ({ of: id, frames, path: `nodes/${index}/visible/${n}` }));
    reportOverlaps(stretches, `in which ${quoted(id)} is visible already. The two are joined.`, report);
  });
  header.nodes.forEach(({ colour }, index) => {
    reportColourKeys(colour, `nodes/${index}/colour`, report);
  });
  header.cameras?.forEach(({ background }, index) => {
    reportColourKeys(background, `cameras/${index}/background`, report);
  });
  header.props?.forEach(({ heldBy = [] }, index) => {
    const holds = heldBy.map(({ node: of, frames }, n) => {
      return { of, frames, path: `props/${index}/heldBy/${n}/frames` };
    });
    reportOverlaps(holds, "in which the same node holds it already. The two are joined.", report);
  });
  const stages = header.stages?.map(({ frames }, n) => ({ of: "", frames, path: `stages/${n}/frames` }));
  reportOverlaps(stages ?? [], "whose stage is given already. The first one counts.", report);
}

/** Reports keys of a colour that do not come in the order of their frames. */
function reportColourKeys(colour: NodeSpec["colour"], path: string, report: Report): void {
  if (colour === undefined || typeof colour === "string") return;
  colour.forEach(([frame], n) => {
    if (n === 0 || frame > colour[n - 1][0]) return;
    const message = `This key of the colour stands on frame ${frame}, not behind the one before it; put the keys in the order of their frames. Of several on one frame the last counts.`;
    report("unsorted-colours", message, `${path}/${n}`);
  });
}

/** @param stretches `of` says what they are about: those of different things may lie on each other */
function reportOverlaps(
  stretches: readonly { readonly of: string; readonly frames: Frames; readonly path: string }[],
  what: string,
  report: Report,
): void {
  stretches.forEach(({ of, frames, path }, index) => {
    const other = stretches.find(
      (before, n) => n < index && before.of === of && overlap(before.frames, frames),
    );
    if (other === undefined) return;
    const message = `These frames run into frames ${other.frames[0]} to ${other.frames[1]}, ${what}`;
    report("overlapping-frames", message, path);
  });
}

/** Whether two stretches share more than the frame at which one ends and the other begins. */
function overlap(a: Frames, b: Frames): boolean {
  if (a[0] === b[0] && a[1] === b[1]) return true;
  return a[0] < b[1] && b[0] < a[1];
}
