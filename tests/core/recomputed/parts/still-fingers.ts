import type { Recompute } from "../shared/compare.ts";
import { angleBetween, range, toDegrees } from "../shared/geometry.ts";

/** The largest turn of any finger joint against its parent from the first frame that is marked. */
export const recompute: Recompute = (note, shot) => {
  const hand = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const fingers = shot.parts(hand, shot.partOf(hand).replace("Hand", "Fingers"));
  const turns = fingers.flatMap((finger) => {
    const turn = (i: number) => shot.turnIn(finger, shot.rig.parent[finger], i);
    return range(from, to).map((i) => angleBetween(turn(from), turn(i)));
  });
  return toDegrees(Math.max(...turns));
};
