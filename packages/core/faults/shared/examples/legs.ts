import type { CurveDocument } from "../../../document/schema.ts";
import {
  bipedDocument,
  type Curves,
  type DocumentOptions,
  everyFrame,
  type Keyed,
  type Vector,
} from "./documents.ts";

/**
 * A biped whose legs follow from where its hips and its feet are: two-bone inverse kinematics on the plain biped of
 * `shots.ts`. Lengths are metres, angles degrees, y is up, it faces +z.
 */

/** Where an ankle is, how far the foot is pitched (toes down positive) and turned about the vertical; the toes' bend. */
export interface Foot {
  readonly at: Vector;
  readonly pitch?: number;
  readonly yaw?: number;
  readonly toes?: number;
}

/** A motion: hips and both feet by frame. */
export interface Motion {
  readonly first: number;
  readonly last: number;
  readonly hips: (frame: number) => Vector;
  readonly left: (frame: number) => Foot;
  readonly right: (frame: number) => Foot;
}

/** Height of the ankle of a foot that stands flat, and of the hips of the biped when its legs are nearly straight. */
export const ankleHeight = 0.09;
export const standingHips = 0.93;
/** Distance of a foot from the middle. */
export const halfStance = 0.1;

const boneLength = 0.42;
const hipDrop = 0.02;
export const degrees = 180 / Math.PI;

/** A foot that stands flat at a place. */
export function standing(
  side: "left" | "right",
  z = 0,
  x = side === "left" ? halfStance : -halfStance,
): Foot {
  return { at: [x, ankleHeight, z] };
}

/**
 * The biped in motion. Hips and legs are keyed on every frame; `curves` puts others in their place, or adds some, while
 * the legs stay as the motion has them: what is changed at the hips then moves the feet.
 */
export function motionDocument(
  motion: Motion,
  options: DocumentOptions = {},
  curves: Curves = {},
): CurveDocument {
  const { first, last } = motion;
  const axis = (index: 0 | 1 | 2) => everyFrame(first, last, (frame) => motion.hips(frame)[index]);
  const all: Record<string, Keyed> = {
    "hips translation.x": axis(0),
    "hips translation.y": axis(1),
    "hips translation.z": axis(2),
  };
  for (const [letter, side] of [
    ["l", "left"],
    ["r", "right"],
  ] as const) {
    const legs = new Map<number, Leg>();
    for (let frame = first; frame <= last; frame++) {
      legs.set(frame, legTo(motion.hips(frame), side, motion[side](frame)));
    }
    const keys = (value: (leg: Leg) => number) =>
      everyFrame(first, last, (frame) => value(legs.get(frame) as Leg));
    all[`thigh_${letter} rotation.x`] = keys((leg) => leg.thigh[0]);
    all[`thigh_${letter} rotation.z`] = keys((leg) => leg.thigh[1]);
    all[`shin_${letter} rotation.x`] = keys((leg) => leg.shin);
    all[`foot_${letter} rotation.x`] = keys((leg) => leg.foot[0]);
    all[`foot_${letter} rotation.y`] = keys((leg) => leg.foot[1]);
    all[`foot_${letter} rotation.z`] = keys((leg) => leg.foot[2]);
    all[`toes_${letter} rotation.x`] = everyFrame(first, last, (frame) => motion[side](frame).toes ?? 0);
  }
  return bipedDocument({ ...all, ...curves }, { range: [first, last], ...options });
}

interface Leg {
  /** About x and z. */
  readonly thigh: readonly [number, number];
  readonly shin: number;
  readonly foot: Vector;
}

