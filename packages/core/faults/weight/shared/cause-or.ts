import type { Study } from "../../../base/study.ts";
import { causesOf, keysFault } from "../../cause.ts";
import type { Fault } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { heightCause } from "./height-cause.ts";

const up = [0, 1, 0] as const;

/**
 * The keys of a fault: those whose removal fixes it, where there are any; else the keys that move some nodes most over the
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
  const causes = causesOf(study, fault);
  if (causes.length > 0) return keysFault(causes);
  const vertical = along === "height" ? heightCause(study, nodes[0], { from, to }, up) : null;
  return vertical ?? { kind: "keys", keys: keysOfNodes(study, nodes, from, to, 3) };
}
