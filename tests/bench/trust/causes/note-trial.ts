import {
  type Contact,
  type Curve,
  chainOf,
  interpolations,
  type Note,
  type NoteKey,
  type ResolvedSettings,
  type Shot,
  ShotSession,
  type Study,
  sameNumbers,
} from "@keyside/core";
import { agreeWithin, type Recompute } from "../../../core/recomputed/shared/compare.ts";
import { Sampled } from "../../../core/recomputed/shared/sampled.ts";
import { soleHeightsOver } from "../../../core/recomputed/shared/sole-heights.ts";
import { putRight, runPutRight } from "./put-right.ts";

/**
 * What putting keys right does to the number of a note: the key that it names first against those that it does not name.
 * The number is computed again by the note's recomputer, from the poses of the changed shot.
 */

/** Frames, at 24 per second, around a note in which keys that it does not name are put right. */
const around = 4;
/** At most so many of them are tried, drawn by lot. */
const mostControls = 40;
/** Frames, at 24 per second, up to which a fault stands at a point: what lasts longer than a second is made by many keys. */
const longest = 24;

export interface NoteTrial {
  readonly note: Note;
  /** Its number, computed again. */
  readonly before: number;
  /** How far it comes towards what is expected, in its own unit: by the key named first, and at most by another. */
  readonly first: number;
  readonly control: number;
  /** The key of {@link control}. */
  readonly rival: NoteKey | null;
  /** Changed shots of which the number was computed; 0 where the note is longer than a point fault. */
  readonly tried: number;
  /** Whether the first key stands on a curve with a key on every frame. */
  readonly isDense: boolean;
  /** Milliseconds. */
  readonly took: number;
}

/** Random numbers that are the same for the same seed. */
export interface Lot {
  shuffled<T>(list: readonly T[]): T[];
}

/** Tries a note's keys, and others. */
export function noteTrial(
  shot: Shot,
  study: Study,
  settings: ResolvedSettings,
  note: Note,
  recompute: Recompute,
  lot: Lot,
): NoteTrial {
  const started = performance.now();
  const sampled = new Sampled(shot, study);
  const before = numberOf(note, sampled, recompute);
  const untried = { note, before, first: 0, control: 0, rival: null, tried: 0, isDense: false, took: 0 };
  const [first] = note.keys;
  if (!Number.isFinite(before) || isLong(note, sampled) || isOverPoses(note, shot)) return untried;
  const towards = note.expected.max === undefined ? 1 : -1;
  const session = new ShotSession(shot, settings, true);
  let tried = 0;
  const gainOf = ({ node, channel, index, last }: KeyRun): number => {
    const at = shot.curves.findIndex((curve) => curve.node === node && curve.channel === channel);
    const curve = shot.curves[at];
    const ways = last > index ? runPutRight(curve, index, last) : putRight(curve, index, sampled.step);
    const now = sampled.values(curve);
    const gains = ways.map((changedCurve) => {
      // Most channels hold still: what changes no value changes no number.
      if (sameNumbers(sampled.values(changedCurve), now)) return 0;
      tried++;
      const changed: Shot = { ...shot, curves: shot.curves.with(at, changedCurve) };
      session.takeShot(changed);
      const other = new Changed(changed, session.study, sampled);
      const after = numberOf(withSole(note, sampled, other), other, recompute);
      return Number.isFinite(after) ? towards * (after - before) : 0;
    });
    return Math.max(0, ...gains);
  };
  const named = new Set(note.keys.map(nameOf));
  const namedCurves = new Set(note.keys.map(curveOf));
  const others = keysAround(note, sampled).filter((key) =>
    key.last > key.index ? !namedCurves.has(curveOf(key)) : !named.has(nameOf(key)),
  );
  const controls = lot.shuffled(others).slice(0, mostControls);
  const gains = controls.map(gainOf);
  const control = Math.max(0, ...gains);
  const rival = control > 0 ? controls[gains.indexOf(control)] : null;
  // A note that names no key stands behind any that does something.
  const ours = first === undefined ? 0 : gainOfNamed(note, gainOf);
  const isDense =
    first !== undefined && isKeyedDensely(sampled.curve(first.node, first.channel), first, sampled);
  return { ...untried, first: ours, control, rival, tried, isDense, took: performance.now() - started };
}

/** What the key named first does, or the run that begins with it. */
function gainOfNamed(note: Note, gainOf: (run: KeyRun) => number): number {
  const run = runNamed(note);
  const alone = gainOf({ ...run, last: run.index });
  return run.last > run.index ? Math.max(alone, gainOf(run)) : alone;
}

function isLong({ frames: [from, to] }: Note, { rate, step }: Sampled): boolean {
  return to - from > (longest * rate * step) / 24;
}

