// @ts-check
/**
 * Skeletons without names: joints by what they are, in metres, y up, facing +z, as rest poses stand. Proportions are
 * rounded from memory: what is to be told apart is people from animals and animals from each other, not breeds.
 * @typedef {{ key: string, parent: string | null, at: [number, number, number] }} Joint
 * @typedef {{ plan: string, stature: number, joints: Joint[] }} Shape
 */

/** @param {string} key @param {string | null} parent @param {number} x @param {number} y @param {number} z @returns {Joint} */
const joint = (key, parent, x, y, z) => ({ key, parent, at: [x, y, z] });
const sides = /** @type {const} */ ([
  ["left", 1],
  ["right", -1],
]);

/** @param {{ fingers?: boolean, arms?: readonly string[], toes?: boolean }} [options] @returns {Shape} */
export function person({ fingers = true, arms = ["left", "right"], toes = true } = {}) {
  const joints = [
    joint("hips", null, 0, 0.95, 0),
    joint("spine1", "hips", 0, 0.12, 0),
    joint("spine2", "spine1", 0, 0.14, 0),
    joint("chest", "spine2", 0, 0.12, 0),
    joint("neck", "chest", 0, 0.16, 0),
    joint("head", "neck", 0, 0.08, 0.01),
    joint("headTip", "head", 0, 0.19, 0),
  ];
  for (const [side, sign] of sides) {
    joints.push(
      joint(`${side}Thigh`, "hips", 0.1 * sign, -0.05, 0),
      joint(`${side}Shin`, `${side}Thigh`, 0, -0.42, 0.01),
      joint(`${side}Foot`, `${side}Shin`, 0, -0.41, -0.01),
    );
    if (toes) {
      joints.push(
        joint(`${side}Toe`, `${side}Foot`, 0, -0.06, 0.14),
        joint(`${side}ToeTip`, `${side}Toe`, 0, -0.01, 0.07),
      );
    }
    if (!arms.includes(side)) continue;
    joints.push(
      joint(`${side}Collar`, "chest", 0.03 * sign, 0.12, 0),
      joint(`${side}UpperArm`, `${side}Collar`, 0.15 * sign, 0, 0),
      joint(`${side}Forearm`, `${side}UpperArm`, 0.29 * sign, 0, 0),
      joint(`${side}Hand`, `${side}Forearm`, 0.26 * sign, 0, 0),
    );
    if (!fingers) continue;
    for (const [n, finger] of ["thumb", "index", "middle"].entries()) {
      joints.push(
        joint(`${side}${finger}1`, `${side}Hand`, 0.08 * sign, 0, 0.03 - 0.03 * n),
        joint(`${side}${finger}2`, `${side}${finger}1`, 0.04 * sign, 0, 0),
      );
    }
  }
  return { plan: "two legs", stature: 1.7, joints };
}

/** A dog's build: paws under the body, a hock behind. @returns {Shape} */
export function dog() {
  const joints = [
    joint("hips", null, 0, 0.52, -0.3),
    joint("spine1", "hips", 0, 0.02, 0.2),
    joint("chest", "spine1", 0, -0.01, 0.3),
    joint("neck", "chest", 0, 0.14, 0.14),
    joint("head", "neck", 0, 0.1, 0.1),
    joint("headTip", "head", 0, -0.04, 0.18),
    joint("tail1", "hips", 0, 0.03, -0.1),
    joint("tail2", "tail1", 0, -0.05, -0.12),
    joint("tail3", "tail2", 0, -0.05, -0.1),
  ];
  for (const [side, sign] of sides) {
    joints.push(
      joint(`${side}Collar`, "chest", 0.06 * sign, 0.06, 0.04),
      joint(`${side}UpperArm`, `${side}Collar`, 0.02 * sign, -0.14, 0.06),
      joint(`${side}Forearm`, `${side}UpperArm`, 0, -0.16, -0.08),
      joint(`${side}Hand`, `${side}Forearm`, 0, -0.22, 0.02),
      joint(`${side}HandTip`, `${side}Hand`, 0, -0.05, 0.06),
      joint(`${side}Thigh`, "hips", 0.08 * sign, -0.03, 0),
      joint(`${side}Shin`, `${side}Thigh`, 0, -0.19, 0.06),
      joint(`${side}Hock`, `${side}Shin`, 0, -0.16, -0.12),
      joint(`${side}Foot`, `${side}Hock`, 0, -0.11, 0.03),
      joint(`${side}ToeTip`, `${side}Foot`, 0, -0.03, 0.06),
    );
  }
  return { plan: "four legs", stature: 1, joints };
}

