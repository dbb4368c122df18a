import type { Stretch } from "../base/memo-cell.ts";
import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { firstKeyFrom } from "../curve/keys.ts";
import { curveName, curveOf } from "../document/inputs.ts";
import type { Channel, Curve, CurveKeys } from "../document/model.ts";
import { massSharesBelow } from "../motion/body/mass-centre.ts";
import { figuresOf } from "../rig/body.ts";
import { chainOf, curveNamesOfNode } from "../rig/pose.ts";
import { isAbove, rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import type { Fault } from "./check.ts";
import type { NoteKey } from "./note.ts";
import { addSuspects, reach, type Suspect } from "./suspects.ts";
import { type SeriesFault, Trial } from "./trial.ts";

/** At most so many keys are named in a note; longer lists are not read (our choice). */
const mostKeys = 6;
/**
 * Least share of a figure's mass below a node for its channels to be tried on the centre of mass, which hardly answers
 * to less (our choice).
 */
const leastMass = 0.1;

/**
 * The keys that cause a fault, the one that causes most first.
 *
 * Every key near the fault, on every channel of every ancestor, is put right in the ways of an animator (see
 * {@link PutRight}); the motion that follows is worked out exactly (see `influenceOf`) and the fault is measured again.
 * What goes away with a key in the way that helps most is its share. Where the keys of a channel in the fault's frames
 * hold it together, they are named one after another, without a share of each.
 * @param fault how the fault is measured again; null where no keys are to be named
 * @returns empty where no key changes the fault
 */
export function causesOf(study: Study, fault: Fault | null): readonly NoteKey[] {
  return triedCausesOf(study, fault).keys;
}

/** Causing keys, with the share of the fault that went in a trial of the first of them, alone or with its run; 0 without one. */
export interface TriedCauses {
  readonly keys: readonly NoteKey[];
  readonly tried: number;
  /** The curve with the key named first put right, in the way that helped most; null where none was tried. */
  readonly mended: MendedCurve | null;
}

/** A curve of which some keys were put right in a trial. */
export interface MendedCurve {
  /** Rig index of the curve's node. */
  readonly node: number;
  readonly channel: Channel;
  /** The curve's name (`curveName`). */
  readonly name: string;
  /** The keys around what was put right, as they then are, and where in the curve they begin. */
  readonly stretch: CurveKeys;
  readonly start: number;
}

/** {@link causesOf}, and how sure the first of them is. */
export function triedCausesOf(study: Study, fault: Fault | null): TriedCauses {
  if (fault === null) return noCauses;
  if (fault.kind === "keys") {
    const keys = fault.keys.flatMap((key): NoteKey[] => {
      const curve = curveOf(study, `${key.node} ${key.channel}`);
      return curve === null ? [] : [{ ...key, frame: curve.frames[key.index] }];
    });
    return { keys, tried: keys[0]?.share ?? 0, mended: null };
  }
  const { sees } = fault;
  if (sees === undefined || !study.memo.keepsPieces()) return triedOf(study, fault);
  // Trials are most of the work after an edit: those that it does not reach are kept.
  const { kind, subject, others, top, lo, hi, from, to } = fault;
  const name = `${kind} ${subject} ${others?.join() ?? ""} ${top ?? ""} ${lo} ${hi} ${from} ${to}`;
  return study.memo.keep(study, name, lo, hi, sees, () => triedOf(study, fault));
}

function triedOf(study: Study, fault: SeriesFault): TriedCauses {
  const trial = new Trial(study, fault);
  if (!(trial.before > 0)) return noCauses;
  const suspects: Suspect[] = [];
  for (const { node, curve, name } of candidateCurves(study, fault))
    addSuspects(study, fault, trial, node, curve, name, suspects);
  const keys = named(suspects);
  return { keys, tried: suspects[0]?.share ?? 0, mended: mendedOf(suspects[0]) };
}

const noCauses: TriedCauses = { keys: [], tried: 0, mended: null };

function mendedOf(suspect: Suspect | undefined): MendedCurve | null {
  if (suspect === undefined) return null;
  const { node, curve, stretch, start } = suspect;
  return { node, channel: curve.channel, name: curveName(curve.node, curve.channel), stretch, start };
}

/** The keys of a curve with those that were put right in their place. */
function mendedKeys(curve: Curve, { stretch, start }: MendedCurve): CurveKeys {
  const { width } = curve;
  const frames = curve.frames.slice();
  const values = curve.values.slice();
  const modes = curve.modes.slice();
  const stride = width === 1 ? 4 : 8;
  const handles = curve.handles?.slice() ?? new Float64Array(stride * frames.length).fill(Number.NaN);
  frames.set(stretch.frames, start);
  values.set(stretch.values, width * start);
  modes.set(stretch.modes, start);
  if (stretch.handles !== null) handles.set(stretch.handles, stride * start);
  return {
    interpolation: curve.interpolation,
    width,
    frames,
    values,
    modes,
    handles,
    ownModes: null,
    place: null,
  };
}

/**
 * Share of a fault that goes with a curve of which keys were put right for another one.
 * @returns 0 where the curve does not move what the fault is seen on, below 0 where it grows
 */
export function shareWith(study: Study, fault: Fault | null, mended: MendedCurve): number {
  if (fault === null || fault.kind === "keys" || !canMove(study, fault, mended)) return 0;
  const trial = new Trial(study, fault);
  if (!(trial.before > 0)) return 0;
  const curve = curveOf(study, mended.name);
  if (curve === null) return 0;
  const values = floats(trial.times.length * curve.width);
  sampleCurve(mendedKeys(curve, mended), trial.times, values);
  return 1 - trial.strengthWith(mended.node, mended.channel, values) / trial.before;
}

/** Whether a channel of a node moves what a fault is seen on. */
function canMove(study: Study, fault: SeriesFault, { node, channel }: MendedCurve): boolean {
  const rig = rigOf(study);
  const isTurn = channel.startsWith("rotation") || channel.startsWith("scale");
  if (fault.kind === "orientation" && !channel.startsWith("rotation")) return false;
  if (fault.kind === "massCentre") return figuresOf(study)[fault.subject].nodes.includes(node);
  const subjects = [fault.subject, ...(fault.others ?? [])];
  const turnsItselfAlone = isTurn && fault.kind === "position";
  return subjects.some((other) => isAbove(rig, node, other) && !(turnsItselfAlone && other === node));
}

/** A fault of keys that a check has found by trials of its own, with what these measured. */
export function keysFault(keys: readonly NoteKey[]): Fault {
  return { kind: "keys", keys: keys.map(({ frame: _, ...key }) => key) };
}

/** Shares that differ by less are alike: rounding must not say which key comes first. */
const alike = 1e-6;
/** A key that does less than this share of what the key beside it does is not named (our choice). */
const asMuch = 0.98;

/**
 * The keys of those that do most. A key beside one that does more on the same curve is not named: what is put right with
 * it is the way to that one.
 */
function named(suspects: Suspect[]): readonly NoteKey[] {
  suspects.sort((a, b) => Math.round((b.share - a.share) / alike));
  const told: Suspect[] = [];
  const keys: NoteKey[] = [];
  for (const suspect of suspects) {
    const { curve, first, last, share } = suspect;
    const isBeside = (other: Suspect) =>
      other.curve === curve && first <= other.last + 1 && other.first <= last + 1;
    if (told.some((other) => isBeside(other) && share < asMuch * other.share)) continue;
    if (told.some((other) => other.curve === curve && first <= other.last && other.first <= last)) continue;
    told.push(suspect);
    for (let index = first; index <= last && keys.length < mostKeys; index++) {
      const key = { node: curve.node, channel: curve.channel, index, frame: curve.frames[index] };
      keys.push(first === last ? { ...key, share: Math.min(1, share) } : key);
    }
  }
  return keys;
}

interface Candidate {
  readonly node: number;
  readonly curve: Curve;
  readonly name: string;
}

/** Curves that can move the fault's subject: those of its ancestors, or of all nodes of a figure with mass below. */
function candidateCurves(study: Study, fault: SeriesFault): Candidate[] {
  const rig = rigOf(study);
  const subjects = [fault.subject, ...(fault.others ?? [])];
  const nodes =
    fault.kind === "massCentre"
      ? massCarriers(study, fault.subject)
      : [...new Set(subjects.flatMap((node) => chainOf(rig, node)))];
  // A joint stays where it is when it turns.
  const movesOther = (node: number) => subjects.some((other) => other !== node && isAbove(rig, node, other));
  const curves: Candidate[] = [];
  for (const node of nodes) {
    if (fault.top !== undefined && !isAbove(rig, fault.top, node)) continue;
    for (const name of curveNamesOfNode(study, node)) {
      const curve = curveNear(study, name, fault);
      if (curve === null || curve.frames.length < 2) continue;
      const turnsOnly = curve.channel.startsWith("rotation") || curve.channel.startsWith("scale");
      if (turnsOnly && fault.kind === "position" && !movesOther(node)) continue;
      if (fault.kind === "orientation" && !curve.channel.startsWith("rotation")) continue;
      curves.push({ node, curve, name });
    }
  }
  return curves;
}

/** So many keys on either side of the frames of a fault are looked at; see `PutRight`. */
const keysBeside = 5;

/** A curve, of which trials of a fault look at the keys around it alone. */
function curveNear(study: Study, name: string, { lo, hi, from, to }: SeriesFault): Curve | null {
  const { definition } = curveOf;
  const { memo } = study;
  if (!memo.looksAtPart()) return curveOf(study, name);
  // Where it is not known yet how far they lie, no key hangs on it but that there are any.
  const curve = memo.readWithin(study, definition, name, Infinity, Infinity);
  if (curve === null) return null;
  const { frames, step } = gridOf(study);
  const first = Math.min(frames[lo], frames[from] - reach * step);
  const last = Math.max(frames[hi], frames[to] + reach * step);
  const before = firstKeyFrom(curve.frames, first - 1) - keysBeside;
  const after = firstKeyFrom(curve.frames, last + 1) + keysBeside;
  const near: Stretch = [
    before >= 0 ? curve.frames[before] : -Infinity,
    after < curve.frames.length ? curve.frames[after] : Infinity,
  ];
  return memo.readWithin(study, definition, name, near[0], near[1]);
}

function massCarriers(study: Study, figure: number): readonly number[] {
  const { nodes } = figuresOf(study)[figure];
  const shares = massSharesBelow(study, figure);
  return nodes.filter((node) => shares[node] >= leastMass);
}
