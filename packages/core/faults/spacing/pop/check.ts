import { inDegrees } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import { tangents } from "../../../base/rotation-vector.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { isJolted, type Jolted } from "../../../motion/body/jolt.ts";
import { gathered, shownOf } from "../../../motion/path/shown.ts";
import {
  deviations,
  mayHoldSpikes,
  pairDeviation,
  type Spike,
  spikesIn,
} from "../../../motion/path/spike.ts";
import { switchedOf } from "../../../motion/path/step-change.ts";
import { turnPathOf } from "../../../motion/path/turn-path.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import { framesFrom } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With numbers in working units. */
export interface PopFinding extends Finding {
  /** Of a place its spacing there, metres; of a turn its angle, radians. */
  readonly numbers: { readonly spacing: number } | { readonly angle: number };
}

const settings = {
  floor: {
    default: 0.003,
    unit: "H",
    what: "smallest deviation from the path that counts, in body heights",
    source:
      "common practice: about 5 mm of a grown person, three pixels where the figure fills 1,080 lines; smaller wobbles are left in",
    min: 0,
  },
  angleFloor: {
    default: 4,
    unit: "deg",
    what: "smallest deviation in angle that counts",
    source:
      "common practice: 4° move a fingertip 3 cm about its elbow (43 cm away); from there on a twitch of a joint is cleaned",
    min: 0,
  },
  spread: {
    default: 6,
    unit: "ratio",
    what: "how many times the local spread of deviations (median absolute deviation × 1.4826) a pop stands out",
    source:
      "common practice: twice the three spreads at which outlier filters usually cut (Hampel identifier), since motion has sharp accents",
    min: 1,
  },
  ofSpacing: {
    default: 0.2,
    unit: "share",
    what: "least share of the part's own spacing there; a smaller deviation is lost in the movement",
    source:
      "common practice: in a fast move a drawing may be off by a fifth of the gap to the next one; that reads as spacing, not as a pop",
    min: 0,
  },
} as const;

