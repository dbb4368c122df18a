import type { Recompute } from "../shared/compare.ts";
import { toRadians } from "../shared/geometry.ts";

/**
 * How far the curve is, at the frame that is named, outside the band of the two keys around it, in metres: turns by the
 * longest way along the bones below the joint.
 */
export const recompute: Recompute = ({ keys: [key], ...note }, shot) => {
  const curve = shot.curve(key.node, key.channel);
  const [at] = shot.spanOf({ keys: [key], ...note });
  const next = curve.frames.findIndex((frame) => frame > shot.frames[at]);
  const [a, b] = [curve.values[next - 1], curve.values[next]];
  const value = shot.values(curve)[at];
  const past = Math.max(Math.min(a, b) - value, value - Math.max(a, b), 0);
  if (key.channel.startsWith("translation")) return past * shot.metresPerUnit;
  const reach = shot.reachBelow(shot.node(key.node));
  if (key.channel.startsWith("scale")) return past * reach;
  return (shot.shot.header.space?.angle === "radians" ? past : toRadians(past)) * reach;
};
