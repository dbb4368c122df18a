import { inRadians, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../../base/study.ts";
import { relativeTurnApart } from "../../../motion/parts/apart.ts";
import { distances, gripsOf } from "../../../motion/parts/grips.ts";
import { correlationAt } from "../../../motion/parts/lag.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { carrierOf, figuresOf, statureOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { TwinningFinding } from "./finding.ts";
import { joinedShare } from "./likeness.ts";

/** Joints of the body map that a figure has to have at the least: what has fewer is no body that acts (our choice). */
const fewestJoints = 5;
/** Beats that figures have to share: fewer may well come from one cause, such as a bang that all of them hear (our choice). */
const fewestBeats = 4;
/** How many times worse figures that act on the same frames fit each other with an offset in time (our choice). */
const worse = 4;
/** Frames at 24 per second by which one has to be before the other to be offset: common practice, as for arms. */
const offsetFrames = 2;
/** Turning, radians, that a trunk has to come to for its poses to be compared: what a head glances by. */
const leastTurn = inRadians(15);

/** What is asked of figures: the least correlation of what they do, and how unlike copies are at most. */
interface Values {
  readonly together: number;
  readonly copied: number;
}

/**
 * Figures that act on the very same frames, told once of each group, at its first one: their joints turn and rest together
 * all through the shot. Those that hold one thing together have to; they are told where one is a copy of another in its poses.
 * @param index figure, index into `figuresOf`
 */
export function figuresInStep(study: Study, index: number, values: Values): TwinningFinding[] {
  const figures = figuresOf(study);
  if (figures.length < 2) return [];
  const like = (a: number, b: number) => likeness(study, a, b, values);
  for (let before = 0; before < index; before++) if (like(before, index) !== null) return [];
  const others: number[] = [];
  let least = 1;
  for (let other = index + 1; other < figures.length; other++) {
    const found = like(index, other);
    if (found === null) continue;
    others.push(other);
    least = Math.min(least, found);
  }
  if (others.length === 0) return [];
  const { count, rate } = gridOf(study);
  const beats = beatsOf(study, index);
  const from = beats[0].from - 1;
  const to = beats[beats.length - 1].to;
  const heads = [index, ...others].map((figure) => headOf(study, figure));
  const steps = spacingOf(study, heads[0]);
  let travel = 0;
  for (let i = from + 1; i <= Math.min(to, count - 1); i++) travel += steps[i];
  const offset = Math.max(1, Math.round((1.5 * offsetFrames * rate) / referenceRate));
  return [
    {
      node: heads[0],
      seenAt: heads,
      isOfFigure: true,
      figure: index,
      from,
      to,
      measured: { quantity: "correlation of when the figures act", value: least, unit: "ratio" },
      expected: { max: values.together, unit: "ratio", source: togetherSource },
      excess: 1 + (least - values.together) / Math.max(1 - values.together, 1e-6),
      // Crews, dancers and soldiers are meant to.
      ceiling: "minor",
      size: travel / 2,
      amiss: travel * Math.min(0.5, (offset * beats.length) / Math.max(1, to - from)),
      figures: [index, ...others].map((figure) => figures[figure].id),
      numbers: { correlation: least, offset, pose: 0 },
      fault: {
        kind: "keys",
        keys: keysOfNodes(study, actingJointsOf(study, others[0]), from, to).slice(0, mostKeys),
      },
    },
  ];
}

/** Where the default of the setting comes from. */
export const togetherSource =
  "common practice: crowds are offset so that no two do the same at once; 0.9 leaves a fifth of what the one does unexplained by the other (our choice)";
/** Keys that a note names at most. */
const mostKeys = 6;

/** The correlation of when two figures act, where they act together; null where they do not. */
function likeness(study: Study, a: number, b: number, values: Values): number | null {
  if (beatsOf(study, a).length < fewestBeats || beatsOf(study, b).length < fewestBeats) return null;
  const { rate } = gridOf(study);
  const [one, other] = [actionOf(study, a), actionOf(study, b)];
  const together = correlationAt(one, other, 0);
  if (together < values.together) return null;
  const offset = Math.max(1, Math.round((offsetFrames * rate) / referenceRate));
  const apart = Math.max(correlationAt(one, other, offset), correlationAt(one, other, -offset));
  if (1 - apart < worse * (1 - together)) return null;
  if (areBound(study, a, b) && !areCopies(study, a, b, values.copied)) {
    excused(
      headOf(study, b),
      0,
      gridOf(study).count - 1,
      "both figures hold one thing, or each other's hands",
    );
    return null;
  }
  return together;
}

/** Joints of the body map, one of each part, but for what carries all, hands' fingers and toes. */
function actingJointsOf(study: Study, figure: number): readonly number[] {
  const body = figuresOf(study)[figure];
  const joints: number[] = [];
  for (const [part, nodes] of body.parts) {
    if (part !== "root" && !/Fingers|Toes/.test(part)) joints.push(nodes[0]);
  }
  return joints;
}

function headOf(study: Study, figure: number): number {
  const body = figuresOf(study)[figure];
  return body.parts.get("head")?.[0] ?? carrierOf(body);
}

/**
 * How much a figure acts at each sample: the root of what its joints turn against their parents since the sample before, so
 * that a small gesture counts beside a large one.
 */
const actionOf = measure(
  "action of a figure",
  (study, figure: number): Float64Array => {
    const { count, dt } = gridOf(study);
    const action = floats(count);
    const joints = actingJointsOf(study, figure);
    if (joints.length < fewestJoints) return action;
    for (const node of joints) {
      const speed = localAngularSpeedOf(study, node);
      for (let i = 1; i < count; i++) action[i] += speed[i] * dt;
    }
    for (let i = 1; i < count; i++) action[i] = Math.sqrt(action[i]);
    return action;
  },
  sameNumbers,
);

/** Stretches in which a figure acts more than on the average. */
function beatsOf(study: Study, figure: number) {
  const action = actionOf(study, figure);
  let mean = 0;
  for (let i = 0; i < action.length; i++) mean += action[i] / action.length;
  return mean > 0 ? runsWhere(action.length, (i) => i > 0 && action[i] > mean) : [];
}

/** Whether figures hold one thing at the same time, or a hand of the one and one of the other are joined for half of the time. */
function areBound(study: Study, a: number, b: number): boolean {
  const grips = gripsOf(study);
  const doHoldOne = grips.some(
    (one) =>
      one.figure === a &&
      grips.some(
        (other) =>
          other.figure === b && other.thing === one.thing && other.from <= one.to && one.from <= other.to,
      ),
  );
  const near = joinedShare * Math.min(statureOf(study, a), statureOf(study, b));
  const hands = ([figure, side]: readonly [number, "left" | "right"]) =>
    figuresOf(study)[figure].parts.get(`${side}Hand`)?.[0] ?? -1;
  const sides = ["left", "right"] as const;
  return (
    doHoldOne ||
    sides.some((side) =>
      sides.some((far) => {
        const [one, other] = [hands([a, side]), hands([b, far])];
        if (one < 0 || other < 0) return false;
        const apart = distances(study, one, other);
        let joined = 0;
        for (let i = 0; i < apart.length; i++) if (apart[i] <= near) joined++;
        return 2 * joined >= apart.length;
      }),
    )
  );
}

/** Whether the trunks of two figures are bent alike on all frames, to a share of how they are bent. */
function areCopies(study: Study, a: number, b: number, share: number): boolean {
  const [one, other] = [a, b].map((figure) => figuresOf(study)[figure].parts);
  let turned = 0;
  let apart = 0;
  for (const part of ["spine", "chest", "neck", "head"] as const) {
    const [left, right] = [one.get(part)?.[0], other.get(part)?.[0]];
    if (left === undefined || right === undefined) continue;
    const both = relativeTurnApart(study, left, right);
    turned += both.turned;
    apart += both.apart;
  }
  return turned > leastTurn && apart <= share * turned;
}
