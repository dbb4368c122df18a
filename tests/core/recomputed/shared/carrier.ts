import type { Sampled } from "./sampled.ts";

/** What carries a limb: the node above its thigh or upper arm; of a chain without parts the node from which it branches off. */
export function carrierOf(shot: Sampled, node: number): number {
  const { parent, children } = shot.rig;
  const part = shot.partOf(node);
  const first = part.replace(/Foot|Toes|Shin/, "Thigh").replace(/Hand|Fingers|Forearm/, "UpperArm");
  const [top] = part === "" ? [] : shot.parts(node, first);
  if (top !== undefined && top !== node) return parent[top];
  let at = node;
  while (parent[at] >= 0 && children[parent[at]].length === 1) at = parent[at];
  return parent[at];
}
