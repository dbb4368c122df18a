import { inDegrees } from "../../../base/constants.ts";
import { tangents } from "../../../base/rotation-vector.ts";
import type { Study } from "../../../base/study.ts";
import { isJolted, type Jolted } from "../../../motion/body/jolt.ts";
import { carriedTurns } from "../../../motion/path/carried.ts";
import { framesAt, longestPose } from "../../../motion/path/held.ts";
import { gathered } from "../../../motion/path/shown.ts";
import { offPath, type Spike } from "../../../motion/path/spike.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Finding } from "../../check.ts";
import { standsNear } from "../shared/touch.ts";
import { offCourse, type Stray } from "./off-course.ts";
import { isHeavy } from "./stray.ts";
import { isSwitched } from "./switched.ts";

/** With numbers in working units. */
export interface PopFinding extends Finding {
  /** Of a turn its angle, radians, and whether it is against the parent; 0 of a place. */
  readonly numbers: { readonly angle: number; readonly own: number };
}

/**
 * A place that leaves its path.
 * @param shown grid indices of the samples that are shown; the spike counts in them
 * @param source of the least deviation that counts
 * @returns null where something explains it
 */
export function positionFinding(
  study: Study,
  node: number,
  shown: Int32Array,
  spike: Spike | Stray,
  source: string,
): PopFinding | null {
  const place = placeOf(study, node, shown, spike, "position");
  if (place === null) return null;
  return {
    ...place.range,
    measured: { quantity: "deviation from the path", value: spike.deviation, unit: "m" },
    expected: { max: atMost(spike), unit: "m", source: source },
    excess: (isSpike(spike) ? spike.counted : spike.deviation) / spike.limit,
    size: spike.deviation,
    numbers: { angle: 0, own: 0 },
    fault: {
      kind: "position",
      subject: node,
      ...place.window,
      sees: ["pop", place.local, place.at, spike.length],
      strength: (series) => {
        const path = gathered(series, place.local);
        return isSpike(spike)
          ? offPath(path, place.at, spike.length)
          : offCourse(path, place.at, spike.length);
      },
    },
  };
}

/**
 * A turn that leaves its course: {@link positionFinding} in angles.
 * @param isOwn whether it is the turn against the parent
 */
export function angleFinding(
  study: Study,
  node: number,
  shown: Int32Array,
  spike: Spike | Stray,
  isOwn: boolean,
  source: string,
): PopFinding | null {
  const place = placeOf(study, node, shown, spike, "orientation");
  if (place === null) return null;
  const { lo, from, to } = place.window;
  // The trunk pops over its feet, however they stand.
  if (isOwn && isSpike(spike) && standsNear(study, node, from, to)) return null;
  const carrier = isOwn ? turnsBetween(study, rigOf(study).parent[node], lo, place.window.hi) : null;
  return {
    ...place.range,
    measured: { quantity: "deviation in angle", value: inDegrees(spike.deviation), unit: "deg" },
    expected: { max: inDegrees(atMost(spike)), unit: "deg", source: source },
    excess: (isSpike(spike) ? spike.counted : spike.deviation) / spike.limit,
    size: spike.deviation * reachOf(study, node),
    numbers: { angle: spike.deviation, own: isOwn ? 1 : 0 },
    fault: {
      kind: "orientation",
      subject: node,
      ...(isOwn && { top: node }),
      ...place.window,
      sees: ["pop in angle", place.local, place.at, spike.length, carrier ?? []],
      strength: (series) => {
        const turns = tangents(carrier === null ? series : carriedTurns(series, carrier), place.local);
        return turns === null ? 0 : offCourse(turns, place.at, spike.length);
      },
    },
  };
}

/**
 * Grid indices of a spike and of the window around it; null where an impact of the body or a switched pose explains it.
 */
function placeOf(study: Study, node: number, shown: Int32Array, spike: Spike | Stray, kind: Jolted) {
  const from = shown[spike.at];
  const to = shown[spike.at + spike.length - 1];
  const figure = figureOfNode(study, node);
  if (isSpike(spike) && lastsAsPose(study, shown, spike)) return null;
  // A jolt is over within a frame: what is heavy is not held off its way for a second one, as a leg is that gives.
  const isHeld = isSpike(spike) && spike.length > 1 && isHeavy(study, node);
  if (!isHeld && isJolted(study, node, from, to, kind)) return null;
  if (!("isFlicker" in spike) && isSwitched(study, node, shown, spike, kind)) return null;
  const first = Math.max(0, spike.at - 3);
  const last = Math.min(shown.length - 1, spike.at + spike.length + 2);
  const lo = shown[first];
  const hi = shown[last];
  return {
    range: {
      ...(isSpike(spike) || isHeavy(study, node) ? {} : { ceiling: "minor" as const }),
      ...{ node, figure, from, to },
    },
    window: { lo, hi, from, to: Math.min(gridOf(study).count - 1, to) },
    /** Shown samples within the window, counted from lo. */
    local: shown.subarray(first, last + 1).map((index) => index - lo),
    at: spike.at - first,
  };
}

/** Whether poses are shown for longer than one on threes: that is seen as a pose, and not as a flicker. */
function lastsAsPose(study: Study, shown: Int32Array, { at, length }: Spike): boolean {
  return shown[at + length] - shown[at] > framesAt(gridOf(study).rate, longestPose);
}

/** World orientations of a node from one sample to another, 4 numbers each. */
function turnsBetween(study: Study, node: number, lo: number, hi: number): Float64Array {
  return worldOf(study, node).orientation.slice(4 * lo, 4 * hi + 4);
}

/** The deviation up to which nothing is said: what has to count, and what is free along the path. */
function atMost(spike: Spike | Stray): number {
  return spike.limit + (isSpike(spike) ? spike.deviation - spike.counted : 0);
}

const isSpike = (off: Spike | Stray): off is Spike => "counted" in off;
