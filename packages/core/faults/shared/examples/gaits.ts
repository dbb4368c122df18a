import type { CurveDocument } from "../../../document/schema.ts";
import type { Curves, DocumentOptions, Vector } from "./documents.ts";
import {
  ankleHeight,
  curveThrough,
  degrees,
  type Foot,
  type Matrix,
  type Motion,
  motionDocument,
  type SlopedKey,
  standing,
  standingHips,
  turnX,
} from "./legs.ts";

/** Jumps and walks of the biped of `legs.ts`. */

export const g = 9.80665;

/** "24000/1001" → 23.976… */
export function rateOf(rate: number | string | undefined): number {
  if (typeof rate === "number") return rate;
  const [numerator, denominator = "1"] = (rate ?? "24").split("/");
  return Number(numerator) / Number(denominator);
}

export interface JumpOptions extends DocumentOptions {
  /** Frames at 24 per second from take-off to landing. */
  readonly air?: number;
  /** What pulls the body down in the air, m/s². */
  readonly gravity?: number;
  /** Height of the hips at take-off and landing; the legs are held as they are then while in the air. */
  readonly height?: number;
  /** Way along z over the flight, metres. */
  readonly forward?: number;
}

/** Landmarks of a jump, in frames. */
export interface Jump {
  readonly motion: Motion;
  /** Keys of the height of the hips, sparse: stand, crouch, take-off, landing, lowest, stand again. */
  readonly heightKeys: readonly SlopedKey[];
  readonly takeOff: number;
  readonly landing: number;
}

/**
 * A jump from both feet: a crouch, a push, a flight on a parabola with the body held as it is (so that its centre of
 * mass flies as the hips do), a landing taken up by the knees. Starts at frame 1.
 */
export function jump({ rate, air = 12, gravity = g, height = 0.88, forward = 0 }: JumpOptions = {}): Jump {
  const scale = Math.round(rateOf(rate)) / 24;
  const frame = (at24: number) => 1 + Math.round(at24 * scale);
  const low = Math.min(0.68, height - 0.2);
  const [crouch, takeOff] = [frame(18), frame(24)];
  const landing = takeOff + Math.round(air * scale);
  const [lowest, end] = [landing + Math.round(6 * scale), landing + Math.round(30 * scale)];
  const seconds = (landing - takeOff) / rateOf(rate);
  // Metres per frame: half of the flight's time against gravity.
  const speed = (gravity * seconds) / 2 / rateOf(rate);
  const heightKeys: SlopedKey[] = [
    [frame(6), standingHips],
    [crouch, low],
    [takeOff, height, speed],
    [landing, height, -speed],
    [lowest, low],
    [end, standingHips],
  ];
  const { at } = curveThrough(heightKeys);
  const along = (f: number) => forward * Math.min(1, Math.max(0, (f - takeOff) / (landing - takeOff)));
  const foot =
    (side: "left" | "right") =>
    (f: number): Foot => {
      const flat = standing(side, along(f));
      if (f <= takeOff || f >= landing) return flat;
      return { at: [flat.at[0], ankleHeight + at(f) - height, flat.at[2]] };
    };
  const motion: Motion = {
    first: 1,
    last: end + Math.round(6 * scale),
    hips: (f) => [0, at(f), along(f)],
    left: foot("left"),
    right: foot("right"),
  };
  return { motion, heightKeys, takeOff, landing };
}

/** A jump as a document; the height of the hips has the sparse keys of {@link Jump.heightKeys}. */
export function jumpDocument(options: JumpOptions = {}, curves: Curves = {}): CurveDocument {
  const { motion, heightKeys } = jump(options);
  const { keyed } = curveThrough(heightKeys);
  return motionDocument(motion, options, { "hips translation.y": keyed, ...curves });
}

/** The jump with other heights of the hips; the legs follow, so that the feet go where they went. */
export function jumpWithHips(options: JumpOptions, keys: readonly SlopedKey[]): CurveDocument {
  const { motion } = jump(options);
  const { keyed, at } = curveThrough(keys);
  const hips = (frame: number): Vector => [motion.hips(frame)[0], at(frame), motion.hips(frame)[2]];
  return motionDocument({ ...motion, hips }, options, { "hips translation.y": keyed });
}