/** Whether a note lasts over several poses in step keys: the keys of each make it, and one alone puts right a part. */
function isOverPoses({ frames: [from, to], keys: [first] }: Note, { curves }: Shot): boolean {
  const curve = curves.find(({ node, channel }) => node === first?.node && channel === first.channel);
  if (first === undefined || curve?.modes[first.index] !== interpolations.indexOf("step")) return false;
  return curve.frames.filter((frame) => frame >= from && frame <= to).length > 1;
}

/** Whether the next key stands on the next judged frame, or the one before on that before. */
function isKeyedDensely({ frames }: Curve, { index }: NoteKey, { step }: Sampled): boolean {
  const next =
    index + 1 < frames.length ? frames[index + 1] - frames[index] : frames[index] - frames[index - 1];
  return next <= 1.001 * step;
}

/** Keys of one channel that follow each other, from `index` to `last`: one, or those of a stretch together. */
interface KeyRun extends NoteKey {
  readonly last: number;
}

/** The keys that a note names first, as long as they follow each other on one curve within its frames. */
function runNamed({ keys, frames }: Note): KeyRun {
  const [first] = keys;
  let count = 1;
  while (
    keys[count] !== undefined &&
    curveOf(keys[count]) === curveOf(first) &&
    keys[count].index === first.index + count &&
    keys[count].frame <= frames[1] + 0.5
  )
    count++;
  return { ...first, last: first.index + count - 1 };
}

export type Verdict = "most" | "tie" | "less" | "no key alone";

/**
 * Whether the first key changes the number most, ties with a key that is not named, or changes it less; or no single
 * key, nor a run of them, changes it by more than a share, so that the cause is no key but a span.
 */
export function verdictOf({ first, control, before, note: { expected } }: NoteTrial): Verdict {
  const more = Math.max(first, control);
  if (!(more > leastGain * Math.max(before, expected.max ?? expected.min ?? 0))) return "no key alone";
  if (Math.abs(first - control) <= agreeWithin * more) return "tie";
  return first > control ? "most" : "less";
}

/** A key that changes less than this share of a number is no help with it (our choice). */
const leastGain = 0.1;

const curveOf = ({ node, channel }: NoteKey) => `${node} ${channel}`;
const nameOf = (key: NoteKey) => `${curveOf(key)} ${key.index}`;

function numberOf(note: Note, shot: Sampled, recompute: Recompute): number {
  try {
    return recompute(note, shot);
  } catch {
    return Number.NaN;
  }
}

/** Keys of all channels that move the note's node, within its frames and a few around them; and those within together. */
function keysAround(note: Note, shot: Sampled): KeyRun[] {
  const reach = (around * shot.rate * shot.step) / 24;
  const [from, to] = note.frames;
  return chainOf(shot.rig, shot.nodeOf(note)).flatMap((node) =>
    shot.curvesOf(node).flatMap((curve) => {
      const within = keysOf(curve, from - 0.5, to + 0.5);
      const near = keysOf(curve, from - reach, to + reach);
      const all = near.length > 0 ? near : keysBeside(curve, from);
      const runs = within.length > 1 ? [{ ...within[0], last: within[within.length - 1].index }] : [];
      return [...all.map((key) => ({ ...key, last: key.index })), ...runs];
    }),
  );
}

/** Keys between two frames. */
function keysOf(curve: Curve, from: number, to: number): NoteKey[] {
  return keysIn(curve).filter(({ frame }) => frame >= from && frame <= to);
}

/** The two keys beside a frame. */
function keysBeside(curve: Curve, at: number): NoteKey[] {
  const all = keysIn(curve);
  return [all.findLast(({ frame }) => frame < at), all.find(({ frame }) => frame >= at)].filter(
    (key) => key !== undefined,
  );
}

const keysIn = ({ node, channel, frames }: Curve): NoteKey[] =>
  Array.from(frames, (frame, index) => ({ node, channel, frame, index }));

/** A changed shot; what stands where is as in the one that it was made from. */
class Changed extends Sampled {
  private readonly original: Sampled;
  constructor(shot: Shot, study: Study, original: Sampled) {
    super(shot, study);
    this.original = original;
  }
  override contacts(figure: number): readonly Contact[] {
    return this.original.contacts(figure);
  }
  override stature(node: number): number {
    return this.original.stature(node);
  }
}

/** The note with the heights of its sole in the changed shot. */
function withSole(note: Note, original: Sampled, changed: Sampled): Note {
  const [evidence] = note.evidence;
  if (!/^(off|through)-ground$/.test(note.check)) return note;
  return { ...note, evidence: [{ ...evidence, values: soleHeightsOver(note, original, changed) }] };
}
