import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { buoyedAt } from "../../../motion/ground/medium.ts";
import { angularSpeedOf, localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { chainOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { FrozenPartFinding } from "./finding.ts";
import { fastestOf, isHeldByStep, largestIn, setIn, spread, sumOver, trunkOf } from "./meanwhile.ts";

/** Travel, body heights per frame at 24 per second, under which a body stands still: a tenth of a pixel, as of a frozen hold. */
const stillTravel = 0.0001;

/** Whole trunks, with the head, that stop dead in the world while a limb moves on. */
export function frozenTrunks(
  study: Study,
  index: number,
  directly: number,
  values: {
    readonly still: number;
    readonly motion: number;
    readonly body: number;
    readonly travel: number;
    readonly trunk: number;
  },
): FrozenPartFinding[] {
  const { count, rate } = gridOf(study);
  const { parts, nodes } = figuresOf(study)[index];
  const [root] = trunkOf(study, index);
  const head = parts.get("head")?.[0];
  if (head === undefined) return [];
  const rig = rigOf(study);
  // A tail that begins at the trunk may count as its chest: what lies on the way to the head keeps still.
  const way = chainOf(rig, head).filter((node) => node === root || isAbove(rig, root, node));
  const stature = statureOf(study, index);
  const speedOf = (node: number) => angularSpeedOf(study, node);
  const turns = fastestOf(way.map(speedOf), count);
  // Nothing in the water stands still at all: there the root alone tells, whatever the head does.
  const buoyed = buoyedAt(study, index);
  for (let i = 0; i < count; i++) if (buoyed[i] === 1) turns[i] = speedOf(root)[i];
  const steps = spacingOf(study, root);
  const still = (stillTravel * stature * referenceRate) / rate;
  const moves = values.travel / rate;
  const runs = runsWhere(count, (i) => i > 0 && turns[i] < values.still && steps[i] < still);
  const long = runs.filter(({ from, to }) => to - from + 1 >= values.trunk && to < count - 1 && from > 1);
  if (long.length === 0) return [];
  // A face acts on a held body, and hands work on one: neither is carried by it.
  const isUnder = (part: "head" | "leftHand" | "rightHand", node: number) =>
    (parts.get(part) ?? []).some((top) => isAbove(rig, top, node));
  const limbs = nodes.filter(
    (node) =>
      !way.includes(node) &&
      !isUnder("head", node) &&
      !isUnder("leftHand", node) &&
      !isUnder("rightHand", node),
  );
  const speeds = limbs.map((node) => localAngularSpeedOf(study, node));
  const fastest = fastestOf(speeds, count);
  // What all rests is a frozen hold.
  const goes = spread(study, root, (i) => fastest[i] > (buoyed[i] === 1 ? values.still : values.body));
  const near = Math.round((directly * rate) / referenceRate);
  return long.flatMap(({ from: first, to }) => {
    const from = first - 1;
    const frames = to - from;
    const held = buoyed[first] === 1 && buoyed[to] === 1 ? [root] : way;
    const isMoving = (a: number, b: number) =>
      largestIn(turns, a, b) >= values.motion || largestIn(steps, a, b) >= moves;
    if (!isMoving(Math.max(1, from - near + 1), from) || !isMoving(to + 1, Math.min(count - 1, to + near)))
      return [];
    if (2 * setIn(goes, first, to) < frames) return [];
    const carried = speeds.map((speed) => sumOver(study, speed, first, to));
    const most = carried.reduce((best, _, k) => (carried[k] > carried[best] ? k : best), 0);
    if (isHeldByStep(study, held, limbs[most], from, to)) {
      excused(root, from, to, "step keys hold it");
      return [];
    }
    const reach = farReachOf(study, root);
    return [
      {
        node: root,
        isOfFigure: true,
        seenAt: held,
        figure: index,
        from,
        to,
        measured: {
          quantity: "frames in which no part of the trunk moves",
          value: frames,
          unit: "frames" as const,
        },
        expected: { max: values.trunk, unit: "frames" as const, source: trunkSource },
        excess: frames / values.trunk,
        size: Math.max(largestIn(steps, Math.max(1, from - near + 1), from), 0.01 * reach),
        numbers: {
          kind: "trunk" as const,
          frames,
          before: largestIn(turns, Math.max(1, from - near + 1), from),
          turn: 0,
          carried: carried[most],
          travelled: 0,
          lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
          amount: 0,
          trunk: held[held.length - 1],
          carrier: limbs[most],
        },
        fault: { kind: "keys" as const, keys: keysOfNodes(study, held, from, Math.min(to, from + 1)) },
      },
    ];
  });
}

/** Where the default of the setting comes from. */
export const trunkSource =
  "common practice: a third of a second; for less a body stops as its weight lands, while arms and legs finish";
