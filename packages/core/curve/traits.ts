import { measure } from "../base/study.ts";
import { curveOf } from "../document/inputs.ts";
import type { Curve } from "../document/model.ts";
import { stepMode } from "./keys.ts";

/** What can be said of a curve's keys at a glance: enough to tell most curves off before their keys are looked into. */
export interface CurveTraits {
  /** Smallest and largest value, of quaternions of any component; infinities where there are no keys. */
  readonly low: number;
  readonly high: number;
  /** Largest change of a value from a key to the next one. */
  readonly leap: number;
  /** Least distance between neighbouring keys in document frames; infinite where there are fewer than two. */
  readonly gap: number;
  /** Document frames from the first key to the last; 0 where there are none. */
  readonly span: number;
  /** Whether every key stands on a whole frame. */
  readonly isWhole: boolean;
  /** Whether any segment is a step. */
  readonly isStepped: boolean;
}

/** Traits of a curve by its name; null where there is none. One pass over the keys serves all that ask. */
export const curveTraitsOf = measure<string, CurveTraits | null>(
  "curve traits",
  (study, name) => {
    const curve = curveOf(study, name);
    return curve === null ? null : traitsOf(curve);
  },
  (a, b) =>
    a !== null &&
    b !== null &&
    a.low === b.low &&
    a.high === b.high &&
    a.leap === b.leap &&
    a.gap === b.gap &&
    a.span === b.span &&
    a.isWhole === b.isWhole &&
    a.isStepped === b.isStepped,
);

function traitsOf({ frames, values, width, modes }: Curve): CurveTraits {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let leap = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (value < low) low = value;
    if (value > high) high = value;
    if (i < width) continue;
    const change = Math.abs(value - values[i - width]);
    if (change > leap) leap = change;
  }
  let gap = Number.POSITIVE_INFINITY;
  let isWhole = true;
  let before = Number.NEGATIVE_INFINITY;
  for (let key = 0; key < frames.length; key++) {
    const frame = frames[key];
    if (frame !== (frame | 0)) isWhole = false;
    if (frame - before < gap) gap = frame - before;
    before = frame;
  }
  const span = frames.length === 0 ? 0 : frames[frames.length - 1] - frames[0];
  return { low, high, leap, gap, span, isWhole, isStepped: modes.includes(stepMode) };
}
