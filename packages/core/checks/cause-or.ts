import type { Study } from "../study/study.ts";
import { causesOf } from "./cause.ts";
import type { Fault } from "./check.ts";
import { keysOfNodes } from "./keys-of-nodes.ts";

/**
 * A fault as it is where keys can be named whose removal mends it; else the keys that move some nodes most over the
 * fault's frames, since a fault that many keys make together goes with none of them.
 */
export function causeOr(
  study: Study,
  fault: Fault,
  nodes: readonly number[],
  from: number,
  to: number,
): Fault {
  if (causesOf(study, fault).length > 0) return fault;
  return { kind: "keys", keys: keysOfNodes(study, nodes, from, to, 3) };
}
