// @ts-check
/**
 * A shot small enough to be told by heart, for tests of planting and scoring: one figure that waves, keyed on every
 * fourth frame, and faults that are as plain as can be.
 * @import { Body, BuiltShot, FaultKind, KeyedCurve, KeyedShot, Performance, Place, PlannedFault, ShotPlan } from "../types.d.ts"
 */
import { emptyPerformance } from "../motion/index.mjs";
import { posesOf, valueAt } from "../poses.mjs";
import { randomOf } from "../random.mjs";

/** @type {[string, string | null, import("../types.d.ts").Vector][]} */
const joints = [
  ["hips", null, [0, 0.95, 0]],
  ["chest", "hips", [0, 0.35, 0]],
  ["head", "chest", [0, 0.3, 0]],
  ["arm_l", "chest", [0.2, 0.15, 0]],
  ["forearm_l", "arm_l", [0.3, 0, 0]],
  ["hand_l", "forearm_l", [0.27, 0, 0]],
  ["arm_r", "chest", [-0.2, 0.15, 0]],
  ["forearm_r", "arm_r", [-0.3, 0, 0]],
  ["hand_r", "forearm_r", [-0.27, 0, 0]],
];

/** @type {Body} */
const body = {
  plan: "two legs",
  build: "tiny",
  joints: joints.map(([id, parent, at]) => ({ id, parent, at, order: "zxy" })),
  root: "hips",
  trunk: ["hips", "chest"],
  head: "head",
  limbs: [
    { kind: "arm", side: "left", joints: ["arm_l", "forearm_l", "hand_l"], girdle: "chest" },
    { kind: "arm", side: "right", joints: ["arm_r", "forearm_r", "hand_r"], girdle: "chest" },
  ],
  stature: 1.7,
  mass: 70,
  masses: Object.fromEntries(joints.map(([id]) => [id, 1 / joints.length])),
};

/** @returns {Performance} */
function perform() {
  const performance = emptyPerformance({ rate: 24, frames: 97, figures: [{ id: "waver", body }] });
  const driven = joints.slice(1).map(([id]) => id);
  driven.forEach((id, i) => {
    const [wide, phase] = [10 + 2 * i, 0.7 * i];
    performance.tracks.set(
      `${id} rotation.z`,
      Float64Array.from({ length: 97 }, (_, f) => wide * Math.sin((2 * Math.PI * f) / 48 + phase)),
    );
  });
  return performance;
}

/** @param {string} [seed] @returns {ShotPlan} */
export const tinyPlan = (seed = "tiny") => ({
  name: seed,
  seed,
  perform,
  style: { stage: "splined", spacing: 4, interpolation: "smooth", offset: 0 },
  dressing: {
    metresPerUnit: 1,
    declaresUnit: true,
    up: "y",
    rename: (joint) => joint,
    declaresFigures: true,
    declaresGround: false,
    declaresContacts: false,
  },
  body: "two legs",
});

/** @param {ShotPlan} plan @param {readonly PlannedFault[]} faults @returns {BuiltShot} */
export function tinyBuild(plan, faults) {
  const performance = plan.perform();
  for (const { kind, place, strength, seed } of faults) {
    kind.perform?.(performance, place, kind.sizes[strength].value, randomOf(seed));
  }
  const keyed = keyedOf(performance, plan);
  for (const { kind, place, strength, seed } of faults) {
    kind.edit?.(keyed, place, kind.sizes[strength].value, randomOf(seed));
  }
  const document = documentOf(keyed);
  const names = new Map(joints.map(([id]) => [id, id]));
  return {
    document,
    text: JSON.stringify(document),
    keyed,
    poses: posesOf(keyed),
    jointOf: names,
    nodeOf: names,
  };
}

/** @param {Performance} performance @param {ShotPlan} plan @returns {KeyedShot} */
function keyedOf(performance, { style }) {
  /** @type {Map<string, KeyedCurve>} */
  const curves = new Map();
  for (const [name, values] of performance.tracks) {
    const [joint, channel] = name.split(" ");
    const keys = [];
    for (let i = 0; i < values.length; i += style.spacing) keys.push({ frame: 1 + i, value: values[i] });
    curves.set(name, {
      joint,
      channel: /** @type {"rotation.z"} */ (channel),
      interpolation: "smooth",
      keys,
    });
  }
  return { performance, style, curves };
}