/** The ball of the foot and the back of the heel, from the ankle, in the foot's own axes. */
const ballFromAnkle: Vector = [0, -0.06, 0.14];
const heelFromAnkle: Vector = [0, -ankleHeight, -0.05];

/** A foot at `z` that is pitched about its ball (toes stay flat) or, with a negative pitch, about its heel. */
export function rolled(side: "left" | "right", z: number, pitch: number): Foot {
  const { at } = standing(side, z);
  const pivot = pitch > 0 ? ballFromAnkle : heelFromAnkle;
  const [, y, back] = apply(turnX(pitch / degrees), pivot);
  return {
    at: [at[0], at[1] + pivot[1] - y, at[2] + pivot[2] - back],
    pitch,
    toes: pitch > 0 ? -pitch : 0,
  };
}

function apply(matrix: Matrix, v: Vector): Vector {
  const row = (i: number) => matrix[i][0] * v[0] + matrix[i][1] * v[1] + matrix[i][2] * v[2];
  return [row(0), row(1), row(2)];
}

export interface WalkOptions extends DocumentOptions {
  readonly steps?: number;
  /** Metres from one footprint to the next one of the other foot. */
  readonly stepLength?: number;
  /** Frames at 24 per second of a step. */
  readonly stepFrames?: number;
  /** Highest pitch of the foot at push-off, degrees; 0 walks on flat feet. */
  readonly roll?: number;
  /** Frames at 24 per second by which the hips' rise and fall comes after the feet. */
  readonly delay?: number;
}

/**
 * A walk at an even speed along z: heel strike, a flat foot, a roll over the ball, a swing. The hips are lowest while
 * both feet stand, and sway to the side that carries. The left foot stands first, under the hips at frame 1.
 */
export function walk(options: WalkOptions = {}): Motion {
  const { rate, steps = 6, stepLength = 0.5, stepFrames = 12, roll = 35, delay = 1.5 } = options;
  const frames = (stepFrames * Math.round(rateOf(rate))) / 24;
  const phase = (frame: number) => (frame - 1) / frames;
  const hips = (frame: number): Vector => {
    const p = phase(frame);
    return [
      0.02 * Math.cos(Math.PI * p),
      0.9 + 0.015 * Math.cos(2 * Math.PI * (p - delay / stepFrames)),
      stepLength * p,
    ];
  };
  const foot =
    (side: "left" | "right") =>
    (frame: number): Foot => {
      // Steps since this foot last stood under the hips: from −0.5 (it lands) over 0.75 (it leaves) to 1.5.
      const own = phase(frame) - (side === "left" ? 0 : 1);
      const cycle = Math.floor((own + 0.5) / 2);
      const q = own - 2 * cycle;
      const z = stepLength * (2 * cycle + (side === "left" ? 0 : 1));
      const heel = roll > 0 ? -15 : 0;
      if (q < -0.3) return rolled(side, z, heel * (1 - (q + 0.5) / 0.2));
      if (q < 0.35) return standing(side, z);
      const smooth = (t: number) => t * t * (3 - 2 * t);
      if (q < 0.75) return rolled(side, z, roll * smooth((q - 0.35) / 0.4));
      const from = rolled(side, z, roll);
      const to = rolled(side, z + 2 * stepLength, heel);
      const t = (q - 0.75) / 0.75;
      const mix = (a: number, b: number) => a + (b - a) * smooth(t);
      return {
        at: [
          from.at[0],
          mix(from.at[1], to.at[1]) +
            0.06 * Math.sin(Math.PI * t) ** 2 +
            (roll > 0 ? 0 : 0.02 * Math.sin(Math.PI * t)),
          mix(from.at[2], to.at[2]),
        ],
        pitch: mix(roll, heel),
        toes: mix(-roll, 0),
      };
    };
  return { first: 1, last: 1 + Math.round(steps * frames), hips, left: foot("left"), right: foot("right") };
}

/** A walk ({@link walk}) as a document. */
export function walkDocument(options: WalkOptions = {}, curves: Curves = {}): CurveDocument {
  return motionDocument(walk(options), options, curves);
}
