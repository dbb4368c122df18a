import { carrierOf } from "../shared/carrier.ts";
import type { Recompute } from "../shared/compare.ts";
import { distance, inverse, sub, turned, type Vec } from "../shared/geometry.ts";

/** The share of a limb's way that is left three frames before it is there: in the world or seen from its carrier, the smaller. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const carrier = carrierOf(shot, node);
  const [from, to] = shot.spanOf(note);
  const at = to - (3 * shot.rate) / 24;
  const share = (place: (i: number) => Vec) => {
    const away = (i: number) => distance(place(i), place(to));
    const before = Math.floor(at);
    return (away(before) + (at - before) * (away(before + 1) - away(before))) / away(from);
  };
  const carried = (i: number) =>
    turned(inverse(shot.turn(carrier, i)), sub(shot.at(node, i), shot.at(carrier, i)));
  return Math.min(
    share(carried),
    share((i) => shot.at(node, i)),
  );
};
