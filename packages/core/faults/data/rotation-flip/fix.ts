import type { Study } from "../../../base/study.ts";
import type { KeyEdit, KeyHandle, SetKey } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { rotationOrders } from "../../../document/schema.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { type Flip, type RotationFlipFinding, rotationFlip } from "./check.ts";

export const rotationFlipFix = defineFix(rotationFlip, {
  what: "Takes whole turns off the keys behind a flip, or adds them to those before it, or keys the same poses in nearer angles: the poses stay, the spin goes.",
  title: ({ keys, frames }) =>
    `take the spin out of ${keys[0]?.node ?? "the joint"} before frame ${frames[1]}: the same poses in nearer angles`,
  *propose({ study, finding, node }) {
    if (node < 0) return;
    const [{ since }] = finding.flips;
    if (since !== undefined) {
      yield* withoutBakedTurn(study, node, finding.flips[0], since);
      return;
    }
    const other = otherAngles(study, node, finding);
    const isNearer = other !== null && other.apart < apartInTurns(study, finding);
    if (other !== null && isNearer) yield* other.ways();
    const axes = finding.flips.map(({ curve, key }) => {
      const decimals = decimalsOf(study, node, curve.channel);
      return runsToTurn(study, curve, key).map((run) => ({
        curve,
        key,
        edits: turned(curve, run, decimals),
        decimals,
      }));
    });
    // Each axis has its ways, the one with the fewest keys first; the axes go through theirs together.
    const ways = Array.from({ length: Math.max(...axes.map(({ length }) => length)) }, (_, way) =>
      axes.flatMap((axis) => axis.slice(Math.min(way, axis.length - 1))[0] ?? []),
    );
    for (const steepness of [onward, null, level]) {
      for (const way of ways)
        yield way.flatMap(({ edits, curve, key, decimals }) =>
          steepness === null ? edits : withHandles(edits, curve, key, steepness, decimals),
        );
    }
    if (other !== null && !isNearer) yield* other.ways();
  },
});

/**
 * A turn that is keyed frame by frame, taken out: the keys on its way lead straight on, and all on one side of it are turned
 * back, the side with fewer keys first.
 */
function* withoutBakedTurn(
  study: Study,
  node: number,
  { curve, key }: Flip,
  since: number,
): Generator<KeyEdit[]> {
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  const { values, frames, channel } = curve;
  const turns = Math.round((values[key] - values[since]) / circle) * circle;
  const decimals = Math.max(decimalsOf(study, node, channel), 6);
  const sides = [
    { first: key, last: frames.length - 1, by: -turns },
    { first: 0, last: since, by: turns },
  ].sort((a, b) => a.last - a.first - (b.last - b.first));
  for (const side of sides) {
    const start = values[since] + (side.first === 0 ? turns : 0);
    const end = values[key] - (side.first === 0 ? 0 : turns);
    const way: SetKey[] = [];
    for (let k = since + 1; k < key; k++) {
      const share = (frames[k] - frames[since]) / (frames[key] - frames[since]);
      const value = rounded(start + share * (end - start), decimals);
      way.push({ kind: "set", node: curve.node, channel, frame: frames[k], value });
    }
    yield [...turned(curve, side, decimals), ...way];
  }
}

/** How far the axes of a flip are still apart once whole turns are taken off, document units. */
function apartInTurns(study: Study, { flips }: RotationFlipFinding): number {
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  return flips.reduce((sum, { curve: { values }, key }) => {
    const apart = values[key] - values[key - 1];
    return sum + Math.abs(apart - Math.round(apart / circle) * circle);
  }, 0);
}

/**
 * The poses behind a flip in the other angles that give them: half a turn more on the first and last axis that are turned
 * about, and the middle one mirrored. Whole turns bring each near to the key on the other side.
 */
