import { inDegrees, referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { unbranchedFrom } from "../../../motion/parts/branches.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { figuresOf } from "../../../rig/body.ts";
import { readName } from "../../../rig/parts-by-name.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { FrozenPartFinding } from "./finding.ts";
import { acting, leftOutSource, longEnough, mostCarried, turnOf } from "./left-out.ts";

/** Two chains are alike where their lengths differ by no more than this share (our choice). */
const alike = 0.1;
/** Share of the frames in which a chain has to move for its like to be missed: an ear may flick while the other rests (our choice). */
const busy = 0.5;
/** Share of what its like does whose lack is seen of a chain (our choice). */
const missed = 0.25;

/** A chain without a branch on a joint that others hang on as well. */
interface Chain {
  readonly joints: readonly number[];
  readonly length: number;
}

/**
 * Chains that never move while those like them do: one fin of two, one feeler, one tendril of four. Alike are chains off one
 * joint that have as many links and the same length, and are no part of a body that is judged by its name.
 */
export function leftOutFellows(
  study: Study,
  index: number,
  { leftOut, drift }: { readonly leftOut: number; readonly drift: number },
): FrozenPartFinding[] {
  const { count, rate } = gridOf(study);
  const to = count - 1;
  if (to < (longEnough * rate) / referenceRate) return [];
  return groupsOfFellows(study, index).flatMap((chains) => {
    const turns = chains.map(({ joints }) => Math.max(...joints.map((node) => turnOf(study, node))));
    const dead = chains.filter((_, k) => turns[k] <= leftOut);
    const acts = chains.filter((chain, k) => turns[k] >= acting && isBusy(study, chain, drift));
    // Where most are at rest, those that move are the ones that act.
    if (dead.length === 0 || acts.length < dead.length) return [];
    const [fellow] = acts;
    const carried = turns[chains.indexOf(fellow)];
    return dead.map(({ joints: [node, ...others] }): FrozenPartFinding => {
      const turn = turns[chains.findIndex(({ joints }) => joints[0] === node)];
      return {
        node,
        figure: index,
        from: 0,
        to,
        measured: { quantity: "turn against what carries it", value: inDegrees(turn), unit: "deg" },
        expected: { min: inDegrees(leftOut), unit: "deg", source: leftOutSource },
        excess: Math.max(1, 2 - turn / leftOut),
        size: missed * Math.min(carried, mostCarried) * farReachOf(study, node),
        numbers: {
          kind: "unlike",
          ...{ frames: to, before: 0, turn, carried, travelled: 0, amount: 0 },
          lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
          trunk: fellow.joints[0],
          carrier: rigOf(study).parent[node],
        },
        fault: { kind: "keys", keys: keysOfNodes(study, [node, ...others], 0, to) },
      };
    });
  });
}

/** Chains that are alike, in groups of two and more. */
function groupsOfFellows(study: Study, index: number): Chain[][] {
  const rig = rigOf(study);
  const { nodes, partOf } = figuresOf(study)[index];
  const stands = new Set(contactsOf(study, index).map(({ node }) => node));
  const groups: Chain[][] = [];
  for (const base of nodes) {
    const parent = rig.parent[base];
    if (parent < 0 || rig.children[parent].length < 2) continue;
    const joints = unbranchedFrom(rig, base);
    // A node without anything below it has no length.
    if (joints === null || joints.length < 2) continue;
    if (joints.some((node) => partOf.has(node) || stands.has(node) || readName(rig.ids[node]).loose))
      continue;
    const chain = { joints: joints.slice(0, -1), length: farReachOf(study, base) };
    const isLike = ([other]: Chain[]) =>
      rig.parent[other.joints[0]] === parent &&
      other.joints.length === chain.joints.length &&
      Math.abs(other.length - chain.length) <= alike * Math.max(other.length, chain.length);
    const group = groups.find(isLike);
    if (group === undefined) groups.push([chain]);
    else group.push(chain);
  }
  return groups.filter(({ length }) => length > 1);
}

/** Whether a chain moves in so many of the frames: in each at least one of its joints turns faster than it may drift. */
function isBusy(study: Study, { joints }: Chain, drift: number): boolean {
  const { count } = gridOf(study);
  const speeds = joints.map((node) => localAngularSpeedOf(study, node));
  let moves = 0;
  for (let i = 1; i < count; i++) if (speeds.some((speed) => speed[i] > drift)) moves++;
  return moves >= busy * (count - 1);
}
