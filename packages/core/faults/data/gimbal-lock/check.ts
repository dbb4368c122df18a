import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Channel, Curve } from "../../../document/model.ts";
import { rotationOrders } from "../../../document/schema.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { channelSeriesOf } from "../../../rig/channels.ts";
import { curveNamesOfNode, localRotationOf } from "../../../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";

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
    default: 12,
    unit: "deg",
    what: "how near to ±90° the middle axis has to come",
    source:
      "geometry: at 12° from lock the outer axes turn about five times as far as the joint (1 / sin 12°)",
    min: 0,
    max: 45,
  },
  ratio: {
    default: 3,
    unit: "ratio",
    what: "how much further the outer two axes turn together than the joint does",
    source:
      "common practice: curves that go three times as far as their joint are hard to edit; geometry allows 1 / cos of the middle angle",
    min: 1,
  },
  swing: {
    default: 30,
    unit: "deg",
    what: "least turn of the outer axes over the stretch",
    source: "common practice: curves that wind up by less than 30° are still read and edited by hand",
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
    "Over stretches in which the middle axis of the rotation order is within 12° of ±90°: the sum of the two outer axes' turns against the joint's true turn. All stretches of a joint are one note, which tells of the worst one. All joints that are keyed on every frame are one polish note.",
  fix: "Choose a rotation order whose middle axis moves least on this joint, or turn the joint's fixed rotation by 90°.",
  notAFault: ["quaternion keys", "a joint that is near lock but does not swing"],
  limits: [
    "It says that the curves are fragile; the pictures themselves may still be right.",
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
      !comesNearLock(curveOf(study, curveName(id, `rotation.${order[1]}` as Channel)), perUnit, values.near)
    )
      return [];
    const [outer, middle, inner] = [...order].map(seriesOf);
    if (middle === null || (outer === null && inner === null)) return [];
    const found: Stretch[] = [];
    let from = -1;
    for (let i = 0; i <= middle.length; i++) {
      const near = i < middle.length && Math.PI / 2 - Math.abs(lockAngle(middle[i] * perUnit)) < values.near;
      if (near && from < 0) from = i;
      if (near || from < 0) continue;
      const stretch = stretchOf(study, node, from, i - 1, outer, inner, perUnit);
      if (stretch.swing >= values.swing && stretch.swing >= values.ratio * stretch.turn) found.push(stretch);
      from = -1;
    }
    // One rotation order is one fault, however often the joint comes near lock.
    return found.length === 0 ? [] : [findingOf(study, node, found, values)];
  },
  word({ from, to, numbers }, words) {
    const { swing, turn, first, last, others } = numbers;
    const more =
      others === 0
        ? ""
        : `, and too far in ${others} more ${others === 1 ? "stretch" : "stretches"} of ${words.span(from, to)}`;
    return {
      message: `${words.part} swings two axes by ${words.angle(swing)} in ${words.span(first, last)} to turn by ${words.angle(turn)}${more}: its rotation order is near lock`,
      suggestion:
        "give the joint a rotation order whose middle axis stays below 60° here, or turn its fixed rotation by 90°",
    };
  },
});

/**
 * Whether the keys of a middle axis reach, or cross, the neighbourhood of ±90° (or a half turn further): tells most
 * joints off without sampling their curves. A curve may leave the band of its keys by a third of it.
 */
function comesNearLock(curve: Curve | null, perUnit: number, near: number): boolean {
  if (curve === null) return false;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const { values } = curve;
  for (let i = 0; i < values.length; i++) {
    if (values[i] < low) low = values[i];
    if (values[i] > high) high = values[i];
  }
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

function stretchOf(
  study: Study,
  node: number,
  from: number,
  to: number,
  outer: Float64Array | null,
  inner: Float64Array | null,
  perUnit: number,
): Stretch {
  const rotation = localRotationOf(study, node);
  let swing = 0;
  let turn = 0;
  for (let i = from + 1; i <= to; i++) {
    const both = change(outer, i) + change(inner, i);
    swing += both * perUnit;
    turn += angleBetween(rotation, 4 * (i - 1), rotation, 4 * i);
  }
  return { from, to, swing, turn };
}

function findingOf(
  study: Study,
  node: number,
  stretches: readonly Stretch[],
  values: { ratio: number; swing: number },
): GimbalLockFinding {
  const ratioOf = ({ swing, turn }: Stretch) => swing / Math.max(turn, 1e-9);
  const excessOf = (stretch: Stretch) =>
    Math.min(stretch.swing / values.swing, ratioOf(stretch) / values.ratio);
  const worst = stretches.reduce((a, b) => (excessOf(b) > excessOf(a) ? b : a));
  const { frames } = gridOf(study);
  const id = rigOf(study).ids[node];
  const order = rotationOrders[rigOf(study).order[node]];
  let isBookkeeping = true;
  const keys = [order[0], order[2]].flatMap((axis) => {
    const channel = `rotation.${axis}` as Channel;
    const curve = curveOf(study, curveName(id, channel));
    if (curve === null) return [];
    isBookkeeping &&= isOnEveryFrame(study, curve);
    const index = curve.frames.findIndex((frame) => frame >= frames[worst.from] - 0.5);
    return index < 0 ? [] : [{ node: id, channel, index }];
  });
  return {
    node,
    figure: figureOfNode(study, node),
    from: stretches[0].from,
    to: stretches[stretches.length - 1].to,
    measured: {
      quantity: "turn of the outer axes over the joint's turn",
      value: ratioOf(worst),
      unit: "ratio",
    },
    expected: { max: values.ratio, unit: "ratio", source: settings.ratio.source },
    excess: excessOf(worst),
    // The frames themselves are right: nothing of it is seen until a key is changed.
    size: 0,
    numbers: {
      swing: worst.swing,
      turn: worst.turn,
      first: worst.from,
      last: worst.to,
      others: stretches.length - 1,
    },
    fault: { kind: "keys", keys },
    isBookkeeping: isBookkeeping && keys.length > 0,
  };
}

function change(series: Float64Array | null, i: number): number {
  return series === null ? 0 : Math.abs(series[i] - series[i - 1]);
}