/** One or two frames in which a part leaves its path and comes back. */
export const pop = defineCheck({
  name: "pop",
  title: "Pop",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  what: "A part leaves its path for one or two frames and comes back.",
  why: "Nothing with weight can leave its path and return within a frame: the eye takes it for a flicker, not for movement.",
  computes:
    "For every frame the cubic through the two frames before and after it predicts where the part should be (for two frames, the four around them). A pop deviates by more than the floor and by more than six local spreads. It bends the path as a spike does (out, back twice, out), which a stop or a bounce does not. World positions and world orientations are judged alike, orientations as rotation vectors about the frame's own.",
  fix: "Take the key out, or give it the value that its neighbours predict.",
  notAFault: [
    "a jolt by an impact of the body within a frame: upward, and no greater than the impact can give",
    "frames held by step keys: the poses that are shown are judged",
    "poses that a step key switches, as an eyelid's",
  ],
  limits: ["Pops within three frames of the range's ends cannot be told from a start or a stop."],
  sources: [
    "Hampel identifier, median absolute deviation × 1.4826: robust statistics, common practice in signal processing",
  ],
  since: "0.1.0",
  settings,
  // A frame that repeats the one before leaves the path too, but it is the stumble that is seen.
  yieldsTo: ["hitch", "hard-stop", "hard-start", "rotation-flip"],
  followsCause: true,
  styles: { snappy: { spread: 1.5 } },
  isOfMoment: true,
  find(study, node, values) {
    const shown = shownOf(study, node);
    if (shown.length < 7) return [];
    const off = roomFor(shown.length);
    /** Spikes of a path that are seen within its own movement, and the deviation from which on each counts. */
    const seenSpikes = (points: Float64Array, floor: number) => {
      if (!mayHoldSpikes(points, floor)) return [];
      deviations(points, off);
      return spikesIn(points, off, floor, values.spread)
        .filter((spike) => spike.deviation >= values.ofSpacing * spacingAround(points, spike))
        .map((spike) => ({ spike, limit: Math.max(floor, values.spread * spike.spread) }));
    };
    const points = gathered(worldOf(study, node).position, shown);
    const found = seenSpikes(points, values.floor).flatMap(({ spike, limit }) => {
      return positionFinding(study, node, shown, points, spike, limit) ?? [];
    });
    const turns = turnPathOf(study, node);
    if (turns === null) return found;
    for (const { spike, limit } of seenSpikes(turns, values.angleFloor)) {
      const finding = angleFinding(study, node, shown, spike, limit);
      if (finding !== null && !found.some((other) => meets(other, finding))) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { measured, numbers, from, to } = finding;
    const amount = "angle" in numbers ? words.angle(numbers.angle) : words.length(measured.value);
    const time = words.frames(framesFrom(from, to));
    const key = words.keys[0];
    const where =
      key === undefined ? "the keys there" : `the ${key.channel} key at frame ${key.frame} of ${key.node}`;
    const how = measured.unit === "m" ? "leaves its path by" : "turns off its course by";
    return {
      message: `${words.part} ${how} ${amount} for ${time} at ${words.span(from, to)} and comes back`,
      suggestion: `take out ${where}, or move it ${amount} onto the path of its neighbours`,
    };
  },
});

let room = new Float64Array(0);

/** Deviations of the node that is looked at; the next node's are written over them. */
function roomFor(length: number): Float64Array {
  if (room.length < length) room = new Float64Array(length);
  return room.subarray(0, length);
}

function positionFinding(
  study: Study,
  node: number,
  shown: Int32Array,
  points: Float64Array,
  spike: Spike,
  limit: number,
): PopFinding | null {
  const place = placeOf(study, node, shown, spike, "position");
  if (place === null) return null;
  return {
    ...place.range,
    measured: { quantity: "deviation from the path", value: spike.deviation, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.floor.source },
    excess: spike.deviation / limit,
    size: spike.deviation,
    numbers: { spacing: spacingAround(points, spike) },
    fault: {
      kind: "position",
      subject: node,
      ...place.window,
      strength: (series) => offPath(gathered(series, place.local), place.at, spike.length),
    },
  };
}

function angleFinding(
  study: Study,
  node: number,
  shown: Int32Array,
  spike: Spike,
  limit: number,
): PopFinding | null {
  const place = placeOf(study, node, shown, spike, "orientation");
  if (place === null) return null;
  return {
    ...place.range,
    measured: { quantity: "deviation in angle", value: inDegrees(spike.deviation), unit: "deg" },
    expected: { max: inDegrees(limit), unit: "deg", source: settings.angleFloor.source },
    excess: spike.deviation / limit,
    size: spike.deviation * reachOf(study, node),
    numbers: { angle: spike.deviation },
    fault: {
      kind: "orientation",
      subject: node,
      ...place.window,
      strength: (series) => {
        const turns = tangents(series, place.local);
        return turns === null ? 0 : offPath(turns, place.at, spike.length);
      },
    },
  };
}

/**
 * Grid indices of a spike and of the window around it; null where an impact of the body or a switched pose explains it.
 */
function placeOf(study: Study, node: number, shown: Int32Array, spike: Spike, kind: Jolted) {
  const from = shown[spike.at];
  const to = shown[spike.at + spike.length - 1];
  const figure = figureOfNode(study, node);
  const switched = switchedOf(study, node);
  if (isJolted(study, node, from, to, kind)) return null;
  // A pose that is switched on and off again within two frames is switched at its start and just behind its end.
  for (let i = from; i <= to + 1; i++) {
    if (switched[i] !== 1) continue;
    excused(node, from, to, "a step key switches the pose there");
    return null;
  }
  const first = Math.max(0, spike.at - 3);
  const last = Math.min(shown.length - 1, spike.at + spike.length + 2);
  const lo = shown[first];
  const hi = shown[last];
  return {
    range: { node, figure, from, to },
    window: { lo, hi, from, to: Math.min(gridOf(study).count - 1, to) },
    /** Shown samples within the window, counted from lo. */
    local: shown.subarray(first, last + 1).map((index) => index - lo),
    at: spike.at - first,
  };
}

function offPath(points: Float64Array, at: number, length: 1 | 2): number {
  if (length === 2) return pairDeviation(points, at);
  const off = floats(points.length / 3);
  deviations(points, off);
  return off[at];
}

/** Median-like spacing of the samples around a spike, from those that it does not touch. */
function spacingAround(points: Float64Array, spike: Spike): number {
  const before = step(points, spike.at - 2);
  const after = step(points, spike.at + spike.length);
  return (before + after) / 2;
}

/** Distance from a sample to the next one. */
function step(points: Float64Array, i: number): number {
  const k = 3 * i;
  if (k < 0 || k + 5 >= points.length) return 0;
  return lengthOf(points[k + 3] - points[k], points[k + 4] - points[k + 1], points[k + 5] - points[k + 2]);
}

function meets(a: PopFinding, b: PopFinding): boolean {
  return a.from <= b.to + 1 && b.from <= a.to + 1;
}
