import { gridOf } from "../../motion/grid.ts";
import { shownOf } from "../../motion/shown.ts";
import { turnPathOf } from "../../motion/turn-path.ts";
import { figureOfNode } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { reachOf } from "../../rig/reach.ts";
import { rigOf } from "../../rig/rig.ts";
import { tangents } from "../../rig/tangent.ts";
import type { Study } from "../../study/study.ts";
import { defineCheck, type Finding } from "../check.ts";
import { ownFindings } from "./paces.ts";

const settings = {
  rate: {
    default: 14,
    unit: "Hz",
    what: "reversals per second from which motion is jitter",
    source:
      "common practice: the fastest taps reach 6 to 7 Hz, which reverse 12 to 14 times a second (from memory); uncorrelated noise reverses at 73 % of the frames",
    min: 1,
  },
  floor: {
    default: 0.0015,
    unit: "H",
    what: "least distance of poses from the middle between their neighbours, in body heights (root mean square)",
    source: "common practice: 2.5 mm of a grown person, a pixel of a full figure in a 1080-line picture",
    min: 0,
  },
  ofSpacing: {
    default: 0.1,
    unit: "share",
    what: "least such distance as a share of the spacing there; less is lost in the movement",
    source: "common practice",
    min: 0,
  },
  window: {
    default: 0.75,
    unit: "s",
    what: "time over which reversals are counted",
    source: "common practice: shorter bursts are accents",
    min: 0.1,
  },
} as const;

type JitterValues = { readonly [K in keyof typeof settings]: number };

/** Jitter that is back within so many windows is the same jitter. */
const calmWindows = 3;
/** On twos there are fewer poses than reversals to be counted: this share of the poses is jitter at any pose rate. */
const ofPoses = 0.6;

/** Noise on a curve. */
export const jitter = defineCheck({
  name: "jitter",
  title: "Jitter",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  what: "A part trembles: it is pushed one way and the other from frame to frame.",
  why: "Bodies are too heavy to change direction many times a second; a tremble that is not acted reads as noise.",
  computes:
    "Travel and turning in the world, pose by pose: the vector from the middle between a pose's neighbours to the pose. Where it points against that of the pose before, the motion reverses, by the root of their product. Jitter is 14 reversals a second or more (or six tenths of the poses, if that is less) over 0.75 s that in the root mean square are above the floor and above a tenth of the spacing.",
  mend: "Smooth the keys of the channel that the note names, or take every second one out.",
  notAFault: ["a shiver that is acted: a waiver says so", "noise below the floor"],
  limits: ["Noise slower than 7 Hz is not told from movement."],
  sources: [],
  since: "0.1.0",
  settings,
  followsCause: true,
  find(study, node, values) {
    return ownFindings(tremble(study, node, values), rigOf(study).parent[node], (parent) =>
      tremble(study, parent, values),
    );
  },
  word({ from, to, numbers }, words) {
    const amount = numbers.turns === 1 ? words.angle(numbers.typical) : words.length(numbers.typical);
    const key = words.keys[0];
    const where = key === undefined ? "the keys there" : `the ${key.channel} keys of ${key.node}`;
    return {
      message: `${words.part} trembles at ${words.span(from, to)}, reversing ${Math.round(numbers.reversals)} times a second by ${amount}`,
      suggestion: `smooth ${where} over ${words.span(from, to)}, or take every second one out`,
    };
  },
});

function tremble(study: Study, node: number, values: JitterValues): Finding[] {
  const world = worldOf(study, node);
  const shown = shownOf(study, node);
  const found: Finding[] = [];
  if (world.still || shown.length < 5) return found;
  const travel = gathered(world.position, shown);
  for (const stretch of stretchesOf(study, shown, travel, values.floor, values)) {
    found.push(findingOf(study, node, travel, stretch, null));
  }
  const reach = reachOf(study, node);
  const turns = reach > 0 ? turnPathOf(study, node) : null;
  if (turns === null) return found;
  for (const stretch of stretchesOf(study, shown, turns, values.floor / reach, values)) {
    found.push(findingOf(study, node, turns, stretch, reach));
  }
  return found;
}

/** Poses from which to which a path reverses too often, and what too often is. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Poses per second, poses of a window, reversals in it from which it is jitter. */
  readonly perSecond: number;
  readonly span: number;
  readonly needed: number;
}

function stretchesOf(
  study: Study,
  shown: Int32Array,
  path: Float64Array,
  floor: number,
  values: JitterValues,
): readonly Stretch[] {
  const count = shown.length;
  const perSecond = (gridOf(study).rate * (count - 1)) / (shown[count - 1] - shown[0]);
  const span = Math.max(4, Math.round(values.window * perSecond));
  const needed = Math.max(3, Math.min(values.rate / perSecond, ofPoses) * span);
  if (measurePushes(path, count, (floor / 4) ** 2) < needed) return none;
  const least = span * floor * floor;
  const share = values.ofSpacing * values.ofSpacing;
  const stretches: Stretch[] = [];
  let [reversals, pushes, steps] = [0, 0, 0];
  let from = -1;
  let to = -1;
  for (let i = 1; i < count - 1; i++) {
    const out = i - span;
    const push = against[i];
    if (push > 0) {
      reversals++;
      pushes += push;
    }
    steps += spacing[i];
    if (out >= 1) {
      if (against[out] > 0) {
        reversals--;
        pushes -= against[out];
      }
      steps -= spacing[out];
    }
    if (reversals >= needed && pushes >= least && pushes >= share * steps) {
      if (from < 0) from = Math.max(1, out + 1);
      to = i;
    } else if (from >= 0 && i - to > calmWindows * span) {
      stretches.push({ ...trimmed(from, to), perSecond, span, needed });
      from = -1;
    }
  }
  if (from >= 0) stretches.push({ ...trimmed(from, to), perSecond, span, needed });
  return stretches;

  /** Without the calm poses that its first and its last window reach over. */
  function trimmed(first: number, last: number): { from: number; to: number } {
    let [start, end] = [first, last];
    while (start < end && against[start] < 0.1 * floor * floor) start++;
    while (end > start && against[end] < 0.1 * floor * floor) end--;
    return { from: start, to: end };
  }
}

