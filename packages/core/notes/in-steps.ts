import type { Study } from "../base/study.ts";
import { curveNamesOf, curveOf } from "../document/inputs.ts";
import type { Note } from "../faults/note.ts";
import { rigOf } from "../rig/rig.ts";
import { assembleNotes } from "./assemble.ts";
import { draftsOf, notesOf, type Piece, piecesOf, unsaidPiecesOf } from "./found.ts";
import type { Draft } from "./group.ts";

/** How far a judgement has come. One object serves all of its steps. */
export interface Progress {
  /** Share of the pieces of work that are done, 0 to 1; pieces differ in what they cost. */
  readonly share: number;
  /**
   * What has been found so far on the nodes that were to come first, the note that matters most first. It may be told
   * otherwise in the end: under another note, or with more that it speaks for. Waivers are not looked at.
   */
  notes(): readonly Note[];
}

/**
 * Computes what {@link notesOf} needs, piece by piece, so that whoever asks can pause or give up in between. What has
 * been computed until then stays remembered. The order of the pieces changes nothing in the notes.
 * @param first names of curves (`curveName`) that are looked at first, with their nodes
 * @returns a generator that gives, at its end, what `notesOf` gives
 */
export function* notesInSteps(
  study: Study,
  first: ReadonlySet<string> = new Set(),
): Generator<Progress, readonly Note[]> {
  const nodes = nodesOf(study, first);
  const isFirst = isFirstIn(study, first, nodes);
  const pieces = [...piecesOf(study)];
  const ordered = [...pieces.filter(isFirst), ...pieces.filter((piece) => !isFirst(piece))];
  const found: Draft[] = [];
  let done = 0;
  const progress: Progress = {
    get share() {
      return done / ordered.length;
    },
    notes: () => assembleNotes(study, found),
  };
  for (const piece of ordered) {
    const { drafts } = draftsOf(study, piece);
    for (const draft of drafts) if (nodes.has(draft.finding.node)) found.push(draft);
    done++;
    yield progress;
  }
  for (const piece of unsaidPiecesOf(study)) {
    draftsOf(study, piece);
    yield progress;
  }
  return notesOf(study);
}

/** The nodes (rig indices) of curves, by the curves' names. */
function nodesOf(study: Study, names: ReadonlySet<string>): ReadonlySet<number> {
  const { ids } = rigOf(study);
  const nodes = new Set<number>();
  for (const name of names) {
    const node = ids.indexOf(curveOf(study, name)?.node ?? "");
    if (node >= 0) nodes.add(node);
  }
  return nodes;
}

function isFirstIn(
  study: Study,
  curves: ReadonlySet<string>,
  nodes: ReadonlySet<number>,
): (piece: Piece) => boolean {
  const names = curveNamesOf(study);
  return (piece) => {
    if ("check" in piece) return false;
    return piece.scope === "curve" ? curves.has(names[piece.subject]) : nodes.has(piece.subject);
  };
}
