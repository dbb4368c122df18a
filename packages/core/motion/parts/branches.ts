import type { BodyPart } from "../../document/schema.ts";
import type { Rig } from "../../rig/rig.ts";

/** Whether a figure has arms or legs that are known. */
export function hasLimbs(parts: ReadonlyMap<BodyPart, readonly number[]>): boolean {
  return (["leftThigh", "rightThigh", "leftUpperArm", "rightUpperArm"] as const).some((part) =>
    parts.has(part),
  );
}

/** The joints from a base to its tip; null where the chain branches. */
export function unbranchedFrom(rig: Rig, base: number): number[] | null {
  const joints = [base];
  for (let at = base; rig.children[at].length > 0; ) {
    if (rig.children[at].length > 1) return null;
    at = rig.children[at][0];
    joints.push(at);
  }
  return joints;
}
