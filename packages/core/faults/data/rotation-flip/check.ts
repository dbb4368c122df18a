import { inDegrees } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { stepMode } from "../../../curve/keys.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { curveNamesOfNode, localRotationOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { radiansPerUnitOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";
import { rolls } from "./rolling.ts";

/** With numbers in working units. */
export interface RotationFlipFinding extends Finding {
  readonly numbers: { readonly difference: number; readonly geodesic: number; readonly direction: number };
  /** The keys behind which axes flip at the same moment, that with the largest turn first. */
  readonly flips: readonly Flip[];
}

/** An axis that flips between a key and the one before. */
export interface Flip {
  readonly curve: Curve;
  readonly key: number;
  /** The key from which the turn is keyed frame by frame, where it is; else the key before is. */
  readonly since?: number;
}

const settings = {
  turn: {
    default: 180,
    unit: "deg",
    what: "least difference between two keys of one axis; any larger one has a shorter way round",
    source: "geometry: every orientation is reached by a turn of at most 180° about some axis",
    min: 90,
  },
  excess: {
    default: 120,
    unit: "deg",
    what: "how much further the axis turns than the shortest turn between the two orientations",
    source: "common practice: a third of a full turn too much is never meant",
    min: 0,
  },
  spin: {
    default: 720,
    unit: "deg/s",
    what: "speed up to which the root of a figure or a prop may turn in full: a spin that is meant",
    source: "common practice: two turns a second are fast for a dancer",
    min: 0,
  },
} as const;

/** A rotation curve that takes the long way round between two keys. */
export const rotationFlip = defineCheck({
  name: "rotation-flip",
  title: "Rotation flip",
  family: "data",
  scope: "node",
  ceiling: "major",
  what: "A joint turns the long way round between two keys.",
  why: "The two poses are close together, but the curve between them runs through a turn that nobody keyed: the joint spins, or flips under motion blur.",
  computes:
    "Neighbouring keys of a rotation axis that differ by more than 180° are looked at. The difference of the channel is held against the geodesic angle between the joint's two local orientations. Two axes and more that go 120° further than that angle are a flip as well, if the joint does so too. That is a pose that is read back in other angles. A turn of a body's joint that is keyed frame by frame counts too. It goes round once, by 240° more than the shortest turn from its start to its end, and faster than `spin`. Axes of a joint that flip into the same frame are one note, which tells the largest turn. Where keys stand on every frame the turn falls between the pictures: all such flips of a shot are one polish note.",
  fix: "Add or take off full turns (360°) from one key on, so that neighbouring keys differ by less than 180°.",
  notAFault: [
    "a spin of a figure's root or of a prop that takes its time, about one axis",
    "axes that turn against each other while the joint keeps to its way, as near gimbal lock",
    "stepped keys: nothing runs between them",
    "a wheel that rolls on the ground, at any speed",
  ],
  limits: ["Keys outside the judged range are not compared."],
  sources: ["Geodesic angle of unit quaternions, 2 · arccos |q₁ · q₂|: standard, from memory"],
  since: "0.1.0",
  settings,
  find(study, node, values) {
    const found: RotationFlipFinding[] = [];
    const perUnit = radiansPerUnitOf(study);
    for (const name of curveNamesOfNode(study, node)) {
      const least = Math.min(values.turn, values.excess) / perUnit;
      const traits = curveTraitsOf(study, name);
      if (traits === null || traits.high - traits.low < least) continue;
      const curve = curveOf(study, name);
      if (curve === null || !curve.channel.startsWith("rotation.")) continue;
      if ((traits.high - traits.low) * perUnit >= 2 * values.excess)
        found.push(...bakedFlips(study, node, curve, values));
      if (traits.leap < least) continue;
      const { values: turns, modes } = curve;
      for (let key = 1; key < turns.length; key++) {
        const apart = Math.abs(turns[key] - turns[key - 1]);
        if (apart < least || modes[key - 1] === stepMode) continue;
        const difference = apart * perUnit;
        const finding = flipAt(study, node, curve, key, difference, values);
        if (finding !== null) found.push(finding);
      }
    }
    return found.length === 0 ? found : toldOf(study, node, ofMoments(found), values);
  },
  word(finding, words) {
    const { numbers, flips } = finding;
    const key = words.keys[0];
    const others = flips.slice(1).map(({ curve }) => curve.channel);
    const too = others.length === 0 ? "" : `, and in ${others.join(" and ")} too,`;
    const from = words.frame(finding.from);
    const to = words.frame(finding.to);
    const frame = key?.frame ?? to;
    const turns = Math.round(numbers.difference / (2 * Math.PI)) || 1;
    return {
      message: `${words.part} turns ${words.angle(numbers.difference)} in ${key?.channel ?? "one axis"}${too} between frame ${from} and frame ${to}, where ${words.angle(numbers.geodesic)} would do`,
      suggestion: isReadBack(finding)
        ? `key the pose of frame ${frame} in angles that are near those of frame ${from}: half a turn more on two axes is the same pose`
        : `${numbers.direction > 0 ? "take" : "add"} ${turns * 360}° ${numbers.direction > 0 ? "off" : "to"} the ${key?.channel ?? "rotation"} keys from frame ${frame} on`,
    };
  },
});

