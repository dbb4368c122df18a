import type { Recompute } from "../shared/compare.ts";
import { distance, sub } from "../shared/geometry.ts";

/** How many frames before a tenth of a second after the target calls, appears or moves the note begins. */
export const recompute: Recompute = (note, shot) => {
  const [from] = shot.spanOf(note);
  const head = shot.nodeOf(note);
  const { sounds = [], gazes = [], nodes } = shot.shot.header;
  const events = gazes.flatMap(({ at }) => {
    const target = shot.node(at);
    const calls = sounds
      .filter(({ node }) => node === at)
      .map(({ frame }) => {
        const i = (frame - shot.frames[0]!) / shot.step;
        const way = distance(shot.at(head, Math.round(i)), shot.at(target, Math.round(i)));
        return i + (way / 343) * shot.rate;
      });
    const [visible] = nodes.find(({ id }) => id === at)?.visible ?? [];
    const shown = visible === undefined ? [] : [(visible[0] - shot.frames[0]!) / shot.step];
    const rest = shot.at(target, 0);
    const gone = (i: number) => Math.hypot(...sub(shot.at(target, i), rest)) / shot.stature(head);
    const far = Array.from({ length: shot.count }, (_, i) => i).find((i) => gone(i) >= 0.05);
    let still = far ?? Number.NaN;
    while (still > 0 && gone(still - 1) > 0.001) still--;
    return [...calls, ...shown, ...(far === undefined ? [] : [still])];
  });
  return Math.min(...events) + 0.1 * shot.rate - from;
};
