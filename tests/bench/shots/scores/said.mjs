// @ts-check
/**
 * Which notes say which faults.
 * @import { FaultKind, Figure, Place } from "../types.d.ts"
 * @import { NoteView, Said } from "./records.d.ts"
 */
import { isSameNote } from "./views.mjs";

/** Frames by which a note may reach beyond its fault on either side. */
export const beyond = 3;

/**
 * Joints at which a note on a fault may stand: its own, the one above, those below, and those on which it shows as well.
 * @param {readonly Figure[]} figures @param {Place} place
 */
export function jointsBeside(figures, { joint, also = [] }) {
  const near = new Set([joint, ...also]);
  for (const { body } of figures) {
    for (const { id, parent } of body.joints) {
      if (id === joint && parent !== null) near.add(parent);
      if (parent === joint) near.add(id);
    }
  }
  return near;
}

/**
 * Whether a note says a fault: it, or what it lists as told with it, is of an acceptable check, on the fault's joint or one
 * beside it, within its frames.
 * @param {Said & { also?: readonly Said[] }} note @param {{ kind: Pick<FaultKind, "checks">, place: Place }} fault
 * @param {ReadonlySet<string>} near see {@link jointsBeside}
 */
export function says(note, fault, near) {
  return [note, ...(note.also ?? [])].some((one) => saysItself(one, fault, near));
}

/**
 * @param {Said} note @param {{ kind: Pick<FaultKind, "checks">, place: Place }} fault @param {ReadonlySet<string>} near
 */
function saysItself(note, { kind, place }, near) {
  return (
    kind.checks.includes(note.check) &&
    ((note.joint !== null && near.has(note.joint)) || (note.seenAt !== null && near.has(note.seenAt))) &&
    note.from >= place.from - beyond &&
    note.to <= (place.seenTo ?? place.to) + beyond
  );
}

/**
 * Notes that the faulty shot has and its clean twin has not: only these can say a fault.
 * @param {readonly NoteView[]} notes @param {readonly NoteView[]} twin
 */
export const freshNotes = (notes, twin) => notes.filter((note) => !twin.some((old) => isSameNote(note, old)));

/**
 * Gives each fault a note of its own, so that as many faults as can be are said: one note says one fault.
 * @param {readonly (readonly NoteView[])[]} saying per fault, the notes that say it, the best first
 * @returns {(NoteView | null)[]} per fault
 */
export function assigned(saying) {
  /** @type {Map<NoteView, number>} */
  const owner = new Map();
  /** @param {number} fault @param {Set<NoteView>} seen @returns {boolean} */
  const place = (fault, seen) => {
    for (const note of saying[fault]) {
      if (seen.has(note)) continue;
      seen.add(note);
      const other = owner.get(note);
      if (other === undefined || place(other, seen)) {
        owner.set(note, fault);
        return true;
      }
    }
    return false;
  };
  saying.forEach((_, fault) => {
    place(fault, new Set());
  });
  /** @type {(NoteView | null)[]} */
  const notes = saying.map(() => null);
  for (const [note, fault] of owner) notes[fault] = note;
  return notes;
}

/**
 * Notes that go when a fault is taken out.
 * @param {readonly NoteView[]} notes on the full shot @param {readonly NoteView[]} without notes without the fault
 */
export const goneNotes = (notes, without) =>
  notes.filter((note) => !without.some((left) => isSameNote(note, left)));
