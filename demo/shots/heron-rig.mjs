// @ts-check
/** The heron courier: its skeleton, the shot's frame of time and place, and the head of its document. */

export const rate = 24000 / 1001;
export const from = 1001;
export const to = 1122;
export const range = { from, to };
/** Top of the post, and the frame of touch-down. */
export const post = 120;
export const touch = 1068;

/** @returns {import("../motion/skeleton.mjs").Node[]} */
export function heronNodes() {
  /** @type {import("../motion/skeleton.mjs").Node[]} */
  const nodes = [
    { id: "body", translation: [0, post + 46, 0], rotationOrder: "yxz" },
    { id: "breast", parent: "body", translation: [0, 4, 16], rotationOrder: "yxz" },
    { id: "neck_1", parent: "breast", translation: [0, 5, 10], rotationOrder: "yxz" },
    { id: "neck_2", parent: "neck_1", translation: [0, 9, 5], rotationOrder: "yxz" },
    { id: "neck_3", parent: "neck_2", translation: [0, 11, 0], rotationOrder: "yxz" },
    { id: "neck_4", parent: "neck_3", translation: [0, 10, 2], rotationOrder: "yxz" },
    { id: "head", parent: "neck_4", translation: [0, 8, 2], rotationOrder: "yxz" },
    { id: "beak", parent: "head", translation: [0, -1, 5] },
    { id: "beak_end", parent: "beak", translation: [0, -1, 13] },
    { id: "eyelid", parent: "head", translation: [0, 2, 3] },
    { id: "tail_1", parent: "body", translation: [0, 0, -14], rotationOrder: "yxz" },
    { id: "tail_2", parent: "tail_1", translation: [0, 0, -9], rotationOrder: "yxz" },
    { id: "tail_end", parent: "tail_2", translation: [0, 0, -9] },
  ];
  for (const side of ["l", "r"]) {
    const out = side === "l" ? 1 : -1;
    nodes.push(
      { id: `wing_${side}`, parent: "breast", translation: [out * 6, 4, -2], rotationOrder: "zyx" },
      { id: `wing_mid_${side}`, parent: `wing_${side}`, translation: [out * 24, 0, 0], rotationOrder: "zyx" },
      { id: `wing_tip_${side}`, parent: `wing_mid_${side}`, translation: [out * 28, 0, 0], rotationOrder: "zyx" },
      { id: `wing_end_${side}`, parent: `wing_tip_${side}`, translation: [out * 34, 0, -4] },
      { id: `thigh_${side}`, parent: "body", translation: [out * 5, -4, 2], rotationOrder: "xzy" },
      { id: `shin_${side}`, parent: `thigh_${side}`, translation: [0, -22, 0] },
      { id: `foot_${side}`, parent: `shin_${side}`, translation: [0, -20, 0], rotationOrder: "xzy" },
      { id: `toe_${side}`, parent: `foot_${side}`, translation: [0, -2, 5] },
      { id: `toe_end_${side}`, parent: `toe_${side}`, translation: [0, 0, 5] },
    );
  }
  nodes.push(
    { id: "rope", translation: [0, post + 2, 52], rotationOrder: "yxz" },
    { id: "rope_end", parent: "rope", translation: [0, -14, 6] },
  );
  return nodes;
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes */
export function header(nodes) {
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "jetty_0040", frameRate: "24000/1001", range: [from, to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    figures: [
      {
        id: "courier",
        parts: {
          root: "body",
          chest: "breast",
          neck: ["neck_1", "neck_2", "neck_3", "neck_4"],
          head: "head",
          jaw: "beak",
          tail: ["tail_1", "tail_2"],
          leftWing: ["wing_l", "wing_mid_l", "wing_tip_l"],
          rightWing: ["wing_r", "wing_mid_r", "wing_tip_r"],
          leftThigh: "thigh_l",
          leftShin: "shin_l",
          leftFoot: "foot_l",
          leftToes: "toe_l",
          rightThigh: "thigh_r",
          rightShin: "shin_r",
          rightFoot: "foot_r",
          rightToes: "toe_r",
        },
        stature: 0.98,
        mass: 1.7,
      },
    ],
    surfaces: [{ id: "post", normal: [0, 1, 0], height: post }],
    contacts: [
      { node: "foot_l", with: "post", frames: [touch, to] },
      { node: "foot_r", with: "post", frames: [touch, to] },
      { node: "beak_end", with: "rope", frames: [1096, to] },
    ],
    propulsors: [{ figure: "courier", nodes: ["wing_l", "wing_r"], channel: "rotation.z" }],
  };
}
