import { excused } from "../../../base/excuse.ts";
import { conjugate, conjugateInto, rotated, rotateVector } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf, type Vector } from "../../../base/vector.ts";
import { bodyPathOf } from "../../../motion/body/body-path.ts";
import { carrierOf, figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { restOrientation } from "../../../rig/rest-turn.ts";
import { restPositionsOf, rigOf } from "../../../rig/rig.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { isLevel, pairOf } from "../twinning/pair.ts";

/** With numbers in working units. */
export interface RaisedShouldersFinding extends Finding {
  readonly numbers: { readonly mean: number; readonly share: number; readonly height: number };
}

const settings = {
  raise: {
    default: 0.012,
    unit: "H",
    what: "least height of the shoulder joint over where it rests on the chest",
    source: "common practice: two centimetres of a grown person, at which a neck looks short",
    min: 0,
  },
  share: {
    default: 0.7,
    unit: "share",
    what: "share of the frames with the arm down in which the shoulder is that high",
    source: "common practice: a shrug is an accent, not a state",
    min: 0,
    max: 1,
  },
  frames: {
    default: 12,
    unit: "frames",
    what: "least number of frames with the arm down",
    source: "common practice: half a second; an arm that hangs for less is passing between gestures",
    min: 1,
  },
} as const;

/** Shoulders held high through the shot. */
export const raisedShoulders = defineCheck({
  name: "raised-shoulders",
  title: "Raised shoulders",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "A shoulder is held high through the shot, arms down or not.",
  why: "Shoulders rise with the arm and fall with it; held high they read as tension that nothing in the shot explains.",
  computes:
    "The shoulder joint's height along the chest's own up axis against its place in the rest pose, in the frames in which the upper arm hangs below the level.",
  fix: "Lower the shoulder keys to the rest pose where the arm comes down.",
  notAFault: [
    "arms that are up",
    "figures whose shoulders have no joint to raise",
    "fore legs of a trunk that lies level in its rest pose: their shoulders rise as they carry it",
  ],
  limits: ["A rest pose with raised arms often raises the shoulders too; then this check sees less."],
  sources: ["Common practice: shoulders are brought down where nothing holds them up"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { parts } = figure;
    const { count } = gridOf(study);
    const found: RaisedShouldersFinding[] = [];
    const pair = pairOf(figure);
    if (pair !== null && isLevel(study, figure, pair)) {
      excused(
        pair.left,
        0,
        count - 1,
        "its trunk lies level: the blades of fore legs go up as they carry it",
      );
      return found;
    }
    for (const side of ["left", "right"] as const) {
      const clavicle = parts.get(`${side}Shoulder`)?.[0];
      const arm = parts.get(`${side}UpperArm`)?.[0];
      const elbow = parts.get(`${side}Forearm`)?.[0];
      if (clavicle === undefined || arm === undefined || elbow === undefined || clavicle === arm) continue;
      const raise = raiseOf(study, index, clavicle, arm);
      const a = bodyPathOf(study, arm);
      const b = bodyPathOf(study, elbow);
      let down = 0;
      let high = 0;
      let sum = 0;
      for (let i = 0; i < count; i++) {
        if (b[3 * i + 1] >= a[3 * i + 1]) continue;
        down++;
        if (raise[i] > values.raise) {
          high++;
          sum += raise[i];
        }
      }
      if (down < values.frames || high < values.share * down) continue;
      const mean = sum / high;
      found.push({
        node: clavicle,
        figure: index,
        from: 0,
        to: count - 1,
        measured: { quantity: "height of the shoulder over rest", value: mean, unit: "m" },
        expected: { max: values.raise, unit: "m", source: settings.raise.source },
        excess: mean / values.raise,
        size: mean,
        numbers: { mean, share: high / down, height: mean / statureOf(study, index) },
        fault: { kind: "keys", keys: keysOfNodes(study, [clavicle], 0, count - 1) },
      });
    }
    return found;
  },
  word(finding, words) {
    const { mean, share } = finding.numbers;
    return {
      message: `${words.part} is held ${words.length(mean)} over its rest in ${words.share(share)} of the frames with the arm down`,
      suggestion: `lower it by ${words.length(mean)} where the arm comes down`,
    };
  },
});

/** Height of an arm joint over its rest place on the clavicle's parent, along the chest's up axis, metres. */
function raiseOf(study: Study, index: number, clavicle: number, arm: number): Float64Array {
  const { count } = gridOf(study);
  const rig = rigOf(study);
  const base = rig.parent[clavicle];
  const rest = restPositionsOf(study);
  const perUnit = metresPerUnitOf(study);
  const world = worldOf(study, base < 0 ? clavicle : base);
  const joint = worldOf(study, arm).position;
  const out = floats(count);
  if (base < 0) return out;
  const local = new Float64Array(3);
  const inverse = new Float64Array(4);
  const upward = upInRest(study, index, base);
  // The chest turns with what it stands on, in the rest pose too: the height is told along its own axis.
  const up = rotated(conjugate(restOrientation(study, base), 0), upward);
  let atRest = 0;
  for (let k = 0; k < 3; k++) atRest += upward[k] * (rest[3 * arm + k] - rest[3 * base + k]) * perUnit;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) local[k] = joint[3 * i + k] - world.position[3 * i + k];
    conjugateInto(world.orientation, 4 * i, inverse, 0);
    rotateVector(inverse, 0, local, 0, local, 0);
    out[i] = up[0] * local[0] + up[1] * local[1] + up[2] * local[2] - atRest;
  }
  return out;
}

/** The body's up axis in the rest pose, from the hips to the node, as a unit vector. */
function upInRest(study: Study, index: number, node: number): Vector {
  const rest = restPositionsOf(study);
  const root = carrierOf(figuresOf(study)[index]);
  const [x, y, z] = [0, 1, 2].map((k) => rest[3 * node + k] - rest[3 * root + k]);
  const length = lengthOf(x, y, z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 1, 0];
}