/** Whether several axes turn, by about half a turn: the key has its pose in other angles than the one before. */
export function isReadBack({ flips, numbers: { difference } }: RotationFlipFinding): boolean {
  return flips.length > 1 && difference < 1.5 * Math.PI;
}

/**
 * Whether a flip is one by its largest turn alone: it is the longer way round on its axis, and no spin that is meant. Half
 * turns on several axes at once, back to about the same pose, are neither: no body spins so.
 */
function standsAlone(
  study: Study,
  node: number,
  { from, to, numbers: { difference }, flips }: RotationFlipFinding,
  values: { readonly turn: number; readonly spin: number },
): boolean {
  if (flips.some(({ since }) => since !== undefined)) return true;
  if (difference < values.turn) return false;
  const figure = figureOfNode(study, node);
  const body = figure < 0 ? undefined : figuresOf(study)[figure];
  const maySpin = body === undefined || body.root === node || body.parts.get("root")?.[0] === node;
  return !maySpin || to - from <= 1 || difference / ((to - from) * gridOf(study).dt) > values.spin;
}

/**
 * The flips that are told: those by their largest turn, and poses that are read back in other angles. The way on from such
 * a pose is its fault as well, where either way is less than half a turn.
 */
function toldOf(
  study: Study,
  node: number,
  moments: readonly RotationFlipFinding[],
  values: { readonly turn: number; readonly spin: number },
): RotationFlipFinding[] {
  const told: RotationFlipFinding[] = [];
  let isLastAlone = false;
  for (const moment of moments) {
    const isAlone = standsAlone(study, node, moment, values);
    const isWayOn = told.at(-1)?.to === moment.from && !(isAlone && isLastAlone);
    if (isWayOn || !(isAlone || isReadBack(moment))) continue;
    told.push(moment);
    isLastAlone = isAlone;
  }
  return told;
}

/** Flips into the same frame as one, the largest turn first. */
function ofMoments(found: RotationFlipFinding[]): RotationFlipFinding[] {
  const bySize = [...found].sort((a, b) => b.numbers.difference - a.numbers.difference);
  const moments: RotationFlipFinding[] = [];
  for (const finding of bySize) {
    const at = moments.findIndex(
      ({ to, isBookkeeping }) => to === finding.to && isBookkeeping === finding.isBookkeeping,
    );
    if (at < 0) moments.push(finding);
    else moments[at] = withAxis(moments[at], finding);
  }
  return moments.sort((a, b) => a.from - b.from);
}

function withAxis(first: RotationFlipFinding, other: RotationFlipFinding): RotationFlipFinding {
  const flips = [...first.flips, ...other.flips];
  return { ...first, flips, size: Math.max(first.size, other.size), fault: keysOf(flips) };
}

/** The keys of flips, each with the one before it. */
function keysOf(flips: readonly Flip[]): RotationFlipFinding["fault"] {
  const keys = flips.flatMap(({ curve: { node, channel }, key, since = key - 1 }) => [
    { node, channel, index: key },
    { node, channel, index: since },
  ]);
  return { kind: "keys", keys };
}

