import type { Curve, Problem, ReadResult } from "./model.ts";
import { assembled, type ReadState, readShot, stateOf } from "./read.ts";
import type { ScannedCurve } from "./scan/finish-curve.ts";
import { scanCurveText } from "./scan.ts";

/** A change of a text: the characters from `start` to `end` are replaced. */
export interface TextChange {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export interface Reread {
  readonly text: string;
  readonly result: ReadResult;
}

/**
 * Reads a changed document without reading what did not change; the outcome equals a full reading of the new text.
 *
 * A change inside one curve has only that curve read again. Curves in front of it stay the same objects; those behind
 * it, whose place moves, become shallow copies that share their arrays ({@link sameCurveData} tells), and the header
 * stays the same object. Any other change, and one after which the curve does not end where it did, is read in full.
 * @param text the text before the changes
 * @param before what reading that text gave
 * @param changes made one after the other: the offsets of each count in the text that the one before leaves
 */
export function reread(text: string, before: ReadResult, changes: readonly TextChange[]): Reread {
  let now = text;
  const steps: ChangeStep[] = [];
  for (const change of changes) {
    steps.push({ text: now, change });
    now = now.slice(0, change.start) + change.text + now.slice(change.end);
  }
  return { text: now, result: rereadSteps(before, steps) ?? readShot(now) };
}

/** A text of which pieces can be had, however it is kept. */
export interface SlicedText {
  slice(start: number, end: number): string;
}

/** A change with the text that it is made in. */
export interface ChangeStep {
  readonly text: SlicedText;
  readonly change: TextChange;
}

/**
 * The same as {@link reread} for whoever keeps the text in pieces.
 * @returns null where the text that the changes leave has to be read in full
 */
export function rereadSteps(before: ReadResult, steps: readonly ChangeStep[]): ReadResult | null {
  if (steps.length === 0) return before;
  let state = stateOf(before);
  for (const { text, change } of steps) {
    state = (state && changedState(text, state, change)) ?? undefined;
    if (state === undefined) return null;
  }
  return state === undefined ? null : assembled(state.header, state.scanned);
}

/** Whether two curves hold the same keys for the same channel, so that nothing but their place can differ. */
export function sameCurveData(a: Curve, b: Curve): boolean {
  return (
    a === b ||
    (a.frames === b.frames &&
      a.values === b.values &&
      a.modes === b.modes &&
      a.handles === b.handles &&
      a.node === b.node &&
      a.channel === b.channel &&
      a.interpolation === b.interpolation)
  );
}

/** The parts of a document after a change inside one curve; null where the change cannot be shown to stay in it. */
function changedState(text: SlicedText, state: ReadState, change: TextChange): ReadState | null {
  const { start, end } = change;
  const at = curveAround(state.scanned, start, end);
  if (at < 0) return null;
  const old = state.scanned[at];
  const piece = text.slice(old.start, start) + change.text + text.slice(end, old.end);
  const scanned = scanCurveText(piece, old.index);
  if (scanned === null || !old.isClosed) return null;
  const delta = change.text.length - (end - start);
  const curves = state.scanned.slice();
  curves[at] = movedCurve(scanned, old.start);
  if (delta !== 0) for (let i = at + 1; i < curves.length; i++) curves[i] = movedCurve(curves[i], delta);
  if (delta === 0) return { header: state.header, scanned: curves };
  const header = {
    ...state.header,
    problems: state.header.problems.map((problem) => movedBehind(problem, end, delta)),
    places: state.header.places.shifted(start, delta),
  };
  return { header, scanned: curves };
}

/** Index of the curve between whose braces a range lies, -1 where there is none. */
function curveAround(curves: readonly ScannedCurve[], start: number, end: number): number {
  let low = 0;
  let high = curves.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (curves[middle].start < start) low = middle;
    else high = middle - 1;
  }
  return low < curves.length && curves[low].start < start && end < curves[low].end ? low : -1;
}

function movedCurve(scanned: ScannedCurve, delta: number): ScannedCurve {
  const { curve, problems } = scanned;
  return {
    ...scanned,
    start: scanned.start + delta,
    end: scanned.end + delta,
    curve: curve && { ...curve, place: curve.place && movedPlace(curve.place, delta) },
    problems: problems.length === 0 ? problems : problems.map((problem) => movedBehind(problem, 0, delta)),
  };
}

function movedPlace(place: NonNullable<Curve["place"]>, delta: number): Curve["place"] {
  return { ...place, start: place.start + delta, end: place.end + delta };
}

/** A problem after text changed in front of its end; offsets in front of the change stay. */
function movedBehind(problem: Problem, from: number, delta: number): Problem {
  const move = (offset: number) => (offset >= from ? offset + delta : offset);
  return { ...problem, start: move(problem.start), end: move(problem.end) };
}
