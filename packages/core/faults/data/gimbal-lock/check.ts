import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { type CurveTraits, curveTraitsOf } from "../../../curve/traits.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Channel, Curve } from "../../../document/model.ts";
import { rotationOrders } from "../../../document/schema.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { channelSeriesOf } from "../../../rig/channels.ts";
import { curveNamesOfNode, localRotationOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { detourOf } from "./detour.ts";

/** With numbers in working units. */
export interface GimbalLockFinding extends Finding {
  readonly numbers: {
    readonly swing: number;
    readonly turn: number;
    readonly first: number;
    readonly last: number;
    readonly others: number;
  };
}

const settings = {
  near: {
    default: 39,
    unit: "deg",
    what: "how near to ±90° the middle axis has to come",
    source:
      "geometry: at 39° from lock two axes that turn against each other go three times as far as the joint (1 / sin of half of it)",
    min: 0,
    max: 45,
  },
  ratio: {
    default: 3,
    unit: "ratio",
    what: "how much further the outer two axes turn together than the joint does",
    source: "common practice: curves that go three times as far as their joint are hard to edit",
    min: 1,
  },
  swing: {
    default: 30,
    unit: "deg",
    what: "least turn of the outer axes together over the stretch",
    source: "common practice: curves that wind up by less than 30° are still read and edited by hand",
    min: 0,
  },
  seen: {
    default: 0.0015,
    unit: "H",
    what: "how far a joint has to take what hangs on it off the shortest turn between two keys; 0 tells locks that show nothing, too",
    source:
      "common practice: 2.5 mm of a grown person, a pixel where the figure stands 680 pixels high; less is not seen",
    min: 0,
  },
} as const;

/** Two axes that swing against each other to make a small turn, since the middle one stands near 90°. */
export const gimbalLock = defineCheck({
  name: "gimbal-lock",
  title: "Gimbal lock",
  family: "data",
  scope: "node",
  ceiling: "minor",
  what: "A rotation order near lock: two axes swing to make a small turn.",
  why: "Near lock the outer axes cancel each other; any change between keys, and every blend, sends the joint on a detour.",
  computes:
    "The sum of the two outer axes' turns against the joint's true turn, where the middle axis of the rotation order is within 39° of ±90°. At fault is a stretch in which it is three times as large from frame to frame, and 30° in all. All stretches of a joint are one note, on the worst one. It is told where it is seen: where the joint leaves the shortest turn from key to key. Where `seen` is 0, all joints of a shot of which nothing is seen are one polish note.",
  fix: "Choose a rotation order whose middle axis moves least on this joint, or turn the joint's fixed rotation by 90°.",
  notAFault: [
    "quaternion keys",
    "a joint that is near lock but does not swing",
    "axes that swing while the joint keeps to the shortest turn between its keys, as with keys on every frame: the pictures are right",
  ],
  limits: [
    "Curves that are fragile and show nothing yet are passed over, until an edit sends the joint on a detour; `seen` at 0 tells them.",
    "A curve that reaches lock only by overshooting its keys, by more than a third of their band, is passed over.",
  ],
  sources: ["Singularity of three-axis rotations at a middle angle of ±90°: standard, from memory"],
  since: "0.1.0",
  settings,
  find(study, node, values) {
    const names = curveNamesOfNode(study, node);
    if (names.length < 2) return [];
    const order = rotationOrders[rigOf(study).order[node]];
    const id = rigOf(study).ids[node];
    const perUnit = radiansPerUnitOf(study);
    const seriesOf = (axis: string) => channelSeriesOf(study, curveName(id, `rotation.${axis}` as Channel));
    if (
      !comesNearLock(
        curveTraitsOf(study, curveName(id, `rotation.${order[1]}` as Channel)),
        perUnit,
        values.near,
      )
    )
      return [];
    const [outer, middle, inner] = [...order].map(seriesOf);
    if (middle === null || (outer === null && inner === null)) return [];
    const found = stretchesIn(localRotationOf(study, node), [outer, middle, inner], perUnit, values);
    // One rotation order is one fault, however often the joint comes near lock.
    if (found.length === 0) return [];
    const finding = findingOf(study, node, found, order, values);
    return finding.size >= values.seen ? [finding] : [];
  },
  word({ from, to, numbers }, words) {
    const { swing, turn, first, last, others } = numbers;
    const more =
      others === 0
        ? ""
        : `, and too far in ${others} more ${others === 1 ? "stretch" : "stretches"} of ${words.span(first, last)}`;
    return {
      message: `${words.part} swings two axes by ${words.angle(swing)} in ${words.span(from, to)} to turn by ${words.angle(turn)}${more}: its rotation order is near lock`,
      suggestion:
        "give the joint a rotation order whose middle axis stays below 60° here, or turn its fixed rotation by 90°",
    };
  },
});

/**
 * Whether the keys of a middle axis reach, or cross, the neighbourhood of ±90° (or a half turn further): tells most
 * joints off without sampling their curves. A curve may leave the band of its keys by a third of it.
 */
function comesNearLock(traits: CurveTraits | null, perUnit: number, near: number): boolean {
  if (traits === null) return false;
  const { low, high } = traits;
  const slack = near + ((high - low) * perUnit) / 3;
  // Locks lie at 90° and every half turn from there.
  const lock = Math.PI / 2 + Math.PI * Math.ceil((low * perUnit - slack - Math.PI / 2) / Math.PI);
  return lock <= high * perUnit + slack;
}

/** The middle angle folded into ±90°. */
function lockAngle(angle: number): number {
  return Math.asin(Math.sin(angle));
}

/** Samples near lock, how far the outer axes turn together over them, and how far the joint does; radians. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly swing: number;
  readonly turn: number;
}

/**
 * The stretches near lock in which the outer axes cancel each other from frame to frame. What else a joint does near
 * lock, before such a swing or after it, makes it no smaller.
 */
function stretchesIn(
  rotation: Float64Array,
  [outer, middle, inner]: readonly [Float64Array | null, Float64Array, Float64Array | null],
  perUnit: number,
  values: { near: number; ratio: number; swing: number },
): Stretch[] {
  const found: Stretch[] = [];
  const isNear = (i: number) => Math.PI / 2 - Math.abs(lockAngle(middle[i] * perUnit)) < values.near;
  let from = -1;
  let swing = 0;
  let turn = 0;
  for (let i = 1; i <= middle.length; i++) {
    const both = i < middle.length ? (change(outer, i) + change(inner, i)) * perUnit : 0;
    const own = i < middle.length ? angleBetween(rotation, 4 * (i - 1), rotation, 4 * i) : 1;
    if (both >= values.ratio * own && isNear(i)) {
      if (from < 0) from = i - 1;
      swing += both;
      turn += own;
      continue;
    }
    if (from >= 0 && swing >= values.swing) found.push({ from, to: i - 1, swing, turn });
    from = -1;
    swing = 0;
    turn = 0;
  }
  return found;
}

function findingOf(
  study: Study,
  node: number,
  stretches: readonly Stretch[],
  order: string,
  values: { ratio: number; swing: number },
): GimbalLockFinding {
  const ratioOf = ({ swing, turn }: Stretch) => swing / Math.max(turn, 1e-9);
  const excessOf = (stretch: Stretch) =>
    Math.min(stretch.swing / values.swing, ratioOf(stretch) / values.ratio);
  const worst = stretches.reduce((a, b) => (excessOf(b) > excessOf(a) ? b : a));
  const curves = [order[0], order[2]].flatMap(
    (axis) => curveOf(study, curveName(rigOf(study).ids[node], `rotation.${axis}` as Channel)) ?? [],
  );
  const { frames } = gridOf(study);
  const size =
    Math.max(...stretches.map((stretch) => detourOf(study, node, stretch))) * farReachOf(study, node);
  return {
    node,
    figure: figureOfNode(study, node),
    from: worst.from,
    to: worst.to,
    measured: {
      quantity: "turn of the outer axes over the joint's turn",
      value: ratioOf(worst),
      unit: "ratio",
    },
    expected: { max: values.ratio, unit: "ratio", source: settings.ratio.source },
    excess: excessOf(worst),
    size,
    numbers: {
      swing: worst.swing,
      turn: worst.turn,
      first: stretches[0].from,
      last: stretches[stretches.length - 1].to,
      others: stretches.length - 1,
    },
    fault: {
      kind: "keys",
      keys: curves
        .flatMap((curve) => swingingKey(curve, frames[worst.from], frames[worst.to]))
        .sort((a, b) => b.off - a.off)
        .map(({ off: _, ...key }) => key),
    },
    // Where the frames themselves are right nothing of it is seen until a key is changed.
    isBookkeeping: size < settings.seen.default,
  };
}

/**
 * The key at which an outer axis swings out: the one in a stretch or beside it that is farthest off the line between
 * its neighbours. Where none is off, as in a steady turn, the first one in the stretch.
 */
function swingingKey({ node, channel, frames, values }: Curve, from: number, to: number) {
  let first = frames.findIndex((frame) => frame >= from - 0.5);
  if (first < 0) return [];
  let last = first;
  while (last + 1 < frames.length && frames[last] < to - 0.5) last++;
  let index = first;
  let off = 0;
  if (frames[first] > from + 0.5 && first > 0) first--;
  for (let key = Math.max(1, first); key <= last && key + 1 < frames.length; key++) {
    const share = (frames[key] - frames[key - 1]) / (frames[key + 1] - frames[key - 1]);
    const here = Math.abs(values[key] - values[key - 1] - share * (values[key + 1] - values[key - 1]));
    if (here <= off + 1e-9) continue;
    off = here;
    index = key;
  }
  return [{ node, channel, index, off }];
}

function change(series: Float64Array | null, i: number): number {
  return series === null ? 0 : Math.abs(series[i] - series[i - 1]);
}
