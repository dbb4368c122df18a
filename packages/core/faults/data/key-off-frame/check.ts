import { measure, type Study, shotMeasure } from "../../../base/study.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import { curveNamesOf, curveOf } from "../../../document/inputs.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";

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

/** Keys between frames. */
export const keyOffFrame = defineCheck({
  name: "key-off-frame",
  title: "Key between frames",
  family: "data",
  scope: "curve",
  ceiling: "polish",
  what: "A key stands between two frames.",
  why: "The picture never shows the pose that was keyed: it shows what the curve does just before and just after.",
  computes: "The distance of each key in the judged range from the nearest whole frame.",
  fix: "Move the key onto the nearest frame.",
  notAFault: ["documents that were sampled at another rate: most of their keys stand between frames"],
  limits: ["One note per curve names the keys; further keys of the curve are counted, not listed."],
  sources: ["Common practice: keys are set on whole frames"],
  since: "0.1.0",
  settings,
  find(study, subject, values) {
    const name = curveNamesOf(study)[subject];
    const candidates = offKeysOf(study, name);
    if (candidates.length === 0) return [];
    const curve = curveOf(study, name);
    if (curve === null || offShareOf(study) >= values.share) return [];
    const grid = gridOf(study);
    const { frames, count } = grid;
    let furthest = 0;
    const off = candidates.filter((key) => {
      const frame = curve.frames[key];
      const distance = Math.abs(frame - Math.round(frame));
      if (distance <= values.tolerance || frame < frames[0] || frame > frames[count - 1]) return false;
      furthest = Math.max(furthest, distance);
      return true;
    });
    if (off.length === 0) return [];
    const node = rigOf(study).indexOf.get(curve.node) ?? -1;
    return [
      {
        node,
        figure: node < 0 ? -1 : figureOfNode(study, node),
        from: sampleAt(grid, curve.frames[off[0]]),
        to: sampleAt(grid, curve.frames[off[off.length - 1]]),
        measured: { quantity: "distance from a whole frame", value: furthest, unit: "frames" },
        expected: { max: values.tolerance, unit: "frames", source: settings.tolerance.source },
        excess: 1,
        size: 0,
        numbers: { keys: off.length, furthest },
        fault: {
          kind: "keys",
          keys: off.slice(0, 6).map((index) => ({ node: curve.node, channel: curve.channel, index })),
        },
      },
    ];
  },
  word(finding, words) {
    const { keys } = finding.numbers;
    const key = words.keys[0];
    return {
      message: `${words.part}: ${keys === 1 ? "1 key" : `${keys} keys`} of ${key?.channel ?? "a curve"} between frames, the first at ${key?.frame ?? words.frame(finding.from)}`,
      suggestion: `move ${keys === 1 ? "it" : "them"} onto the nearest frame${key === undefined ? "" : ` (${key.frame} to ${Math.round(key.frame)})`}`,
    };
  },
});
