import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { sampleCurve } from "../../../curve/evaluate.ts";
import { cubicMode } from "../../../curve/keys.ts";
import { type KeyEdit, type SetKey, tryEditShot } from "../../../document/edit.ts";
import type { Curve, Shot } from "../../../document/model.ts";
import type { FrameSpan, Keying } from "./keying.ts";
import { rounded, toleranceOf } from "./precision.ts";
import type { Course, Track } from "./track.ts";

/** Decimals of a quaternion's numbers: a turn by a thousandth of a degree shows in the fifth. */
const decimals = 6;

/**
 * Makes quaternion keys follow a course of turns. Keys that are there take its turns; where they are sparse, keys come
 * in where it is missed most. Slopes of cubic keys that change are left to be worked out.
 */
export function turnKeys(
  study: Study,
  track: Track,
  curve: Curve,
  { from, to }: FrameSpan,
  keying: Keying,
  course: Course,
  loose: number,
): KeyEdit[] {
  const { node, id, channel } = track;
  // The tolerance of a quaternion's number is that of half an angle.
  const tolerance = 2 * loose * toleranceOf(study, node, channel);
  const { frames, values } = curve;
  const edits: SetKey[] = [];
  const turn = new Float64Array(4);
  const set = (frame: number, source: number) => {
    course(frame, turn);
    if (source >= 0) {
      const same = angleBetween(turn, 0, values, 4 * source) < 1e-5;
      if (same) return;
      // q and −q are one turn: keep the sign of the key that is there.
      let dot = 0;
      for (let k = 0; k < 4; k++) dot += turn[k] * values[4 * source + k];
      if (dot < 0) for (let k = 0; k < 4; k++) turn[k] = -turn[k];
    }
    const value = [...turn].map((number) => rounded(number, decimals)) as [number, number, number, number];
    const edit: SetKey = { kind: "set", node: id, channel, frame, value };
    const isCubic = curve.handles !== null && (source < 0 || curve.modes[source] === cubicMode);
    edits.push(isCubic ? { ...edit, handles: { in: null, out: null } } : edit);
  };
  frames.forEach((frame, source) => {
    if (frame >= from - 1e-6 && frame <= to + 1e-6) set(frame, source);
  });
  if (keying === "dense" || keying === "step") return edits;
  const shot = {
    header: { nodes: [{ id }] } as Shot["header"],
    frameRate: { numerator: 24, denominator: 1 },
    range: [0, 0] as const,
    curves: [curve],
  };
  const taken = new Set<number>([...frames, ...edits.map(({ frame }) => frame)]);
  const made = new Float64Array(4);
  for (;;) {
    const edited = tryEditShot(shot, edits).shot.curves[0];
    let most = tolerance;
    let worst: number | null = null;
    for (let frame = Math.ceil(from); frame <= to; frame++) {
      if (taken.has(frame)) continue;
      course(frame, turn);
      sampleCurve(edited, Float64Array.of(frame), made);
      const off = angleBetween(turn, 0, made, 0);
      if (off <= most) continue;
      most = off;
      worst = frame;
    }
    if (worst === null) return edits;
    taken.add(worst);
    set(worst, -1);
  }
}