const none: readonly Stretch[] = [];

/** Per pose: how far it is pushed against the push before, and its spacing, both squared; see {@link measurePushes}. */
let against = new Float64Array(0);
let spacing = new Float64Array(0);

/**
 * Works out, per pose, its push (the vector to it from the middle between its neighbours) against that of the pose
 * before: minus their product where they point apart by more than `least`, else 0. Returns how often they do.
 * @param least a quarter of the floor, squared: rounding in motion that is calm is no tremble
 */
function measurePushes(path: Float64Array, count: number, least: number): number {
  if (against.length < count) {
    against = new Float64Array(count);
    spacing = new Float64Array(count);
  }
  let total = 0;
  let [x, y, z] = [0, 0, 0];
  for (let i = 1, k = 3; i < count - 1; i++, k += 3) {
    const nx = path[k] - (path[k - 3] + path[k + 3]) / 2;
    const ny = path[k + 1] - (path[k - 2] + path[k + 4]) / 2;
    const nz = path[k + 2] - (path[k - 1] + path[k + 5]) / 2;
    const sx = path[k + 3] - path[k - 3];
    const sy = path[k + 4] - path[k - 2];
    const sz = path[k + 5] - path[k - 1];
    const apart = -(nx * x + ny * y + nz * z);
    against[i] = apart > least ? apart : 0;
    spacing[i] = (sx * sx + sy * sy + sz * sz) / 4;
    if (apart > least) total++;
    x = nx;
    y = ny;
    z = nz;
  }
  return total;
}

function findingOf(
  study: Study,
  node: number,
  path: Float64Array,
  { from, to, perSecond, span, needed }: Stretch,
  reach: number | null,
): Finding {
  const shown = shownOf(study, node);
  const reversals = reversalsIn(path, from, to) * perSecond;
  const typical = meanPush(path, from, to);
  const limit = (needed / span) * perSecond;
  const seen = reach ?? 1;
  // The causing channel shows in any part of a long stretch.
  const last = Math.min(to, from + 2 * span);
  const lo = shown[Math.max(0, from - 1)];
  const window = shown.subarray(Math.max(0, from - 1), last + 2).map((index) => index - lo);
  return {
    node,
    figure: figureOfNode(study, node),
    from: shown[from],
    to: shown[to],
    measured: { quantity: "reversals per second", value: reversals, unit: "Hz" },
    expected: { max: limit, unit: "Hz", source: settings.rate.source },
    excess: reversals / limit,
    size: typical * seen,
    numbers: { reversals, typical, turns: reach === null ? 0 : 1, seen },
    fault: {
      kind: reach === null ? "position" : "orientation",
      subject: node,
      lo,
      hi: shown[Math.min(shown.length - 1, last + 1)],
      from: shown[from],
      to: shown[last],
      strength: (series) => {
        const points = reach === null ? gathered(series, window) : tangents(series, window);
        return points === null ? 0 : roughness(points);
      },
    },
  };
}

/** Mean distance of the poses of a range from the middle between their neighbours. */
function meanPush(path: Float64Array, from: number, to: number): number {
  let sum = 0;
  const last = Math.min(to, path.length / 3 - 2);
  for (let i = from; i <= last; i++) {
    let square = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) square += (path[k] - (path[k - 3] + path[k + 3]) / 2) ** 2;
    sum += Math.sqrt(square);
  }
  return sum / Math.max(1, last - from + 1);
}

/** Share of the poses of a range at which the path reverses. */
function reversalsIn(path: Float64Array, from: number, to: number): number {
  let reversals = 0;
  const last = Math.min(to, path.length / 3 - 2);
  for (let i = from + 1; i <= last; i++) {
    let dot = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) {
      const here = path[k] - (path[k - 3] + path[k + 3]) / 2;
      const before = path[k - 3] - (path[k - 6] + path[k]) / 2;
      dot += here * before;
    }
    if (dot < 0) reversals++;
  }
  return to > from ? reversals / (to - from) : 0;
}

/** Energy of the changes of acceleration along a path: noise is all of it, and that of several channels adds up. */
function roughness(path: Float64Array): number {
  let sum = 0;
  for (let k = 9; k < path.length; k++) {
    sum += (path[k] - 3 * path[k - 3] + 3 * path[k - 6] - path[k - 9]) ** 2;
  }
  return sum;
}

function gathered(series: Float64Array, poses: Int32Array): Float64Array {
  if (poses.length * 3 === series.length) return series;
  const out = new Float64Array(3 * poses.length);
  for (let i = 0; i < poses.length; i++) {
    const k = 3 * poses[i];
    out[3 * i] = series[k];
    out[3 * i + 1] = series[k + 1];
    out[3 * i + 2] = series[k + 2];
  }
  return out;
}
