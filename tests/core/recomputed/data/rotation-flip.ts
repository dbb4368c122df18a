import type { Recompute } from "../shared/compare.ts";
import { toDegrees } from "../shared/geometry.ts";

/** Difference of the two keys that are named, degrees. */
export const recompute: Recompute = ({ keys: [one, other] }, shot) => {
  const { values } = shot.curve(one.node, one.channel);
  const difference = Math.abs(values[one.index] - values[other.index]);
  return shot.shot.header.space?.angle === "radians" ? toDegrees(difference) : difference;
};