/** @param {KeyedShot} keyed */
function documentOf({ performance, curves }) {
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "tiny", frameRate: performance.rate, range: [performance.first, performance.last] },
    space: { metresPerUnit: 1, up: "y", angle: "degrees" },
    nodes: joints.map(([id, parent, at]) => ({
      id,
      ...(parent === null ? {} : { parent }),
      translation: at,
      rotationOrder: "zxy",
    })),
    curves: [...curves.values()].map(({ joint, channel, interpolation, keys }) => ({
      node: joint,
      channel,
      interpolation,
      keys: keys.map(({ frame, value }) => [frame, value]),
    })),
  };
}

/** The way back from a document of {@link tinyBuild}: it is dressed in nothing. @type {import("./records.d.ts").Stage} */
export const tinyStage = {
  posesOf,
  ours: (_plan, _built, node, channel) => ({ joint: node, channel: /** @type {"rotation.z"} */ (channel) }),
  undressed: (_plan, built, edited) => {
    const curves = edited.map(({ node, channel, interpolation, keys }) => ({
      joint: node,
      channel: /** @type {"rotation.z"} */ (channel),
      interpolation,
      keys: [...keys],
    }));
    return {
      ...built.keyed,
      curves: new Map(curves.map((curve) => [`${curve.joint} ${curve.channel}`, curve])),
    };
  },
};

/** Degrees by which a channel is off its twin's, at most. @type {FaultKind["measure"]} */
const offBy = (poses, { joint, from, to }, twin) => {
  let most = 0;
  for (let frame = from; frame <= to; frame++) {
    const off = poses.channel(joint, "rotation.z", frame) - twin.channel(joint, "rotation.z", frame);
    most = Math.max(most, Math.abs(off));
  }
  return most;
};

/** @type {FaultKind["sizes"]} */
const sizes = [
  { value: 8, reason: "made up for tests" },
  { value: 15, reason: "made up for tests" },
  { value: 30, reason: "made up for tests" },
];

/** A joint that is turned away on one frame. @param {string} name @param {string} joint @param {number} frame @returns {FaultKind} */
export function jumpOf(name, joint, frame) {
  return {
    name,
    checks: ["pop"],
    unit: "° off the twin",
    sizes,
    layer: "keys",
    places: () => [{ figure: "waver", joint, from: frame, to: frame }],
    edit(shot, _place, size) {
      const curve = /** @type {KeyedCurve} */ (shot.curves.get(`${joint} rotation.z`));
      const at = [-1, 0, 1].map((off) => ({ frame: frame + off, value: valueAt(curve, frame + off) }));
      at[1].value += size;
      const others = curve.keys.filter((key) => Math.abs(key.frame - frame) > 1);
      curve.keys = [...others, ...at].sort((a, b) => a.frame - b.frame);
    },
    measure: offBy,
  };
}

/** A joint that is turned away over some frames, which no check calls wrong. @param {string} name @param {string} joint @param {number} from @param {number} to @returns {FaultKind} */
export function bendOf(name, joint, from, to) {
  return {
    name,
    checks: [],
    unit: "° off the twin",
    sizes,
    layer: "motion",
    places: () => [{ figure: "waver", joint, from, to }],
    perform(performance, _place, size) {
      const track = /** @type {Float64Array} */ (performance.tracks.get(`${joint} rotation.z`));
      for (let frame = from; frame <= to; frame++) {
        track[frame - performance.first] += size * Math.sin((Math.PI * (frame - from)) / (to - from));
      }
    },
    measure: offBy,
  };
}

/**
 * A joint that is turned away at a key, at one of several places.
 * @param {string} name @param {string} joint @param {readonly number[]} frames on which keys stand @returns {FaultKind}
 */
export function liftOf(name, joint, frames) {
  return {
    name,
    checks: [],
    unit: "° off the twin",
    sizes,
    layer: "motion",
    places: () => frames.map((frame) => ({ figure: "waver", joint, from: frame, to: frame })),
    perform(performance, { from }, size) {
      const track = /** @type {Float64Array} */ (performance.tracks.get(`${joint} rotation.z`));
      track[from - performance.first] += size;
    },
    measure: offBy,
  };
}

/** Kinds enough for a shot. @returns {FaultKind[]} */
export const tinyKinds = () => [
  jumpOf("jump of the left forearm", "forearm_l", 30),
  jumpOf("jump of the right forearm", "forearm_r", 62),
  jumpOf("jump of the left hand", "hand_l", 46),
  jumpOf("jump of the head", "head", 34),
  bendOf("bend of the left arm", "arm_l", 21, 53),
  bendOf("bend of the right arm", "arm_r", 41, 73),
  bendOf("bend of the chest", "chest", 25, 57),
  bendOf("bend of the right hand", "hand_r", 45, 69),
];

/** @param {Partial<Place>} [more] @returns {Place} */
export const placeWith = (more = {}) => ({ figure: "waver", joint: "forearm_l", from: 40, to: 50, ...more });
