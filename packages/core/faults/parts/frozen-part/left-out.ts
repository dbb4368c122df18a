import { inDegrees, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { limbChainsOf } from "../../../motion/parts/limb-chain.ts";
import { looseChainsOf } from "../../../motion/parts/loose-chain.ts";
import { relativeAngles } from "../../../motion/path/relative.ts";
import { type Figure, figuresOf } from "../../../rig/body.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { FrozenPartFinding } from "./finding.ts";
import { type Meanwhile, setIn, sumOfSteps, sumOver, trunkOf } from "./meanwhile.ts";

/** Least length of a shot, frames at 24 per second, over which a part is left out: in two seconds a body is seen to act (our choice). */
export const longEnough = 48;
/**
 * Turn, radians, from which on a part of a figure acts: what a head glances by (15°, common practice). A body of which
 * nothing acts is a thing that is moved about.
 */
export const acting = Math.PI / 12;
/** Of how much turning of the trunk the lack is counted: what comes after a quarter turn is seen as well, not more (our choice). */
export const mostCarried = Math.PI / 2;
/** Share of its trunk's turn whose lack is seen of a part, and what is seen where the trunk only travels, radians (our choice). */
const missedShare = 0.1;
const missedInTravel = 0.05;

/** Parts of a figure that keep one pose against what carries them all through a shot in which the body goes on. */
export function leftOutParts(
  study: Study,
  index: number,
  meanwhile: Meanwhile,
  values: { readonly leftOut: number },
): FrozenPartFinding[] {
  const { count, rate } = gridOf(study);
  const from = 0;
  const to = count - 1;
  if (to < (longEnough * rate) / referenceRate || 2 * setIn(meanwhile.goes, 1, to) < to) return [];
  const figure = figuresOf(study)[index];
  const trunk = trunkOf(study, index);
  const parts = limbsThatAct(study, index, figure);
  const turns = parts.map((joints) => Math.max(...joints.map((node) => turnOf(study, node))));
  const dead = parts.filter((_, k) => turns[k] <= values.leftOut);
  // What hangs loose is moved about as well.
  const loose = looseChainsOf(study, index).flatMap(({ joints }) => joints);
  if (dead.length === 0 || !doesAct(study, figure, [...trunk, ...loose, ...dead.flat()])) return [];
  return dead.flatMap((joints) => {
    const because = boundBy(study, index, joints);
    if (because !== null) {
      excused(joints[0], from, to, because);
      return [];
    }
    const turn = turns[parts.indexOf(joints)];
    const carried = sumOver(study, meanwhile.turns, 1, to);
    const reach = farReachOf(study, joints[0]);
    return [
      {
        node: joints[0],
        figure: index,
        from,
        to,
        measured: { quantity: "turn against what carries it", value: inDegrees(turn), unit: "deg" as const },
        expected: { min: inDegrees(values.leftOut), unit: "deg" as const, source: leftOutSource },
        excess: Math.max(1, 2 - turn / values.leftOut),
        size: Math.max(missedShare * Math.min(carried, mostCarried), missedInTravel) * reach,
        numbers: {
          kind: "left out" as const,
          frames: to,
          before: 0,
          turn,
          carried,
          travelled: sumOfSteps(study, trunk[0], 1, to),
          lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
          amount: 0,
          trunk: trunk[trunk.length - 1],
          carrier: rigOf(study).parent[joints[0]],
        },
        fault: { kind: "keys" as const, keys: keysOfNodes(study, joints, from, to) },
      },
    ];
  });
}

/** Where the default of the setting comes from. */
export const leftOutSource =
  "common practice: 2° move the end of an arm by less than 3 cm in all of a shot, which reads as rigid";

/** Arms, and a head on a neck; where no limbs are known, chains off the trunk that come in pairs, as fins do. */
function limbsThatAct(study: Study, index: number, { parts }: Figure): readonly (readonly number[])[] {
  const of = (...names: Parameters<typeof parts.get>[0][]) => names.flatMap((name) => parts.get(name) ?? []);
  const head = parts.has("neck") && parts.has("head") ? [of("neck", "head")] : [];
  const arms = [
    of("leftUpperArm", "leftForearm", "leftHand"),
    of("rightUpperArm", "rightForearm", "rightHand"),
  ];
  return [...head, ...arms.filter((joints) => joints.length > 1), ...limbChainsOf(study, index)];
}

/** Most that a node turns against its parent from where it stood at first, radians. */
export function turnOf(study: Study, node: number): number {
  const angle = relativeAngles(study, node, rigOf(study).parent[node]);
  const { count } = gridOf(study);
  let most = 0;
  for (let i = 1; i < count; i++) most = Math.max(most, angle(0, i));
  return most;
}

/** Whether anything of a figure acts, but for some of its nodes and what carries all. */
function doesAct(study: Study, { nodes, root }: Figure, but: readonly number[]): boolean {
  const { count } = gridOf(study);
  const acts = (node: number) => {
    const angle = relativeAngles(study, node, rigOf(study).parent[node]);
    for (let i = 1; i < count; i++) if (angle(0, i) > acting) return true;
    return false;
  };
  return nodes.some((node) => node !== root && !but.includes(node) && acts(node));
}

/** Why a part keeps its pose for half of the time or more: its end rests on something, or holds a thing; null for nothing. */
function boundBy(study: Study, index: number, joints: readonly number[]): string | null {
  const { count } = gridOf(study);
  const end = joints[joints.length - 1];
  const bound = new Uint8Array(count);
  for (const { node, from, to } of contactsOf(study, index))
    if (joints.includes(node)) bound.fill(1, Math.max(0, from), Math.min(count, to + 1));
  for (const { hand, from, to } of gripsOf(study)) if (hand === end) bound.fill(1, from, to + 1);
  return 2 * setIn(bound, 0, count - 1) >= count
    ? "a contact or a thing that it holds binds it for half of the time or more"
    : null;
}