/** A bird that stands: wings half open. @returns {Shape} */
export function bird() {
  const joints = [
    joint("hips", null, 0, 0.32, 0),
    joint("chest", "hips", 0, 0.08, 0.1),
    joint("neck", "chest", 0, 0.1, 0.06),
    joint("head", "neck", 0, 0.08, 0.04),
    joint("headTip", "head", 0, -0.02, 0.1),
    joint("tail1", "hips", 0, 0, -0.14),
    joint("tail2", "tail1", 0, -0.02, -0.1),
  ];
  for (const [side, sign] of sides) {
    joints.push(
      joint(`${side}Wing1`, "chest", 0.05 * sign, 0.02, 0),
      joint(`${side}Wing2`, `${side}Wing1`, 0.16 * sign, 0.04, -0.03),
      joint(`${side}Wing3`, `${side}Wing2`, 0.2 * sign, 0.02, -0.02),
      joint(`${side}Thigh`, "hips", 0.05 * sign, -0.04, 0),
      joint(`${side}Shin`, `${side}Thigh`, 0, -0.1, 0.05),
      joint(`${side}Foot`, `${side}Shin`, 0, -0.15, -0.06),
      joint(`${side}Toe`, `${side}Foot`, 0, -0.02, 0.04),
      joint(`${side}ToeTip`, `${side}Toe`, 0, -0.01, 0.05),
    );
  }
  return { plan: "wings", stature: 0.9, joints };
}

/** Insects and spiders: pairs of legs that spread from one trunk. @param {3 | 4} pairs @returns {Shape} */
export function crawler(pairs) {
  const joints = [
    joint("hips", null, 0, 0.3, 0),
    joint("abdomen", "hips", 0, 0.02, -0.3),
    joint("head", "hips", 0, 0.04, 0.3),
    joint("headTip", "head", 0, 0, 0.14),
  ];
  for (let n = 1; n <= pairs; n++) {
    const z = 0.2 - (0.4 * (n - 1)) / (pairs - 1);
    for (const [side, sign] of sides) {
      joints.push(
        joint(`${side}Leg${n}a`, "hips", 0.1 * sign, 0, z),
        joint(`${side}Leg${n}b`, `${side}Leg${n}a`, 0.2 * sign, 0.14, 0),
        joint(`${side}Leg${n}c`, `${side}Leg${n}b`, 0.14 * sign, -0.3, 0),
        joint(`${side}Leg${n}d`, `${side}Leg${n}c`, 0.03 * sign, -0.14, 0),
      );
    }
  }
  return { plan: pairs === 3 ? "six legs" : "eight legs", stature: 0.9, joints };
}

/** A chain that lies on the floor. @param {number} links @returns {Shape} */
export function snake(links = 10) {
  const joints = [joint("hips", null, 0, 0.04, 0)];
  for (let n = 1; n < links; n++) {
    joints.push(joint(`spine${n}`, n === 1 ? "hips" : `spine${n - 1}`, 0, 0, 0.2));
  }
  joints.push(joint("head", `spine${links - 1}`, 0, 0, 0.2));
  return { plan: "no legs", stature: 0.2 * links, joints };
}

/** A fish: a chain with fins, in the water. @returns {Shape} */
export function fish() {
  const joints = [
    joint("hips", null, 0, 2, 0),
    joint("head", "hips", 0, 0, 0.2),
    joint("headTip", "head", 0, 0, 0.15),
    joint("tail1", "hips", 0, 0, -0.2),
    joint("tail2", "tail1", 0, 0, -0.2),
    joint("tail3", "tail2", 0, 0, -0.2),
  ];
  for (const [side, sign] of sides) joints.push(joint(`${side}Fin1`, "hips", 0.1 * sign, -0.05, 0.05));
  return { plan: "no legs", stature: 0.95, joints };
}

/** A lamp on a desk: a figure that is a thing. @returns {Shape} */
export function lamp() {
  return {
    plan: "no legs",
    stature: 0.6,
    joints: [
      joint("hips", null, 0, 0, 0),
      joint("rod1", "hips", 0, 0.1, 0),
      joint("rod2", "rod1", 0, 0.25, 0.05),
      joint("shade", "rod2", 0, 0.15, 0.15),
      joint("bulb", "shade", 0, -0.06, 0.08),
    ],
  };
}
