import type { Recompute } from "../shared/compare.ts";
import { angleBetween, range, toDegrees } from "../shared/geometry.ts";

/** The largest turn of the hand against the forearm from the first frame that is marked. */
export const recompute: Recompute = (note, shot) => {
  const hand = shot.nodeOf(note);
  const forearm = shot.part(hand, shot.partOf(hand).replace("Hand", "Forearm"));
  const [from, to] = shot.spanOf(note);
  const start = shot.turnIn(hand, forearm, from);
  return toDegrees(
    Math.max(...range(from, to).map((i) => angleBetween(start, shot.turnIn(hand, forearm, i)))),
  );
};