function otherAngles(
  study: Study,
  node: number,
  { flips }: RotationFlipFinding,
): { readonly apart: number; ways(): Generator<KeyEdit[]> } | null {
  const [{ curve: lead, key }] = flips;
  const frame = lead.frames[key];
  const middle = rotationOrders[rigOf(study).order[node]][1];
  const curves = (["x", "y", "z"] as const).flatMap(
    (axis) => curveOf(study, curveName(lead.node, `rotation.${axis}`)) ?? [],
  );
  const axes = curves.map((curve) => ({
    curve,
    at: curve.frames.indexOf(frame),
    isMiddle: curve.channel.endsWith(middle),
    decimals: Math.max(decimalsOf(study, node, curve.channel), 6),
  }));
  // All three angles of a pose have to be keyed together to be read in other ones.
  if (axes.length < 3 || axes.some(({ at }) => at < 1)) return null;
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  const apart = axes.reduce((sum, { curve: { values }, at, isMiddle }) => {
    const other = otherReading(values[at], values[at - 1], circle, isMiddle);
    return sum + Math.abs(other - values[at - 1]);
  }, 0);
  const end = endOfFlip(lead, key, circle);
  const behind = { from: frame, to: end ?? Number.POSITIVE_INFINITY };
  const keysIn = ({ from, to }: Run) =>
    curves.reduce((sum, { frames }) => sum + frames.filter((one) => one >= from && one <= to).length, 0);
  // What stands before the flip may be read anew as well, where that is less.
  const runs =
    end === null
      ? [behind, { from: Number.NEGATIVE_INFINITY, to: frame - 1e-6 }].sort((a, b) => keysIn(a) - keysIn(b))
      : [behind];
  return {
    apart,
    *ways() {
      for (const run of runs) yield axes.flatMap((axis) => readAnew(axis, frame, run, circle));
    },
  };
}

/** An angle of a pose in the other reading, near another angle. */
function otherReading(value: number, near: number, circle: number, isMiddle: boolean): number {
  const other = isMiddle ? circle / 2 - value : value + circle / 2;
  return other + Math.round((near - other) / circle) * circle;
}

/** The last frame before a curve flips back; null where it does not. */
function endOfFlip({ values, frames }: Curve, key: number, circle: number): number | null {
  const way = Math.sign(values[key] - values[key - 1]);
  for (let k = key + 1; k < values.length; k++) {
    if (way * (values[k - 1] - values[k]) > circle / 4) return frames[k - 1];
  }
  return null;
}

/** Frames, both included. */
interface Run {
  readonly from: number;
  readonly to: number;
}

interface Axis {
  readonly curve: Curve;
  /** The key at which the joint flips. */
  readonly at: number;
  readonly isMiddle: boolean;
  readonly decimals: number;
}

/** The keys of an axis over some frames in the other reading; handles at the ends of those lead on as they came. */
function readAnew(
  { curve, at, isMiddle, decimals }: Axis,
  frame: number,
  { from, to }: Run,
  circle: number,
): SetKey[] {
  const { node, channel, frames, values } = curve;
  const [inner, outer] = to < frame ? [at - 1, at] : [at, at - 1];
  const first = otherReading(values[inner], values[outer], circle, isMiddle);
  const sign = isMiddle ? -1 : 1;
  const isIn = (key: number) => frames[key] >= from && frames[key] <= to;
  const isJoint = (key: number) => key > 0 && key < frames.length && isIn(key) !== isIn(key - 1);
  const edits: SetKey[] = [];
  for (let key = 0; key < frames.length; key++) {
    const joints = [isJoint(key), isJoint(key + 1)] as const;
    if (!isIn(key) && !joints[0] && !joints[1]) continue;
    const value = isIn(key) ? rounded(first + sign * (values[key] - values[inner]), decimals) : values[key];
    const handles = handlesAnew(curve, key, isIn(key) ? sign : 1, joints, decimals);
    edits.push({ kind: "set", node, channel, frame: frames[key], value, ...handles });
  }
  return edits;
}

/**
 * Handles of a key that is read anew. One that was drawn for the long way round would throw the curve out: it goes on as
 * the one on the other side of its key.
 * @param sign by which slopes are turned @param joints whether the way in, and out, is the long one
 */
