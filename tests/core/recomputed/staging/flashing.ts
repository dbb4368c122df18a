import type { Recompute } from "../shared/compare.ts";

/** Half of the most changes of the note's node, from shown to hidden or from colour to colour, that begin within any second. */
export const recompute: Recompute = (note, shot) => {
  const id = shot.rig.ids[shot.nodeOf(note)];
  const spec = shot.shot.header.nodes.find((one) => one.id === id);
  const camera = shot.shot.header.cameras?.find(({ node }) => node === id);
  const colour = camera?.background ?? spec?.colour;
  const state = (frame: number) => {
    const isShown = spec?.visible?.some(([first, last]) => frame >= first && frame <= last) ?? true;
    const key = Array.isArray(colour) ? colour.findLast(([at]) => at <= frame)?.[1] : "";
    return isShown ? key : "hidden";
  };
  const changes: number[] = [];
  for (let frame = note.frames[0]; frame <= note.frames[1]; frame++)
    if (state(frame) !== state(frame - 1)) changes.push(frame);
  return Math.max(
    ...changes.map((first) => changes.filter((at) => at >= first && at < first + shot.rate).length / 2),
  );
};
