import { measure, type Study, shotMeasure } from "../../../base/study.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import { curveNamesOf, curveOf } from "../../../document/inputs.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { crowdedKeysOf } from "../shared/crowded.ts";
import { curvesOf, type KeyPlace, runsOfPlaces } from "../shared/places.ts";

/** With the keys that are meant, all of them: a note names the first. */
export interface KeyOffFrameFinding extends Finding {
  readonly numbers: { readonly keys: number; readonly curves: number };
  readonly places: readonly KeyPlace[];
}

const settings = {
  tolerance: {
    default: 0.01,
    unit: "count",
    what: "how far from a whole frame a key may stand, in the document's frames; at least 0.01",
    source: "common practice: rounding in file formats stays below a hundredth of a frame",
    min: 0.01,
    max: 0.5,
  },
  share: {
    default: 0.25,
    unit: "share",
    what: "share of all keys between frames from which on the document counts as sampled at another rate",
    source:
      "common practice: keys that slip are few; a re-timed or captured document has most of them between frames",
    min: 0,
    max: 1,
  },
} as const;

/** Indices of a curve's keys that stand further than a hundredth of a frame from a whole one. */
function offKeysOf(study: Study, name: string): readonly number[] {
  return curveTraitsOf(study, name)?.isWhole === false ? someOffKeysOf(study, name) : noKeys;
}
const noKeys: readonly number[] = [];
const someOffKeysOf = measure<string, readonly number[]>("keys between frames", (study, name) => {
  const frames = curveOf(study, name)?.frames ?? none;
  const off: number[] = [];
  for (let key = 0; key < frames.length; key++) {
    const frame = frames[key];
    // Nearly all keys stand on whole frames, which is cheaper to see than a distance.
    if (frame === (frame | 0)) continue;
    if (Math.abs(frame - Math.round(frame)) > settings.tolerance.default) off.push(key);
  }
  return off;
});
const none = new Float64Array(0);

/** Share of the shot's keys that stand between frames. */
const offShareOf = shotMeasure<number>("share of keys between frames", (study) => {
  let off = 0;
  let all = 0;
  for (const name of curveNamesOf(study)) {
    off += offKeysOf(study, name).length;
    all += curveOf(study, name)?.frames.length ?? 0;
  }
  return all === 0 ? 0 : off / all;
});

/** Whether a key is one of two within a frame, of which another check tells. */
function isCrowded(study: Study, name: string, key: number): boolean {
  return crowdedKeysOf(study, name).some((second) => second === key || second === key + 1);
}

/** Keys between frames. */
export const keyOffFrame = defineCheck({
  name: "key-off-frame",
  title: "Key between frames",
  family: "data",
  scope: "node",
  ceiling: "polish",
  what: "A key stands between two frames.",
  why: "The picture never shows the pose that was keyed: it shows what the curve does just before and just after.",
  computes:
    "The distance of each key in the judged range from the nearest whole frame. Keys of one node that follow each other within a second are one note, whichever curves they are on; it tells the largest distance.",
  fix: "Move the key onto the nearest frame.",
  notAFault: [
    "documents that were sampled at another rate: most of their keys stand between frames",
    "one of two keys within a frame: `key-crowding` tells of them",
  ],
  limits: ["A note names the first keys; further ones are counted, not listed."],
  sources: ["Common practice: keys are set on whole frames"],
  since: "0.1.0",
  settings,
  find(study, node, values) {
    const { frames, count } = gridOf(study);
    const first = frames[0];
    const last = frames[count - 1];
    const runs = runsOfPlaces(study, node, (name, curve) =>
      offKeysOf(study, name)
        .map((index): KeyPlace => ({ curve, index, frame: curve.frames[index] }))
        .filter(
          ({ frame, index }) =>
            frame >= first &&
            frame <= last &&
            distanceOf(frame) > values.tolerance &&
            !isCrowded(study, name, index),
        ),
    );
    if (runs.length === 0 || offShareOf(study) >= values.share) return [];
    return runs.map((places) => findingOf(study, node, places, values.tolerance));
  },
  word(finding, words) {
    const { keys, curves } = finding.numbers;
    const key = words.keys[0];
    const channel = key?.channel ?? "a curve";
    const frame = key?.frame ?? words.frame(finding.from);
    const counted = `${keys === 1 ? "1 key" : `${keys} keys`} of ${curves === 1 ? channel : `${curves} curves`}`;
    const where = keys === 1 ? `at ${frame}` : `the first at ${frame}`;
    return {
      message: `${words.part}: ${counted} between frames, ${where}${curves === 1 ? "" : ` in ${channel}`}`,
      suggestion: `move ${keys === 1 ? "it" : "them"} onto the nearest frame${key === undefined ? "" : ` (${key.frame} to ${Math.round(key.frame)})`}`,
    };
  },
});

/** Distance from the nearest whole frame. */
const distanceOf = (frame: number) => Math.abs(frame - Math.round(frame));

function findingOf(
  study: Study,
  node: number,
  places: readonly KeyPlace[],
  tolerance: number,
): KeyOffFrameFinding {
  const grid = gridOf(study);
  const furthest = Math.max(...places.map(({ frame }) => distanceOf(frame)));
  return {
    node,
    figure: figureOfNode(study, node),
    from: sampleAt(grid, places[0].frame),
    to: sampleAt(grid, places[places.length - 1].frame),
    measured: { quantity: "distance from a whole frame", value: furthest, unit: "frames" },
    expected: { max: tolerance, unit: "frames", source: settings.tolerance.source },
    excess: 1,
    size: 0,
    numbers: { keys: places.length, curves: curvesOf(places) },
    places,
    fault: {
      kind: "keys",
      keys: places
        .slice(0, mostNamed)
        .map(({ curve: { node, channel }, index }) => ({ node, channel, index })),
    },
  };
}

/** At most so many keys are named (our choice). */
const mostNamed = 6;