function handlesAnew(
  { handles }: Curve,
  key: number,
  sign: number,
  joints: readonly [boolean, boolean],
  decimals: number,
): Pick<SetKey, "handles"> {
  if (handles === null) return {};
  const made: { in?: KeyHandle; out?: KeyHandle } = {};
  for (const [side, name] of (["in", "out"] as const).entries()) {
    const [run, rise] = handles.subarray(4 * key + 2 * side, 4 * key + 2 * side + 2);
    const [otherRun, otherRise] = handles.subarray(4 * key + 2 - 2 * side, 4 * key + 4 - 2 * side);
    if (Number.isNaN(rise)) continue;
    const isSlope = Number.isNaN(run);
    const slope = isSlope ? otherRise || 0 : (otherRise * run) / otherRun || 0;
    const value = sign * (joints[side] ? slope : rise);
    made[name] = isSlope ? rounded(value, decimals + 1) : [run, rounded(value, decimals)];
  }
  return Object.keys(made).length === 0 ? {} : { handles: made };
}

/** Keys first to last, all to be turned by the same amount (document units). */
interface TurnedRun {
  readonly first: number;
  readonly last: number;
  readonly by: number;
}

/** The runs of keys of which the turning takes a flip away, the one with the fewest keys first. */
function runsToTurn(study: Study, { values, frames }: Curve, at: number): TurnedRun[] {
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  const turnsTo = (key: number) => Math.round((values[key] - values[key - 1]) / circle);
  const turns = turnsTo(at);
  if (turns === 0) return [];
  const runs: TurnedRun[] = [
    { first: at, last: frames.length - 1, by: -turns * circle },
    { first: 0, last: at - 1, by: turns * circle },
  ];
  for (let key = at + 1; key < frames.length; key++) {
    if (turnsTo(key) !== -turns) continue;
    runs.push({ first: at, last: key - 1, by: -turns * circle });
    break;
  }
  return runs.sort((a, b) => a.last - a.first - (b.last - b.first));
}

function turned(curve: Curve, { first, last, by }: TurnedRun, decimals: number): SetKey[] {
  const { node, channel, frames, values } = curve;
  return Array.from({ length: last - first + 1 }, (_, n) => ({
    kind: "set",
    node,
    channel,
    frame: frames[first + n],
    // A turn of a whole circle keeps the digits that are there.
    value: rounded(values[first + n] + by, Math.max(decimals, 6)),
  }));
}

/** How steep a handle at a seam is to be, by the one on the other side of its key. */
type Steepness = (slope: number) => number;
/** It goes on as it came. */
const onward: Steepness = (slope) => slope;
const level: Steepness = () => 0;

/**
 * The same edits with other handles on either side of the flip, where there are handles: those that were drawn for the long
 * way round would throw the curve out on the short one.
 */
function withHandles(
  edits: readonly SetKey[],
  curve: Curve,
  at: number,
  steepness: Steepness,
  decimals: number,
): KeyEdit[] {
  const { handles, frames, values, node, channel } = curve;
  if (handles === null) return [];
  const byFrame = new Map(edits.map((edit) => [edit.frame, edit]));
  for (const [key, side] of [
    [at - 1, "out"],
    [at, "in"],
  ] as const) {
    const [own, other] = side === "in" ? [0, 2] : [2, 0];
    const run = handles[4 * key + own];
    const [otherRun, otherRise] = handles.subarray(4 * key + other, 4 * key + other + 2);
    const slope = steepness((Number.isNaN(otherRun) ? otherRise : otherRise / otherRun) || 0);
    const edit = byFrame.get(frames[key]) ?? {
      kind: "set" as const,
      node,
      channel,
      frame: frames[key],
      value: values[key],
    };
    const handle: KeyHandle = Number.isNaN(run)
      ? rounded(slope, decimals + 1)
      : [run, rounded(slope * run, decimals)];
    byFrame.set(frames[key], { ...edit, handles: { [side]: handle } });
  }
  return [...byFrame.values()];
}
