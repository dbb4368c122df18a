import type { Study } from "../base/study.ts";
import { curveNamesOf, curveOf } from "../document/inputs.ts";
import type { Note } from "../faults/note.ts";
import { rigOf } from "../rig/rig.ts";
import { assembleNotes } from "./assemble.ts";
import { draftsOf, notesOf, type Piece, piecesOf, unsaidPiecesOf } from "./found.ts";
import type { Draft } from "./group.ts";

/** What an edit has touched, which is looked at and told first. */
export interface Touched {
  /** Names of curves (`curveName`). */
  readonly curves: ReadonlySet<string>;
  /** First and last frame of the keys that were changed, in the document's numbering. */
  readonly frames: readonly [number, number];
}

const untouched: Touched = {
  curves: new Set(),
  frames: [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
};

/** How far a judgement has come. One object serves all of its steps. */
export interface Progress {
  /** Share of the pieces of work that are done, 0 to 1; pieces differ in what they cost. */
  readonly share: number;
  /**
   * What has been found so far on the nodes that were touched: what shares frames with the touched keys comes first, and
   * of that the note that matters most. It may be told otherwise in the end: under another note, or with more that it
   * speaks for. Waivers are not looked at.
   */
  notes(): readonly Note[];
}

/**
 * Computes what {@link notesOf} needs, piece by piece, so that whoever asks can pause or give up in between. What has
 * been computed until then stays remembered. The order of the pieces changes nothing in the notes.
 * @param touched what is looked at first: curves, and their nodes
 * @returns a generator that gives, at its end, what `notesOf` gives
 */
export function* notesInSteps(
  study: Study,
  touched: Touched = untouched,
): Generator<Progress, readonly Note[]> {
  const nodes = nodesOf(study, touched.curves);
  const isFirst = isFirstIn(study, touched.curves, nodes);
  const pieces = [...piecesOf(study)];
  const ordered = [...pieces.filter(isFirst), ...pieces.filter((piece) => !isFirst(piece))];
  const found: Draft[] = [];
  let done = 0;
  const progress: Progress = {
    get share() {
      return done / ordered.length;
    },
    notes: () => {
      const [from, to] = touched.frames;
      const isBeside = ({ frames }: Note) => frames[0] <= to && frames[1] >= from;
      const notes = assembleNotes(study, found);
      return [...notes.filter(isBeside), ...notes.filter((note) => !isBeside(note))];
    },
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
