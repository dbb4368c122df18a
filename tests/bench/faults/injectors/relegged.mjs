/** Legs solved again under a body, or over feet, that an edit has moved: as an animator's rig would do it. */
import { legsUnder } from "../../../../demo/motion/biped.mjs";
import { curveAt, nameOf, rekeyed } from "../keyed.mjs";
import { facts } from "./places.mjs";

const axes = ["x", "y", "z"];

/**
 * @param {object} base one with an act
 * @param {object[]} changed curves of the body that the edit has changed
 * @param {{ from: number, to: number, foot?: (side: "l" | "r", frame: number, step: object) => object }} how frames in
 *   which the legs are solved again, and what the edit does to the feet
 * @returns {object[]} the changed curves and those of the legs
 */
export function relegged(base, changed, { from, to, foot = (_side, _frame, step) => step }) {
  const { act } = base;
  const all = new Map(base.curves);
  for (const curve of changed) all.set(nameOf(curve), curve);
  const feet = { l: (f) => foot("l", f, act.feet.l(f)), r: (f) => foot("r", f, act.feet.r(f)) };
  const { legs } = legsUnder({ ...act, feet }, from, to, [...all.values()]);
  const solved = Object.entries(legs).flatMap(([id, angles]) =>
    axes.flatMap((axis, n) => {
      const values = angles.map((one) => one[n]);
      const own = base.curves.get(`${id} rotation.${axis}`);
      if (own === undefined && values.every((value) => Math.abs(value - values[0]) < 0.01)) return [];
      return [
        patched(
          base,
          own ?? { node: id, channel: `rotation.${axis}`, interpolation: "linear", keys: [] },
          values,
          from,
        ),
      ];
    }),
  );
  return [...changed, ...solved];
}

/** A curve on ones with other values from a frame on. */
function patched(base, curve, values, from) {
  const { first, last } = facts(base);
  const to = from + values.length - 1;
  const keys = [];
  for (let frame = first; frame <= last; frame++) {
    const value =
      frame < from || frame > to
        ? curve.keys.length > 0
          ? curveAt(curve, frame)
          : values[0]
        : values[frame - from];
    keys.push({ frame, value });
  }
  return { ...curve, interpolation: "linear", keys };
}

/** Stretches in which a foot is planted, with the frames in which it is flat. */
export function plantsOf(base, side) {
  const { first, last } = facts(base);
  const plants = [];
  let from = -1;
  for (let frame = first; frame <= last + 1; frame++) {
    const planted = frame <= last && (base.act.feet[side](frame).planted ?? true);
    if (planted && from < 0) from = frame;
    if (planted || from < 0) continue;
    const flat = [];
    for (let f = from; f < frame; f++) if (Math.abs(base.act.feet[side](f).pitch) < 0.01) flat.push(f);
    plants.push({ side, from, to: frame - 1, flat });
    from = -1;
  }
  return plants;
}

/** Nodes of a leg. */
export const leg = (side) => new Set(["thigh", "shin", "foot", "toe"].map((part) => `${part}_${side}`));
export const hipsOrLegs = new Set(["hips", ...leg("l"), ...leg("r")]);

/** Minimum-jerk course of a move from 0 to 1 (Flash & Hogan 1985). */
export const eased = (t) => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 - 15 * t + 6 * t * t));

/** A percentage of the body's height, in the centimetres of the bases that have an act. */
export const centimetres = (base, percent) => percent * facts(base).stature;

/** Adds to the hips' place, and solves the legs again. */
export function withHips(base, from, to, by, how = {}) {
  const curves = ["x", "y", "z"].flatMap((axis, n) => {
    const curve = base.curves.get(`hips translation.${axis}`);
    return curve === undefined ? [] : [rekeyed(curve, from, to, (f) => curveAt(curve, f) + by(f)[n])];
  });
  return relegged(base, curves, { from, to, ...how });
}
