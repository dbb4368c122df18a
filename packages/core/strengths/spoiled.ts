import type { Study } from "../base/study.ts";
import type { Note } from "../faults/note.ts";
import { cutsOf } from "../motion/path/cuts.ts";
import { eachAlone } from "../notes/assemble.ts";
import { foundNotesOf } from "../notes/found.ts";
import { figuresOf } from "../rig/body.ts";
import { isAbove, rigOf } from "../rig/rig.ts";
import { gridOf, sampleAt } from "../time/grid.ts";
import type { Held } from "./strength.ts";

/**
 * Tells what must not be praised: whatever a note speaks against. A major note, waived or not, or one that another speaks
 * for, spoils its frames for the part on which it shows, for all that this part carries and for all that carries it; one
 * of the whole figure or shot for all of it. A minor note spoils them for the part itself. So does a cut between poses.
 */
export function spoiledBy(study: Study, figure: number): (held: Held) => boolean {
  const rig = rigOf(study);
  const { id, nodes: all } = figuresOf(study)[figure];
  const grid = gridOf(study);
  const against = eachAlone(foundNotesOf(study))
    .filter((note) => note.tier !== "polish" && (note.figure === null || note.figure === id))
    .map((note) => ({
      isMajor: note.tier === "major" || note.tier === "broken",
      nodes: nodesOf(note).map((name) => rig.indexOf.get(name) ?? -1),
      from: sampleAt(grid, note.frames[0]),
      to: sampleAt(grid, note.frames[1]),
    }));
  return ({ node, nodes = all, from, to }) =>
    against.some((note) => {
      if (note.from > to || note.to < from) return false;
      if (!note.isMajor) return note.nodes.some((at) => at === node || (nodes !== all && nodes.includes(at)));
      if (note.nodes.length === 0 || note.nodes.includes(-1)) return true;
      return note.nodes.some((at) => nodes.some((own) => isAbove(rig, at, own) || isAbove(rig, own, at)));
    }) || nodes.some((own) => hasCut(cutsOf(study, own), from, to));
}

/** All nodes on which a note shows, and that of its keys. */
function nodesOf({ node, seenAt, keys }: Note): readonly string[] {
  return [
    ...new Set([...(node === null ? [] : [node]), ...seenAt, ...keys.slice(0, 1).map((key) => key.node)]),
  ];
}

function hasCut(cuts: Int32Array, from: number, to: number): boolean {
  for (const cut of cuts) if (cut > from && cut <= to) return true;
  return false;
}
