import type { Recompute } from "../shared/compare.ts";
import { distance, mean, range } from "../shared/geometry.ts";
import { seen } from "../shared/seen.ts";

/** Upper arm and forearm as long as the camera sees them, in metres at the elbow, over their true lengths: the mean of the frames. */
export const recompute: Recompute = (note, shot) => {
  const hand = shot.nodeOf(note);
  const [shoulder, elbow] = ["UpperArm", "Forearm"].map((part) =>
    shot.part(hand, shot.partOf(hand).replace("Hand", part)),
  );
  const [from, to] = shot.spanOf(note);
  const long = (i: number) =>
    distance(shot.at(shoulder, i), shot.at(elbow, i)) + distance(shot.at(elbow, i), shot.at(hand, i));
  return mean(
    range(from, to).map((i) => {
      const [a, b, c] = [shoulder, elbow, hand].map((node) => seen(shot, shot.at(node, i), i));
      return (Math.hypot(b.x - a.x, b.y - a.y) + Math.hypot(c.x - b.x, c.y - b.y)) / b.scale / long(0);
    }),
  );
};
