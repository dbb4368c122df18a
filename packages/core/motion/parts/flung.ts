import { tangents } from "../../base/rotation-vector.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { figureOfNode, figuresOf } from "../../rig/body.ts";
import { localRotationOf } from "../../rig/pose.ts";
import { boneLengthOf, reachOf } from "../../rig/reach.ts";
import { chainTopsOf, rigOf } from "../../rig/rig.ts";
import type { Span } from "../../time/span.ts";
import { contactsOf } from "../ground/contact.ts";
import { deviationAt, offPath, spikeReach } from "../path/spike.ts";
import { hasLimbs } from "./branches.ts";
import { looseChainsOf } from "./loose-chain.ts";

/** A link answers to what happened to its joint within this many samples before: as far as a spike bends its path. */
const answersWithin = 3;
/**
 * A link that is flung leaves its path by at most this many times what its joint leaves its own: a collision gives back
 * no more than it takes (its coefficient of restitution is 1 at the most).
 */
const mostGiven = 2;
/**
 * What is flung out and is back within a frame passes its rest at speed: an ease halves it from frame to frame (common
 * practice), so that behind the two frames of the way back a quarter of it is left.
 */
const leastLeft = 0.25;

/**
 * How much of a spike on a node comes from links of a loose chain that are flung by what they hang on: the link's joint
 * leaves its own path about those samples, and by its own turn the link's end leaves it by no more than that can give.
 * @param shown samples that are shown, ascending
 * @param spike in indices into these
 * @param kind whether the node's place is off, or its turn
 * @param pathOf places of a joint at the shown samples, metres
 * @param popsOf spikes of that path for which there is no such excuse: a pop flings nothing, but carries the link along
 * @returns metres, or radians
 */
export function flungShare(
  study: Study,
  node: number,
  shown: Int32Array,
  spike: Span,
  kind: "position" | "orientation",
  pathOf: (joint: number) => Float64Array,
  popsOf: (joint: number) => readonly Span[],
): number {
  const { parent } = rigOf(study);
  const length = spike.from === spike.to ? 1 : 2;
  const first = Math.max(0, spike.from - spikeReach);
  const window = shown.subarray(first, spike.to + spikeReach + 1);
  let given = 0;
  for (
    let link = kind === "position" ? parent[node] : node;
    link >= 0 && hangsLoose(study, link);
    link = parent[link]
  ) {
    const turns = tangents(localRotationOf(study, link), window);
    const own = turns === null ? 0 : offPath(turns, spike.from - first, length);
    if (turns === null || own === 0) continue;
    if (length === 1 && !swingsOn(turns, spike.from - first, own)) continue;
    const path = pathOf(link);
    const pops = popsOf(link);
    let most = 0;
    for (let i = spike.from - answersWithin; i <= spike.to + 1; i++) {
      const isPop = pops.some(({ from, to }) => i >= from - spikeReach && i <= to + spikeReach);
      if (!isPop) most = Math.max(most, deviationAt(path, i));
    }
    if (own * reachOf(study, link) > mostGiven * most) continue;
    given += kind === "position" ? own * boneLengthOf(study, link, node) : own;
  }
  return given;
}

/** Whether a link turns on behind a sample off its path otherwise than before it, by a share of what it was off. */
function swingsOn(turns: Float64Array, at: number, off: number): boolean {
  const behind = 3 * (at + 1);
  const before = 3 * (at - 2);
  if (before < 0 || behind + 6 > turns.length) return true;
  const change = (axis: number) =>
    turns[behind + 3 + axis] - turns[behind + axis] - (turns[before + 3 + axis] - turns[before + axis]);
  return lengthOf(change(0), change(1), change(2)) >= leastLeft * off;
}

/** Whether a node is a link of a loose chain; where no limbs are known, of a chain off the trunk that stands on nothing. */
function hangsLoose(study: Study, node: number): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0) return false;
  if (looseChainsOf(study, figure).some(({ joints }) => joints.includes(node))) return true;
  const { parts, root } = figuresOf(study)[figure];
  if (hasLimbs(parts)) return false;
  const { children } = rigOf(study);
  const top = chainTopsOf(study)[node];
  if (top === root) return false;
  const links = [top];
  for (let next = children[top]; next.length > 0; next = children[next[0]]) {
    if (next.length > 1) return false;
    links.push(next[0]);
  }
  return links.length > 1 && !contactsOf(study, figure).some((contact) => links.includes(contact.node));
}
