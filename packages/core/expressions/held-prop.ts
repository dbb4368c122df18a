import { bytes } from "../base/room.ts";
import { measure, type Study, sameNumbers } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { BodyPart } from "../document/schema.ts";
import { gripsOf } from "../motion/parts/grips.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf, sampleAt } from "../time/grid.ts";

const handParts: ReadonlySet<BodyPart> = new Set(["leftHand", "rightHand", "leftFingers", "rightFingers"]);

/**
 * 1 at the samples at which a node is held: a contact is declared between it and a node of a figure that it is not
 * itself a part of, it hangs under a hand without being a part of the body, or a hand holds it as the document says, or
 * as motion shows (see `gripsOf`).
 */
export const heldPropOf = measure(
  "held prop",
  (study, node: number): Uint8Array => {
    const held = bytes(gridOf(study).count);
    if (isBodyPart(study, node)) return held;
    if (hangsUnderHand(study, node)) return held.fill(1);
    const rig = rigOf(study);
    markContacts(study, held, (a, b) => {
      const other = a === node ? b : b === node ? a : -1;
      return other >= 0 && other < rig.count && isBodyPart(study, other);
    });
    for (const { thing, from, to } of gripsOf(study)) if (thing === node) held.fill(1, from, to + 1);
    return held;
  },
  sameNumbers,
);

/** 1 at the samples at which a contact is declared between two nodes; the key is both rig indices, "3 17". */
export const touchingOf = measure(
  "touching",
  (study, pair: string): Uint8Array => {
    const [first, second] = pair.split(" ").map(Number) as [number, number];
    const touching = bytes(gridOf(study).count);
    markContacts(study, touching, (a, b) => (a === first && b === second) || (a === second && b === first));
    return touching;
  },
  sameNumbers,
);

function markContacts(study: Study, marks: Uint8Array, isMeant: (a: number, b: number) => boolean): void {
  const grid = gridOf(study);
  const { indexOf } = rigOf(study);
  for (const contact of headerOf(study).contacts ?? []) {
    const a = indexOf.get(contact.node);
    const b = contact.with === undefined ? undefined : indexOf.get(contact.with);
    if (a === undefined || b === undefined || !isMeant(a, b)) continue;
    const [first, last] = contact.frames;
    const end = grid.frames[0] + (grid.count - 1) * grid.step;
    if (last < grid.frames[0] || first > end) continue;
    marks.fill(1, sampleAt(grid, first), sampleAt(grid, last) + 1);
  }
}

function isBodyPart(study: Study, node: number): boolean {
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const part = figure?.partOf.get(node);
  return part !== undefined && part !== "prop";
}

function hangsUnderHand(study: Study, node: number): boolean {
  const { parent } = rigOf(study);
  for (let above = parent[node]; above >= 0; above = parent[above]) {
    const part = figuresOf(study)[figureOfNode(study, above)]?.partOf.get(above);
    if (part !== undefined && part !== "prop") return handParts.has(part);
  }
  return false;
}
