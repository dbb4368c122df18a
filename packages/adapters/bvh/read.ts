import type { Curve, FrameRate, ReadResult, Shot } from "@keyside/core";
import { rateOfFrameTime, rateOfNumber, writtenRate } from "../frame-rate.ts";
import { Problems } from "../problems.ts";
import { steadyAngle, steadyAngles } from "../steady-angles.ts";
import { plainZeros } from "../zeros.ts";
import { type Column, curveOfColumn, type Sampling } from "./curves.ts";
import { type Joint, readHierarchy } from "./hierarchy.ts";
import { type BvhMotion, readMotion } from "./motion.ts";

export interface BvhOptions {
  /** Frames per second at which the motion is taken over; the file's own rate if left out. */
  readonly rate?: number;
  /** Length of the file's unit; inferred from stature if left out. */
  readonly metresPerUnit?: number;
  /** What the shot is to be called. */
  readonly name?: string;
}

type NodeSpec = Shot["header"]["nodes"][number];

/** Rows are numbered from 1, as animators count frames. */
const firstFrame = 1;
/** Rate of a file that gives none, in frames per second; common practice. */
const rateWithoutFrameTime: FrameRate = { numerator: 30, denominator: 1 };

/**
 * Reads BVH motion capture (HIERARCHY and MOTION). Whatever is wrong in the text becomes a problem at its place, and
 * all that can be read is read: a bad number costs its channel one key, no more.
 *
 * Frames count from 1. Angles are degrees in the file's order of channels; those of a row's turn that are nearest to the
 * row before are taken (see {@link steadyAngles}), so that the way from row to row is the shorter one. With a rate,
 * frame f is the file's row 1 + (f − 1) · native/rate: rows as they are where that is whole, else interpolated between
 * the two rows around it. Each key keeps the place of its own (or nearest) row's number.
 */
export function readBvh(text: string, options: BvhOptions = {}): ReadResult {
  const problems = new Problems();
  if (text.trim() === "") {
    problems.add("empty-file", "The file is empty; a BVH file starts with HIERARCHY.");
    return { shot: null, problems: problems.all(), places: new Map() };
  }
  const { joints, motionAt } = readHierarchy(text, problems);
  if (joints.length === 0) {
    problems.add(
      "no-root",
      "There is no ROOT joint in this file; a BVH file starts with HIERARCHY and ROOT.",
    );
    return { shot: null, problems: problems.all(), places: new Map() };
  }
  const places = new Map<string, readonly [number, number]>();
  joints.forEach((joint, i) => {
    places.set(`nodes/${i}`, [joint.start, joint.end]);
    places.set(`nodes/${i}/id`, [joint.start, joint.end]);
  });
  const columns = joints.reduce((sum, joint) => sum + joint.channels.length, 0);
  if (motionAt < 0) {
    const message = "There is no MOTION section in this file; it has a skeleton only.";
    problems.add("no-motion", message, text.length, text.length);
  }
  const motion = motionAt < 0 ? null : readMotion(text, motionAt, columns, problems);
  if (motion !== null && motion.rows === 0) {
    problems.add(
      "no-frames",
      'The MOTION section has no frames: a row of numbers has to follow its "Frame Time:" line for each frame.',
      motionAt,
      motionAt,
    );
  }
  const native =
    motion === null || motion.frameTime === "" ? rateWithoutFrameTime : rateOfFrameTime(motion.frameTime);
  const rate = options.rate === undefined ? native : rateOfNumber(options.rate);
  const sampling = samplingOf(motion?.rows ?? 0, native, rate);
  const shot: Shot = {
    header: {
      format: "keyside.curves",
      version: 1,
      shot: { ...(options.name === undefined ? {} : { name: options.name }), frameRate: writtenRate(rate) },
      space: {
        ...(options.metresPerUnit === undefined ? {} : { metresPerUnit: options.metresPerUnit }),
        angle: "degrees",
      },
      nodes: joints.map((joint) => nodeOf(joint, joints)),
    },
    frameRate: rate,
    range: [firstFrame, firstFrame + Math.max(sampling.count - 1, 0)],
    curves: motion === null ? [] : curvesOf(joints, motion, sampling, text.length),
  };
  return { shot: plainZeros(shot), problems: problems.all(), places };
}

