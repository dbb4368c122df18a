import type { Study } from "../study/study.ts";
import { causesOf } from "./cause.ts";
import type { Fault } from "./check.ts";
import { heightCause } from "./height-cause.ts";
import { keysOfNodes } from "./keys-of-nodes.ts";

const up = [0, 1, 0] as const;

/**
 * A fault as it is where keys can be named whose removal mends it; else the keys that move some nodes most over the
 * fault's frames, since a fault that many keys make together goes with none of them.
 * @param along "height" asks first for the keys that set the height of the first node, for faults of rise and fall
 */
export function causeOr(
  study: Study,
  fault: Fault,
  nodes: readonly number[],
  from: number,
  to: number,
  along: "any" | "height" = "any",
): Fault {
  if (causesOf(study, fault).length > 0) return fault;
  const vertical = along === "height" ? heightCause(study, nodes[0], { from, to }, up) : null;
  return vertical ?? { kind: "keys", keys: keysOfNodes(study, nodes, from, to, 3) };
}
