import type { Channel, Shot } from "@keyside/core";

/** A key of the part that a remark speaks of. */
export interface SpokenKey {
  readonly node: string;
  readonly channel: Channel;
  readonly frame: number;
  /** Which key of its curve, counted from 0. */
  readonly index: number;
}

/** Keys beyond these are not pointed to, as nobody walks through them. */
const mostKeys = 16;

/**
 * Keys of a node within some frames, by their frames; where none stands there, the one that is nearest to them.
 * @param node id of the node; null for the whole shot, of which no key is named
 */
export function keysSpokenOf(
  shot: Shot,
  node: string | null,
  frames: readonly number[] | undefined,
): readonly SpokenKey[] {
  if (node === null || frames === undefined) return [];
  const [from, to] = [Math.min(...frames), Math.max(...frames)];
  const found: SpokenKey[] = [];
  let [nearest, least]: [SpokenKey | null, number] = [null, Number.POSITIVE_INFINITY];
  for (const curve of shot.curves) {
    if (curve.node !== node) continue;
    for (let index = 0; index < curve.frames.length; index++) {
      const frame = curve.frames[index];
      const away = frame < from ? from - frame : frame > to ? frame - to : 0;
      if (away > 0 && away >= least) continue;
      const key: SpokenKey = { node, channel: curve.channel, frame, index };
      if (away === 0) found.push(key);
      else [nearest, least] = [key, away];
    }
  }
  if (found.length > 0) return found.sort((a, b) => a.frame - b.frame).slice(0, mostKeys);
  return nearest === null ? [] : [nearest];
}
