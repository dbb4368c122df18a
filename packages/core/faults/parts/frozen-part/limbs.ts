import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { figuresOf } from "../../../rig/body.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { FrozenPartFinding } from "./finding.ts";
import {
  fastestOf,
  isHeldByStep,
  largestIn,
  type Meanwhile,
  setIn,
  sumOfSteps,
  sumOver,
  trunkOf,
} from "./meanwhile.ts";

/** What may freeze: joints of each from the inmost one outwards. */
export const freezingLimbs = [
  ["neck", "head"],
  ["leftUpperArm", "leftForearm", "leftHand"],
  ["rightUpperArm", "rightForearm", "rightHand"],
] as const;

/** The settings that say when a limb has frozen. */
interface Values {
  readonly still: number;
  readonly drift: number;
  readonly motion: number;
  readonly shortest: number;
}

/**
 * Heads, arms and hands that stop dead while the trunk goes on, and move again later; of each the largest part.
 * @param directly frames at 24 per second beside a freeze in which the part has to move
 */
export function frozenLimbs(
  study: Study,
  index: number,
  meanwhile: Meanwhile,
  directly: number,
  values: Values,
): FrozenPartFinding[] {
  const { count } = gridOf(study);
  const { parts } = figuresOf(study)[index];
  const found: FrozenPartFinding[] = [];
  for (const names of freezingLimbs) {
    const joints = names.flatMap((part) => parts.get(part) ?? []);
    const speeds = joints.map((node) => localAngularSpeedOf(study, node));
    const told = new Uint8Array(count);
    // An arm hangs on what moves; a head is held by what it looks at.
    const limit = names[0] === "neck" ? values.still : values.drift;
    joints.forEach((_, k) => {
      const speed = fastestOf(speeds.slice(k), count);
      for (const { from, to } of runsWhere(count, (i) => i > 0 && speed[i] < limit)) {
        if (to - from + 1 < values.shortest || told[from] === 1 || told[to] === 1) continue;
        const still = { from, to, speed, meanwhile, directly };
        const finding = frozenIn(study, index, joints.slice(k), still, values);
        if (finding === null) continue;
        told.fill(1, from, to + 1);
        found.push(finding);
      }
    });
  }
  return found;
}

interface Still extends Span {
  /** Fastest turn of the part's joints against their parents at each sample, rad/s. */
  readonly speed: Float64Array;
  readonly meanwhile: Meanwhile;
  readonly directly: number;
}

/** What is wrong with a part whose joints stand still at samples from..to; null for nothing. */
function frozenIn(
  study: Study,
  figure: number,
  joints: readonly number[],
  { from: first, to, speed, meanwhile, directly }: Still,
  values: Values,
): FrozenPartFinding | null {
  const { count, rate } = gridOf(study);
  const near = Math.round((directly * rate) / referenceRate);
  // Sample `first` repeats the one before it.
  const from = first - 1;
  const before = largestIn(speed, Math.max(1, from - near + 1), from);
  const after = largestIn(speed, to + 1, Math.min(count - 1, to + near));
  if (before < values.motion || after < values.motion) return null;
  const frames = to - from;
  if (2 * setIn(meanwhile.goes, first, to) < frames) return null;
  const trunk = trunkOf(study, figure);
  const root = trunk[0];
  if (isHeldByStep(study, joints, trunk[trunk.length - 1], from, to)) {
    excused(joints[0], from, to, "step keys hold it");
    return null;
  }
  // Of an arm its hand, where that is known.
  const hand = joints[joints.length - 1];
  const held = contactsOf(study, figure).reduce(
    (sum, contact) =>
      contact.node === hand
        ? sum + Math.max(0, Math.min(to, contact.to) - Math.max(from, contact.from) + 1)
        : sum,
    0,
  );
  if (2 * held >= frames) {
    excused(hand, from, to, "a contact holds it for half of the time or more");
    return null;
  }
  const carried = sumOver(study, meanwhile.turns, first, to);
  const travelled = sumOfSteps(study, root, first, to);
  const reach = farReachOf(study, joints[0]);
  return {
    // A neck and its head are told as the head.
    node: figuresOf(study)[figure].parts.get("head")?.includes(hand) === true ? hand : joints[0],
    figure,
    from,
    to,
    measured: { quantity: "frames in which nothing of the part turns", value: frames, unit: "frames" },
    expected: { max: values.shortest, unit: "frames", source: limbSource },
    excess: frames / values.shortest,
    size: missedShare * Math.max(carried * reach, travelled),
    numbers: {
      kind: "limb",
      frames,
      before,
      turn: 0,
      carried,
      travelled,
      lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
      amount: Math.min(driftShare * carried, mostDrift),
      trunk: trunk[trunk.length - 1],
      carrier: rigOf(study).parent[joints[0]],
    },
    fault: { kind: "keys", keys: keysOfNodes(study, joints, from, to) },
  };
}

/** Where the default of the setting comes from. */
export const limbSource = "common practice: half a second; one part may wait for less while others act";
/** Share of its trunk's motion whose lack is seen of a frozen part: what it would have lagged by, on the average (our choice). */
const missedShare = 0.1;
/** Share of its trunk's turn by which a fix lets it drift (our choice). */
const driftShare = 0.25;
/** Most that a part drifts while it is held, radians (6°): what moves a hand at the end of an arm by a few centimetres, common practice. */
const mostDrift = Math.PI / 30;
