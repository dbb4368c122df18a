import { measure } from "../../base/study.ts";
import { figuresOf } from "../../rig/body.ts";
import { readName } from "../../rig/parts-by-name.ts";
import { rigOf } from "../../rig/rig.ts";
import { contactsOf } from "../ground/contact.ts";
import { hasLimbs, unbranchedFrom } from "./branches.ts";

/**
 * Limbs of a figure of which no arms and legs are known, by their shape: chains of two links and more without a branch
 * that come in pairs on one joint and stand on nothing, as fins and feelers do. A tip only marks where the last link ends.
 */
export const limbChainsOf = measure<number, readonly (readonly number[])[]>(
  "limb chains",
  (study, figure) => {
    const { parts, nodes, partOf } = figuresOf(study)[figure];
    if (hasLimbs(parts)) return [];
    const rig = rigOf(study);
    const stands = new Set(contactsOf(study, figure).map(({ node }) => node));
    const chains = nodes.flatMap((base) => {
      if (partOf.has(base) || rig.parent[base] < 0 || readName(rig.ids[base]).loose) return [];
      if (rig.children[rig.parent[base]].length < 2) return [];
      const joints = unbranchedFrom(rig, base);
      if (joints === null || joints.length < 3 || joints.some((node) => stands.has(node))) return [];
      return [joints.slice(0, -1)];
    });
    const isPaired = (one: readonly number[]) =>
      chains.some(
        (other) =>
          other !== one && other.length === one.length && rig.parent[other[0]] === rig.parent[one[0]],
      );
    return chains.filter(isPaired);
  },
  (a, b) => a.length === b.length && a.every((chain, i) => chain.join() === b[i].join()),
);
