import { measure, type Study } from "../../base/study.ts";
import type { BodyPart } from "../../document/schema.ts";
import { figuresOf } from "../../rig/body.ts";
import { readName } from "../../rig/parts-by-name.ts";
import { curveNamesOfNode } from "../../rig/pose.ts";
import { type Rig, rigOf } from "../../rig/rig.ts";
import { contactsOf } from "../ground/contact.ts";
import { buoyedAt } from "../ground/medium.ts";
import { hasLimbs, unbranchedFrom } from "./branches.ts";
import { declaredTails, tailsByShape } from "./tails.ts";

/** A loose chain: its joints from the base outwards. */
export interface LooseChain {
  readonly joints: readonly number[];
  /** What the body map calls it; "chain" where only its shape tells. */
  readonly part: "tail" | "hair" | "ears" | "chain";
  readonly isKeyed: boolean;
  /** Whether its name tells that nothing but its weight holds it, as a rope: no model makes it stiff. */
  readonly hangs: boolean;
}

const named = ["tail", "hair", "ears"] as const;
const carriers: readonly BodyPart[] = [
  ...(["root", "spine", "chest", "neck", "head", "leftShoulder", "rightShoulder"] as const),
];

/**
 * What hangs loose on a figure: its tails, hair and ears, and tails that its limbs declare. By their shape it is chains of two
 * links and more that hang off head or trunk without a branch, such as straps, ribbons, feelers and the skirts of a coat; of
 * what hangs by its name (a rope, a hook) one link is enough. A chain that stands on something is a limb. Where no limbs are
 * known, a chain off the trunk may be any of them; one off the head is none, and one that goes on behind a body that lies
 * along the ground is its tail.
 */
export const looseChainsOf = measure<number, readonly LooseChain[]>(
  "loose chains",
  (study, figure) => {
    const body = figuresOf(study)[figure];
    const { parts, nodes } = body;
    const rig = rigOf(study);
    const found: LooseChain[] = [];
    const isTaken = new Set<number>();
    for (const part of named) {
      const among = new Set(parts.get(part) ?? []);
      for (const base of among) {
        isTaken.add(base);
        if (among.has(rig.parent[base]) || rig.parent[base] < 0) continue;
        const joints = [base];
        for (let next = rig.children[base].find((c) => among.has(c)); next !== undefined; ) {
          joints.push(next);
          next = rig.children[next].find((c) => among.has(c));
        }
        found.push(chainFrom(study, rig, joints, part));
      }
    }
    // In the water a tail drives.
    const rear = buoyedAt(study, figure).includes(1)
      ? []
      : [...declaredTails(study, body), ...tailsByShape(study, figure)];
    for (const joints of rear) {
      if (joints.some((node) => isTaken.has(node))) continue;
      for (const node of joints) isTaken.add(node);
      found.push(chainFrom(study, rig, joints, "chain"));
    }
    const carrying: readonly BodyPart[] = hasLimbs(parts) ? carriers : ["head"];
    const carries = new Set(carrying.flatMap((part) => parts.get(part) ?? []));
    for (const list of parts.values()) for (const node of list) isTaken.add(node);
    const stands = new Set(contactsOf(study, figure).map(({ node }) => node));
    for (const base of nodes) {
      if (isTaken.has(base) || !carries.has(rig.parent[base])) continue;
      const joints = unbranchedFrom(rig, base);
      if (joints === null || joints.some((node) => isTaken.has(node) || stands.has(node))) continue;
      const chain = chainFrom(study, rig, joints, "chain");
      if (chain.joints.length >= 2 || chain.hangs) found.push(chain);
    }
    return found;
  },
  (a, b) => a.length === b.length && a.every((chain, i) => isSame(chain, b[i])),
);

function chainFrom(study: Study, rig: Rig, joints: readonly number[], part: LooseChain["part"]): LooseChain {
  const hasCurves = (node: number) => curveNamesOfNode(study, node).length > 0;
  const tip = joints[joints.length - 1];
  // A tip without curves only marks where the last link ends.
  const isMark = joints.length > 1 && rig.children[tip].length === 0 && !hasCurves(tip);
  return {
    joints: isMark ? joints.slice(0, -1) : joints,
    part,
    isKeyed: joints.some(hasCurves),
    hangs: readName(rig.ids[joints[0]]).hanging,
  };
}

/**
 * What of each wing trails the beat: its joints beyond the first, by which it beats. Only where they have curves: a wing
 * of one piece, as an insect's, is modelled so.
 */
export const wingEndsOf = measure<number, readonly (readonly number[])[]>(
  "wing ends",
  (study, figure) => {
    const { parts } = figuresOf(study)[figure];
    const { parent } = rigOf(study);
    return (["leftWing", "rightWing"] as const).flatMap((part) => {
      const joints = (parts.get(part) ?? []).slice(1);
      const isChain = joints.every((node, i) => parent[node] === (parts.get(part) ?? [])[i]);
      return isChain && joints.some((node) => curveNamesOfNode(study, node).length > 0) ? [joints] : [];
    });
  },
  (a, b) => a.length === b.length && a.every((chain, i) => chain.join() === b[i].join()),
);

function isSame(a: LooseChain, b: LooseChain): boolean {
  return (
    a.part === b.part &&
    a.isKeyed === b.isKeyed &&
    a.hangs === b.hangs &&
    a.joints.length === b.joints.length &&
    a.joints.every((node, i) => node === b.joints[i])
  );
}
