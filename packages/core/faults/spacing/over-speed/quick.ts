import { referenceRate } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { statureNear } from "../../../motion/path/moves.ts";
import { carriedTravelPaceOf } from "../../../motion/path/pace.ts";
import { relativeTurns } from "../../../motion/path/relative.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { pathBetween } from "../../../rig/hierarchy.ts";
import { limbCarrierOf } from "../../../rig/limb-carrier.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { assumedStature } from "../../../rig/stature.ts";
import { gridOf } from "../../../time/grid.ts";
import { type TurnLimit, turning } from "./limits.ts";
import { findingOf, type OverSpeedFinding, perPose, type Run, runsOver } from "./runs.ts";
import { carriedFault, turnFault } from "./turn-fault.ts";

type QuickName = "quickHead" | "quickTrunk" | "quickHand";
type QuickValues = { readonly [K in TurnLimit | QuickName]: number };

/** Whose utmost the quick limits are, as a sentence goes on. */
export const efforts = [
  "people turn their heads at",
  "pitchers turn their chests at",
  "boxers' hands reach",
] as const;

/** What is within the limits of a body, and quicker than people are even where they make an effort. */
export function quickOf(
  study: Study,
  node: number,
  part: BodyPart,
  values: QuickValues,
  sources: { readonly [K in QuickName]: string },
  over: readonly OverSpeedFinding[],
): OverSpeedFinding[] {
  const { parts, partOf } = figuresOf(study)[figureOfNode(study, node)];
  const [hips] = parts.get("root") ?? [];
  if (parts.get(part)?.[0] !== node || hips === undefined || hips === node) return [];
  const { rate } = gridOf(study);
  const rig = rigOf(study);
  const isHand = part === "leftHand" || part === "rightHand";
  if (!isHand && part !== "head" && part !== "chest") return [];
  const carrier =
    part === "chest" ? hips : isHand || parts.has("neck") ? limbCarrierOf(study, node) : rig.parent[node];
  if (carrier < 0 || !isAbove(rig, carrier, node)) return [];
  const chain = pathBetween(rig, carrier, node).slice(1);
  // What a joint turns too fast for any body is told of that joint.
  const isNew = ({ from, to }: Run) =>
    !over.some((one) => one.from <= to && one.to >= from) &&
    !chain.some((one) => {
      const limit = values[turning[partOf.get(one) ?? part] ?? "wrist"];
      return localAngularSpeedOf(study, one)
        .subarray(from, to + 1)
        .some((own) => own > limit);
    });
  if (isHand) {
    const limit = (values.quickHand * statureNear(study, node)) / assumedStature;
    const speed = lastingSpeeds(carriedSpeed(study, node), rate);
    return runsOver(peaksOf(speed, rate), limit)
      .filter((run) => isSudden(speed, run, rate) && isNew(run))
      .map((run) => quickFinding(study, chain, run, speed, limit, 2, sources.quickHand, carrier));
  }
  const name = part === "head" ? "quickHead" : "quickTrunk";
  const turns = relativeTurns(study, node, carrier).map((turn) => turn * rate);
  const speed = lastingSpeeds(perPose(study, node, turns, cutsOf(study, node)), rate);
  return runsOver(peaksOf(speed, rate), values[name])
    .filter(isNew)
    .map((run) =>
      quickFinding(study, chain, run, speed, values[name], part === "head" ? 0 : 1, sources[name], carrier),
    );
}

/** Whether a part has less than half of its greatest speed a frame (at 24 per second) before it. */
function isSudden(speed: Float64Array, { from, to }: Run, rate: number): boolean {
  let peak = from;
  for (let i = from; i <= to; i++) if (speed[i] > speed[peak]) peak = i;
  const before = peak - Math.max(1, Math.round(rate / referenceRate));
  return before >= 1 && speed[before] < 0.5 * speed[peak];
}

/** Speed of a node's travel in the frame of what carries its limb, from the sample before, m/s. */
function carriedSpeed(study: Study, node: number): Float64Array {
  const { rate, count } = gridOf(study);
  const { poses, steps } = carriedTravelPaceOf(study, node);
  const speed = floats(count);
  for (let k = 1; k < poses.length; k++) speed.fill(steps[k] * rate, poses[k - 1] + 1, poses[k] + 1);
  return speed;
}

function quickFinding(
  study: Study,
  chain: readonly number[],
  run: Run,
  speed: Float64Array,
  limit: number,
  effort: 0 | 1 | 2,
  source: string,
  against: number,
): OverSpeedFinding {
  const node = chain[chain.length - 1];
  const turns = effort !== 2;
  const place = { ...run, against, top: chain[0] };
  const finding = findingOf(study, node, run, peaksOf(speed, gridOf(study).rate), limit, source, turns);
  return {
    ...finding,
    ceiling: "minor",
    measured: { ...finding.measured, quantity: turns ? "peak speed of turning" : "peak speed" },
    size: findingOf(study, node, run, speed, limit, source, turns).size,
    numbers: { ...finding.numbers, against, effort },
    fault: turns ? turnFault(study, node, node, place) : carriedFault(study, node, place),
  };
}

/** Samples that half a frame of film (24 per second) lasts, one at least. */
const samplesSeen = (rate: number) => Math.max(1, Math.round(rate / (2 * referenceRate)));

/**
 * Speeds as they last for half a frame of film at least: a single sample of a recording at 100 per second is no move of a
 * body, but its noise, or makes up for one that stands there twice.
 */
function lastingSpeeds(speed: Float64Array, rate: number): Float64Array {
  const samples = samplesSeen(rate);
  if (samples === 1) return speed;
  const means = floats(speed.length);
  let sum = 0;
  for (let i = 1; i < speed.length; i++) {
    sum += speed[i];
    if (i > samples) sum -= speed[i - samples];
    means[i] = sum / samples;
  }
  return means;
}

/** The peak of a minimum-jerk move over its mean speed (Flash and Hogan 1985). */
const easedPeak = 1.875;

/**
 * Speeds as they are at their peak: what goes and comes to rest between two frames is eased between them, if a body does
 * it, and its peak is 1.875 times what the frames show. Only what is over twice the steps beside it goes so, and only
 * where a frame lasts long enough for a move.
 */
function peaksOf(speed: Float64Array, rate: number): Float64Array {
  if (samplesSeen(rate) > 1) return speed;
  const peaks = floats(speed.length);
  peaks.set(speed);
  for (let i = 2; i + 1 < speed.length; i++) {
    const beside = Math.max(speed[i - 1], speed[i + 1]);
    if (speed[i] > 2 * beside) peaks[i] = beside + easedPeak * (speed[i] - beside);
  }
  return peaks;
}