function flipAt(
  study: Study,
  node: number,
  curve: Curve,
  key: number,
  difference: number,
  values: { turn: number; excess: number },
): RotationFlipFinding | null {
  const { frames, count, step } = gridOf(study);
  const from = Math.round((curve.frames[key - 1] - frames[0]) / step);
  const to = Math.round((curve.frames[key] - frames[0]) / step);
  if (from < 0 || to >= count || to <= from) return null;
  const rotation = localRotationOf(study, node);
  const geodesic = angleBetween(rotation, 4 * from, rotation, 4 * to);
  if (difference - geodesic < values.excess) return null;
  // What the axes do together may undo it: then the joint does not leave its way.
  if (difference < values.turn && wayRound(rotation, from, to) - geodesic < values.excess) return null;
  if (rolls(study, node, from, to)) {
    excused(node, from, to, "it rolls on the ground like a wheel");
    return null;
  }
  const direction = Math.sign(curve.values[key] - curve.values[key - 1]);
  return {
    node,
    figure: figureOfNode(study, node),
    from,
    to,
    ...turnBeyond(difference, geodesic, values.excess),
    // Between keys on neighbouring frames the turn falls between the pictures: only motion blur shows it.
    size: to - from > 1 ? Math.min(difference - geodesic, 2) * farReachOf(study, node) : 0,
    numbers: { difference, geodesic, direction },
    isBookkeeping: to - from === 1 && isOnEveryFrame(study, curve),
    flips: [{ curve, key }],
    fault: keysOf([{ curve, key }]),
  };
}

/** How far a joint turns from frame to frame between two samples, radians. */
function wayRound(rotation: Float64Array, from: number, to: number): number {
  let way = 0;
  for (let i = from; i < to; i++) way += angleBetween(rotation, 4 * i, rotation, 4 * i + 4);
  return way;
}

/** What is told of a turn that goes farther than the shortest way, both in radians. */
function turnBeyond(
  difference: number,
  geodesic: number,
  excess: number,
): Pick<RotationFlipFinding, "measured" | "expected" | "excess"> {
  return {
    measured: { quantity: "turn between two keys", value: inDegrees(difference), unit: "deg" },
    expected: { max: inDegrees(geodesic), unit: "deg", source: settings.turn.source },
    excess: 1 + (difference - geodesic) / excess,
  };
}

/** Slower than this share of the fastest turn that is meant, a joint has not set out yet, or is there (our choice). */
const outset = 0.1;

/**
 * Turns that are keyed key by key in one sense, and bring a joint of a body round to about where it was, faster than
 * anybody means it. What stands on other axes meanwhile may undo the turn: it counts as far as the joint itself goes round.
 */
function bakedFlips(
  study: Study,
  node: number,
  curve: Curve,
  values: { turn: number; excess: number; spin: number },
): RotationFlipFinding[] {
  const figure = figureOfNode(study, node);
  const body = figure < 0 ? undefined : figuresOf(study)[figure];
  const part = body?.partOf.get(node);
  if (body === undefined || body.root === node || part === undefined || part === "root" || part === "prop")
    return [];
  const grid = gridOf(study);
  const { frames, values: turns, modes } = curve;
  const perUnit = radiansPerUnitOf(study);
  const speedTo = (key: number) => {
    const seconds = ((frames[key] - frames[key - 1]) / grid.step) * grid.dt;
    return (Math.abs(turns[key] - turns[key - 1]) * perUnit) / seconds;
  };
  const runs = (key: number) =>
    modes[key - 1] !== stepMode &&
    speedTo(key) >= outset * values.spin &&
    Math.abs(turns[key] - turns[key - 1]) * perUnit < values.turn;
  const found: RotationFlipFinding[] = [];
  for (let key = 1; key < turns.length; key++) {
    if (!runs(key)) continue;
    const since = key - 1;
    const sense = Math.sign(turns[key] - turns[since]);
    while (key + 1 < turns.length && runs(key + 1) && Math.sign(turns[key + 1] - turns[key]) === sense) key++;
    const difference = Math.abs(turns[key] - turns[since]) * perUnit;
    if (difference < 2 * values.excess || difference > 3 * Math.PI) continue;
    const from = Math.round((frames[since] - grid.frames[0]) / grid.step);
    const to = Math.round((frames[key] - grid.frames[0]) / grid.step);
    if (from < 0 || to >= grid.count || difference / ((to - from) * grid.dt) <= values.spin) continue;
    const rotation = localRotationOf(study, node);
    const geodesic = angleBetween(rotation, 4 * from, rotation, 4 * to);
    if (Math.min(difference, wayRound(rotation, from, to)) - geodesic < 2 * values.excess) continue;
    const flips = [{ curve, key, since }];
    found.push({
      node,
      figure,
      from,
      to,
      ...turnBeyond(difference, geodesic, values.excess),
      size: Math.min(difference - geodesic, 2) * farReachOf(study, node),
      numbers: { difference, geodesic, direction: sense },
      flips,
      fault: keysOf(flips),
    });
  }
  return found;
}
