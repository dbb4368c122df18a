import type { Study } from "../../../base/study.ts";
import { type BeatingChain, waveStepsOf } from "../../../motion/parts/beat-wave.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { findingOf, type NoDragFinding, numbersOf, shiftOf } from "./finding.ts";

/**
 * Share of a beat by which each joint has to follow the one before it, where that is less than the setting: 10° of 360°, a
 * sixth of what joints of a fish have whose wave is as long as its body (from memory) and who is drawn with six of them.
 */
const leastShare = 1 / 36;

/** A joint of a beating chain that bends with the one before it, or ahead of it. */
interface InPhase {
  readonly node: number;
  readonly before: number;
  readonly from: number;
  readonly to: number;
  readonly lag: number;
  readonly least: number;
  /** Half of the angle that it bends, radians. */
  readonly amplitude: number;
  /** The joints from it on. */
  readonly joints: readonly number[];
}

/**
 * The first joint of a beating chain that does not follow the one before it; null where each does, or none can be timed.
 * @param least judged frames by which it has to
 */
function inPhaseIn(study: Study, chain: BeatingChain, least: number): InPhase | null {
  for (const { node, before, from, to, lag, period, amplitude } of waveStepsOf(study, chain)) {
    const enough = Math.min(least, leastShare * period);
    if (lag >= enough) continue;
    const joints = chain.joints.slice(chain.joints.indexOf(node));
    return { node, before, from, to, lag, least: enough, amplitude, joints };
  }
  return null;
}

/**
 * What is found of a beating chain whose joints do not bend one after the other; null for nothing.
 * @param asked judged frames by which each has to come behind the one before it @param source of that number
 */
export function waveFinding(
  study: Study,
  figure: number,
  chain: BeatingChain,
  asked: number,
  source: string,
): NoDragFinding | null {
  const wave = inPhaseIn(study, chain, asked);
  if (wave === null) return null;
  const { node, before, from, to, lag, least, amplitude, joints } = wave;
  return {
    ...findingOf(study, figure, joints, node, from, to),
    measured: { quantity: "lag behind the joint before, in its beat", value: lag, unit: "frames" },
    expected: { min: least, unit: "frames", source },
    excess: 1 + (least - lag) / Math.max(least, 1e-6) / 2,
    numbers: {
      ...numbersOf(study, joints, node),
      before,
      response: 2 * amplitude,
      lag,
      stiff: 0,
      shift: shiftOf(study, lag),
      missing: -1,
      beats: 1,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, joints, from, to, 3) },
  };
}
