import type { Recompute } from "../shared/compare.ts";
import { distance, inverse, sub, turned, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** What carries a limb: the node above its thigh or upper arm; of a chain without parts the node from which it branches off. */
function carrierOf(shot: Sampled, node: number): number {
  const { parent, children } = shot.rig;
  const part = shot.partOf(node);
  const first = part.replace(/Foot|Toes|Shin/, "Thigh").replace(/Hand|Fingers|Forearm/, "UpperArm");
  const [top] = part === "" ? [] : shot.parts(node, first);
  if (top !== undefined && top !== node) return parent[top];
  let at = node;
  while (parent[at] >= 0 && children[parent[at]].length === 1) at = parent[at];
  return parent[at];
}

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
