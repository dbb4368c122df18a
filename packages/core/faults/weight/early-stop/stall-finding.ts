import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Finding, Wording } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { Words } from "../../words.ts";
import { heightCause } from "../shared/height-cause.ts";
import type { Slack } from "./stall.ts";

/** Numbers of a stop in mid step, in working units. */
export interface StallNumbers {
  /** Share of its speed over the ground that is left. */
  readonly left: number;
  /** Samples from the stop to the landing, the landing, and the foot that lands. */
  readonly early: number;
  readonly lands: number;
  readonly foot: number;
  /** Samples at which the body goes fastest before and after. */
  readonly before: number;
  readonly after: number;
}

/** A body that stops in mid step, as a finding at its hips. @param expected the least share of its speed */
export function stallFinding(
  study: Study,
  figure: number,
  { foot, from, to, lands, before, after, left }: Slack,
  expected: { readonly min: number; readonly unit: "share"; readonly source: string },
): Finding & { readonly numbers: StallNumbers } {
  const { dt, frames, step } = gridOf(study);
  const hips = hipsOf(study, figure);
  const { position } = worldOf(study, hips);
  const speeds: number[] = [];
  for (let i = before; i < after; i++) {
    const k = 3 * i;
    speeds.push(lengthOf(position[k + 3] - position[k], position[k + 5] - position[k + 2]) / dt);
  }
  const own = Math.min(speeds[0], speeds[speeds.length - 1]);
  let behind = 0;
  for (let i = from; i <= to && i < after; i++) behind += Math.max(0, own - speeds[i - before]) * dt;
  const [x, z] = [0, 2].map((k) => position[3 * after + k] - position[3 * before + k]);
  const long = Math.max(lengthOf(x, z), Number.MIN_VALUE);
  const way = [x / long, 0, z / long] as const;
  return {
    node: hips,
    figure,
    from,
    to: lands,
    measured: { quantity: "share of its speed that is left", value: left, unit: "share" },
    expected,
    excess: (1 - left) / (1 - expected.min),
    // How far it would have come meanwhile at the lesser of its speeds around the stop.
    size: behind,
    numbers: { left, early: lands - from, lands, foot, before, after },
    fault: heightCause(study, hips, { from, to }, way) ?? {
      kind: "keys",
      keys: keysOfNodes(study, [hips], from, to, 3),
    },
    evidence: [
      {
        label: "speed of the hips over the ground",
        unit: "m/s",
        firstFrame: frames[before],
        step,
        values: speeds,
      },
    ],
  };
}

/** The note of a stop in mid step. */
export function stallWords(
  { left, early, lands, foot, before, after }: StallNumbers,
  from: number,
  words: Words,
): Wording {
  return {
    message: `body all but stops at frame ${words.frame(from)}, ${words.frames(early)} before the landing of ${words.name(foot)} at frame ${words.frame(lands)}: ${words.share(left)} of its speed is left`,
    suggestion: `carry it on at its speed from frame ${words.frame(before)} to frame ${words.frame(after)}, so that it comes over the foot as that lands`,
  };
}
