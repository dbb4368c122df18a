import { degreesPerRadian } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { isCutBetween, stepsWithoutCuts } from "../../../motion/path/cuts.ts";
import { posesOf } from "../../../motion/path/pace.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault, Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface OverSpeedFinding extends Finding {
  readonly numbers: {
    readonly fastest: number;
    readonly limit: number;
    readonly turns: number;
    readonly frames: number;
    readonly takes: number;
    /** Rig index of what it is measured against, where that is not its parent or the world; else -1. */
    readonly against: number;
    /** Index into the list of efforts. */
    readonly effort: number;
  };
}

/** A stretch of samples over a limit. */
export interface Run {
  readonly from: number;
  readonly to: number;
}

/**
 * Runs of samples over a limit, among those of a range.
 * @param speed speed from the sample before to each sample; the first entry is not used
 */
export function runsOver(speed: Float64Array, limit: number, { from, to } = wholeOf(speed)): Run[] {
  const runs: { from: number; to: number }[] = [];
  for (let i = from; i <= to; i++) {
    // What is at the limit but for rounding is not over it.
    if (speed[i] <= limit * (1 + 1e-9)) continue;
    const run = runs[runs.length - 1];
    if (run !== undefined && run.to === i - 1) run.to = i;
    else runs.push({ from: i, to: i });
  }
  return runs;
}

function wholeOf(speed: Float64Array): Run {
  return { from: 1, to: speed.length - 1 };
}

/**
 * A series of speeds as it is seen: a cut from one held pose to the next is none, and a pose on twos or threes takes all
 * the frames for which the pose before it is shown.
 */
export function perPose(study: Study, node: number, series: Float64Array, cuts: Int32Array): Float64Array {
  const poses = posesOf(study, node);
  if (poses.length === series.length) return stepsWithoutCuts(series, null, cuts);
  const seen = floats(series.length);
  for (let k = 1; k < poses.length; k++) {
    const from = poses[k - 1];
    const to = poses[k];
    if (!isCutBetween(cuts, from, to)) seen.fill(series[to] / (to - from), from + 1, to + 1);
  }
  return seen;
}

/** Speed along the ground, from the sample before, m/s. */
export function groundSpeed(study: Study, node: number): Float64Array {
  const { rate } = gridOf(study);
  const path = worldOf(study, node).position;
  const speed = floats(path.length / 3);
  for (let i = 1; i < speed.length; i++) {
    speed[i] = lengthOf(path[3 * i] - path[3 * i - 3], path[3 * i + 2] - path[3 * i - 1]) * rate;
  }
  return speed;
}

/** What is over a limit in a run of samples, in the world or against the node's parent. */
export function findingOf(
  study: Study,
  node: number,
  { from, to }: Run,
  speed: Float64Array,
  limit: number,
  source: string,
  turns: boolean,
): OverSpeedFinding {
  const { dt } = gridOf(study);
  let fastest = 0;
  let way = 0;
  for (let i = from; i <= to; i++) {
    fastest = Math.max(fastest, speed[i]);
    way += speed[i] * dt;
  }
  const frames = to - from + 1;
  const unit = turns ? "deg/s" : "m/s";
  const scale = turns ? degreesPerRadian : 1;
  return {
    node,
    figure: figureOfNode(study, node),
    from: from - 1,
    to,
    measured: { quantity: turns ? "speed of turning" : "speed", value: fastest * scale, unit },
    expected: { max: limit * scale, unit, source },
    excess: fastest / limit,
    size: way * (turns ? reachOf(study, node) : 1),
    numbers: {
      fastest,
      limit,
      turns: turns ? 1 : 0,
      frames,
      takes: Math.ceil(way / (limit * dt)),
      against: -1,
      effort: 0,
    },
    fault: turns ? { kind: "keys", keys: keysOfNodes(study, [node], from, to) } : travelFault(node, from, to),
  };
}

function travelFault(node: number, from: number, to: number): Fault {
  return {
    kind: "position",
    subject: node,
    lo: from - 1,
    hi: to,
    from: from - 1,
    to,
    sees: ["travel"],
    strength: (series) => {
      let furthest = 0;
      for (let i = 3; i < series.length; i += 3) {
        furthest = Math.max(
          furthest,
          lengthOf(series[i] - series[i - 3], series[i + 1] - series[i - 2], series[i + 2] - series[i - 1]),
        );
      }
      return furthest;
    },
  };
}
