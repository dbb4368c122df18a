import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  ankleHeight,
  type DocumentOptions,
  degrees,
  eased,
  halfStance,
  jumpDocument,
  type Motion,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { legSnap } from "./check.ts";

/** Someone who stands up to a height of the hips: the legs are straight at 0.95 m. */
export const risen = (
  height: (frame: number) => number,
  options: DocumentOptions = {},
  motion: Partial<Motion> = {},
): CurveDocument =>
  motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [0, height(frame), 0],
      left: () => standing("left"),
      right: () => standing("right"),
      ...motion,
    },
    options,
  );

/** Hips that go on rising evenly after the legs are straight. */
export const overreaching = (frame: number): number => 0.85 + 0.0127 * Math.max(0, Math.min(frame - 12, 12));

/** Hips that rise evenly and ease off before the legs are straight. */
const easing = eased(10, 30, 0.85, 0.93);

/** The right heel goes up with the hips, so that this knee keeps its bend. */
const heelUp = { right: (frame: number) => rolled("right", 0, eased(12, 20, 0, 40)(frame)) };

/** Bend of a knee under hips at a height, degrees: the law of cosines between bones of one length, nearly stretched. */
const bend = (height: number) => 2 * Math.acos(Math.min(0.99999, (height - 0.11) / 0.84)) * degrees;

/** Hips under which the legs lose their last 24° of bend evenly within some frames, and which stand then. */
const straightening =
  (frames: number) =>
  (frame: number): number => {
    const left = 24 * Math.min(1, Math.max(0, (20 + frames - frame) / frames)) + 1;
    return 0.11 + 0.84 * Math.cos(left / 2 / degrees);
  };

/** The same, and the body leaves the ground with both feet as the legs are straight. */
const pushedOff = (): CurveDocument => {
  const off = (frame: number) => 0.08 * Math.max(0, frame - 24);
  const foot = (x: number) => (frame: number) => ({
    at: [x, ankleHeight + off(frame), 0] as [number, number, number],
  });
  const height = (frame: number) => straightening(4)(frame) + off(frame);
  return risen(height, {}, { left: foot(halfStance), right: foot(-halfStance) });
};

/** Legs with a bend, of which the left one is straight for a frame. */
function straightened(): CurveDocument {
  const bent = risen(() => 0.9);
  const curves = bent.curves.map((curve) =>
    curve.channel === "rotation.x" && (curve.node === "shin_l" || curve.node === "thigh_l")
      ? { ...curve, keys: curve.keys.map((key): typeof key => (key[0] === 24 ? [24, 0] : key)) }
      : curve,
  );
  return { ...bent, curves };
}

/**
 * Hips that sink by 2 cm a frame until the legs are nearly straight over the ground on frame 22, and go on; the feet come
 * down to there within a frame, or have stood there all the time.
 */
function sinking(stood: boolean): CurveDocument {
  const height = (frame: number) => 0.945 - 0.02 * Math.min(3, Math.max(-6, frame - 22));
  const lowest = (frame: number) => (stood && frame < 22 ? height(44 - frame) : height(frame));
  // Legs under the hips' joints, 2 cm lower, that are bent by 38° in the air.
  const lift = (frame: number) => (stood || frame >= 22 ? 0 : height(frame) - 0.02 - 0.795 - ankleHeight);
  const foot = (x: number) => (frame: number) => ({
    at: [x, ankleHeight + lift(frame), 0] as [number, number, number],
  });
  return risen(lowest, {}, { left: foot(halfStance), right: foot(-halfStance) });
}

const kick = (): CurveDocument =>
  risen(
    () => 0.9,
    {},
    {
      right: (frame) => {
        const out = Math.max(0, Math.min(1, (frame - 20) / 3));
        return { at: [-0.1, 0.35 + 0.15 * out, 0.2 + 0.6 * out] };
      },
    },
  );

export const legSnapExamples = defineExamples(legSnap, {
  faulty: [
    {
      title: "a knee that snaps as the hips rise beyond the leg",
      motion: () => risen(overreaching, {}, heelUp),
      right: () => risen(easing, {}, heelUp),
      // The leg is at its full length where the hips reach 0.95 m, between frames 19 and 20.
      note: {
        node: "shin_l",
        frames: [20, 20],
        // The hips rise too far, and the leg is solved to reach; what bends the knee is its own key.
        key: { node: "shin_l", channel: "rotation.x", frame: 20 },
        measured: (bend(overreaching(19)) - bend(0.96)) / 2,
      },
    },
    {
      title: "a leg that is straight for one frame",
      motion: straightened,
      right: () => risen(() => 0.9),
      note: {
        node: "shin_l",
        frames: [24, 24],
        key: { node: "shin_l", channel: "rotation.x", frame: 24 },
        measured: bend(0.9),
      },
    },
    {
      title: "a knee that straightens by 12° within two frames and stops",
      motion: () => risen(straightening(4), {}, heelUp),
      right: () => risen(easing, {}, heelUp),
      note: {
        node: "shin_l",
        frames: [22, 24],
        key: { node: "shin_l", channel: "rotation.x" },
        measured: 12,
      },
    },
  ],
  silent: [
    { title: "legs that ease into their length", motion: () => risen(eased(10, 30, 0.8, 0.93)) },
    {
      title: "a knee that straightens as far within eight frames",
      motion: () => risen(straightening(8), {}, heelUp),
      unexcused: () => risen(straightening(4), {}, heelUp),
    },
    {
      title: "a push that takes the foot off the ground",
      motion: pushedOff,
      unexcused: () => risen(straightening(4), {}, heelUp),
    },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a jump", motion: () => jumpDocument() },
    { title: "a kick in the air", motion: kick },
    {
      title: "a landing on straight legs, which give within a frame",
      motion: () => jumpDocument({ height: 0.95, range: [28, 73] }),
      // Seen from the landing on, there is none.
      unexcused: () => jumpDocument({ height: 0.95, range: [37, 73] }),
    },
    {
      title: "legs that reach for the ground as the body comes down, and give under it",
      motion: () => sinking(false),
      unexcused: () => sinking(true),
    },
    { title: "legs that are straight and stay straight", motion: () => risen(() => 0.96) },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "shin_r",
    frames: [66, 66],
    slip: "in the first version the right leg comes to its full length on the way to the ground, and the knee jumps",
  },
  picture: { draws: "figure", seen: "side", at: [16, 18, 20], only: ["thigh_l"] },
});