/** Rows per frame, and how many frames the rows make. */
function samplingOf(rows: number, native: FrameRate, rate: FrameRate): Sampling {
  const ratio = (native.numerator * rate.denominator) / (native.denominator * rate.numerator);
  const whole = Math.round(ratio);
  const step = whole > 0 && Math.abs(ratio / whole - 1) < 1e-9 ? whole : ratio;
  return { step, count: rows === 0 ? 0 : Math.floor((rows - 1) / step + 1e-9) + 1 };
}

function nodeOf(joint: Joint, joints: readonly Joint[]): NodeSpec {
  const order = [...joint.turns, ...(["x", "y", "z"] as const).filter((axis) => !joint.turns.includes(axis))];
  return {
    id: joint.id,
    ...(joint.parent < 0 ? {} : { parent: joints[joint.parent].id }),
    translation: joint.offset,
    ...(joint.turns.length > 0
      ? { rotationOrder: order.join("") as NonNullable<NodeSpec["rotationOrder"]> }
      : {}),
  };
}

function curvesOf(joints: readonly Joint[], motion: BvhMotion, sampling: Sampling, length: number): Curve[] {
  const curves: Curve[] = [];
  let index = 0;
  for (const joint of joints) {
    const start = index;
    index += joint.channels.length;
    const whole = holdsOffset(joint, motion, start);
    const angles = anglesOf(joint, motion, start);
    joint.channels.forEach((channel, k) => {
      if (channel === null) return;
      const values = angles.get(channel);
      const column: Column = {
        node: joint.id,
        channel,
        index: start + k,
        values,
        ...fit(joint, channel, whole),
      };
      const curve = curveOfColumn(motion, column, sampling, length);
      if (curve !== null) curves.push(curve);
    });
  }
  return curves;
}

/** Angles of a joint by channel, row by row, without jumps that its turn does not make. */
function anglesOf(joint: Joint, motion: BvhMotion, start: number): ReadonlyMap<string, Float64Array> {
  const angles = new Map<string, Float64Array>();
  for (const axis of joint.turns) {
    const channel = `rotation.${axis}` as const;
    const column = start + joint.channels.indexOf(channel);
    const rows = new Float64Array(motion.rows);
    for (let row = 0; row < motion.rows; row++) rows[row] = motion.values[row * motion.columns + column];
    angles.set(channel, rows);
  }
  const [a, b, c] = [...angles.values()];
  if (c !== undefined) steadyAngles(a, b, c);
  else for (const rows of angles.values()) steadyAngle(rows);
  return angles;
}

function fit(joint: Joint, channel: string, whole: boolean): Pick<Column, "add" | "rest"> {
  if (channel.startsWith("scale")) return { add: 0, rest: 1 };
  if (!channel.startsWith("translation")) return { add: 0, rest: 0 };
  const offset = joint.offset["xyz".indexOf(channel.slice(-1))];
  return { add: whole ? 0 : offset, rest: offset };
}

/**
 * Whether a joint's position channels hold its offset already. The format adds them to the OFFSET; many files repeat
 * the offset in them instead. They are taken for whole positions where they keep nearer to the offset than to 0.
 */
function holdsOffset(joint: Joint, motion: BvhMotion, start: number): boolean {
  let toOffset = 0;
  let toZero = 0;
  joint.channels.forEach((channel, k) => {
    if (channel === null || !channel.startsWith("translation")) return;
    const offset = joint.offset["xyz".indexOf(channel.slice(-1))];
    for (let row = 0; row < motion.rows; row++) {
      const value = motion.values[row * motion.columns + start + k];
      if (Number.isNaN(value)) continue;
      toOffset += Math.abs(value - offset);
      toZero += Math.abs(value);
    }
  });
  return toOffset < toZero;
}
