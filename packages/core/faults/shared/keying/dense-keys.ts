import type { Study } from "../../../base/study.ts";
import { cubicMode } from "../../../curve/keys.ts";
import type { KeyEdit, SetKey } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import type { FrameSpan } from "./keying.ts";
import { decimalsOf, rounded, toleranceOf } from "./precision.ts";
import type { Track } from "./track.ts";

/** A key that is off its course by less than this share of the tolerance stays as it is. */
const unseen = 0.2;

/** Gives the keys of a span the values of a course, and their handles, where they have any, its slopes. */
export function denseKeys(
  study: Study,
  { node, id, channel }: Track,
  curve: Curve,
  { from, to }: FrameSpan,
  course: (frame: number) => number,
): KeyEdit[] {
  const decimals = decimalsOf(study, node, channel);
  // What nobody sees changes no key.
  const least = Math.max(0.5 * 10 ** -decimals, unseen * toleranceOf(study, node, channel));
  const edits: KeyEdit[] = [];
  const { frames, values, handles } = curve;
  for (let key = 0; key < frames.length; key++) {
    const frame = frames[key];
    if (frame < from - 1e-6 || frame > to + 1e-6) continue;
    const value = course(frame);
    const slope = (course(frame + 0.5) - course(frame - 0.5)) / 1;
    const handle = handles === null ? undefined : handlesFor(curve, key, slope, decimals);
    if (Math.abs(value - values[key]) < least) continue;
    const edit: SetKey = { kind: "set", node: id, channel, frame, value: rounded(value, decimals) };
    edits.push(handle === undefined ? edit : { ...edit, handles: handle });
  }
  return edits;
}

/** Handles of a key on its course's slope, as long as they are; undefined where it has none. */
function handlesFor(curve: Curve, key: number, slope: number, decimals: number): SetKey["handles"] {
  const handles = curve.handles as Float64Array;
  const side = (at: number, mode: number) => {
    const [run, rise] = [handles[4 * key + at], handles[4 * key + at + 1]];
    if (Number.isNaN(rise)) return undefined;
    if (mode === cubicMode || Number.isNaN(run)) return rounded(slope, decimals + 1);
    return [run, rounded(slope * run, decimals)] as const;
  };
  const before = key > 0 ? side(0, curve.modes[key - 1]) : undefined;
  const after = side(2, curve.modes[key]);
  if (before === undefined && after === undefined) return undefined;
  return { ...(before === undefined ? {} : { in: before }), ...(after === undefined ? {} : { out: after }) };
}