/** Turns of a leg (degrees) that bring the ankle where it is asked for, or as near as the leg reaches. */
function legTo(hips: Vector, side: "left" | "right", { at, pitch = 0, yaw = 0 }: Foot): Leg {
  const x = at[0] - hips[0] - (side === "left" ? halfStance : -halfStance);
  const y = at[1] - hips[1] + hipDrop;
  const z = at[2] - hips[2];
  const reach = Math.min(Math.hypot(x, y, z), 2 * boneLength * 0.99999);
  const knee = Math.acos((reach * reach) / (2 * boneLength * boneLength) - 1);
  // With the thigh unturned the ankle would be at (0, down, back); turn it about z to get x, then about x.
  const down = -boneLength * (1 + Math.cos(knee));
  const back = -boneLength * Math.sin(knee);
  const aside = Math.asin(Math.max(-1, Math.min(1, -x / down)));
  const swing = Math.atan2(z, y) - Math.atan2(back, down * Math.cos(aside));
  const above = multiply(multiply(turnX(swing), turnZ(aside)), turnX(knee));
  const foot = multiply(transposed(above), multiply(turnY(yaw / degrees), turnX(pitch / degrees)));
  return {
    thigh: [wrapped(swing * degrees), aside * degrees],
    shin: knee * degrees,
    foot: [
      Math.atan2(-foot[1][2], foot[2][2]) * degrees,
      Math.asin(Math.max(-1, Math.min(1, foot[0][2]))) * degrees,
      Math.atan2(-foot[0][1], foot[0][0]) * degrees,
    ],
  };
}

function wrapped(angle: number): number {
  return angle - 360 * Math.round(angle / 360);
}

export type Matrix = readonly [Vector, Vector, Vector];

export function turnX(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [
    [1, 0, 0],
    [0, c, -s],
    [0, s, c],
  ];
}

function turnY(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [
    [c, 0, s],
    [0, 1, 0],
    [-s, 0, c],
  ];
}

function turnZ(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [
    [c, -s, 0],
    [s, c, 0],
    [0, 0, 1],
  ];
}

function multiply(a: Matrix, b: Matrix): Matrix {
  const row = (i: number): Vector => {
    const at = (j: number) => a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
    return [at(0), at(1), at(2)];
  };
  return [row(0), row(1), row(2)];
}

function transposed(a: Matrix): Matrix {
  return [
    [a[0][0], a[1][0], a[2][0]],
    [a[0][1], a[1][1], a[2][1]],
    [a[0][2], a[1][2], a[2][2]],
  ];
}

/** A key of a smooth curve: frame, value, slope on both sides in value per frame (flat if left out). */
export type SlopedKey = readonly [frame: number, value: number, slope?: number];

/** A curve through keys with slopes: as bezier keys with handles a third of the way, and as a function of the frame. */
export function curveThrough(keys: readonly SlopedKey[]): { keyed: Keyed; at: (frame: number) => number } {
  const keyed: Keyed = {
    interpolation: "bezier",
    keys: keys.map(([frame, value, slope = 0], i) => {
      const before = i > 0 ? (frame - keys[i - 1][0]) / 3 : 0;
      const after = i + 1 < keys.length ? (keys[i + 1][0] - frame) / 3 : 0;
      return [
        frame,
        value,
        { in: [before === 0 ? 0 : -before, before === 0 ? 0 : -slope * before], out: [after, slope * after] },
      ];
    }),
  };
  const at = (frame: number): number => {
    if (frame <= keys[0][0]) return keys[0][1];
    const i = keys.findIndex(([end]) => end >= frame);
    if (i < 0) return keys[keys.length - 1][1];
    const [f0, p0, m0 = 0] = keys[i - 1];
    const [f1, p1, m1 = 0] = keys[i];
    const span = f1 - f0;
    const t = (frame - f0) / span;
    // Cubic Hermite basis.
    return (
      (2 * t ** 3 - 3 * t ** 2 + 1) * p0 +
      (t ** 3 - 2 * t ** 2 + t) * span * m0 +
      (-2 * t ** 3 + 3 * t ** 2) * p1 +
      (t ** 3 - t ** 2) * span * m1
    );
  };
  return { keyed, at };
}

/** The same two metres over its floor, and adrift to the side, so that no foot is seen to stand on anything. */
export function adrift(document: CurveDocument): CurveDocument {
  const isAside = ({ node, channel }: CurveDocument["curves"][number]) =>
    node === "hips" && channel === "translation.x";
  const keys: [number, number][] = [
    [1, 0],
    [121, 1.2],
  ];
  return {
    ...document,
    surfaces: [{ id: "floor", normal: [0, 1, 0], height: -2 }],
    curves: [
      ...document.curves.filter((curve) => !isAside(curve)),
      { node: "hips", channel: "translation.x", interpolation: "linear", keys },
    ],
  };
}
