// @ts-check
// Cameras: a node that looks at a point, and where its picture has one.
import { evaluator } from "./evaluate.mjs";
import { qinv, sub, turn } from "./math.mjs";

/**
 * A still camera's node, for documents whose y is up.
 * @param {string} id @param {number[]} from @param {number[]} to metres @param {number} unit metres per unit
 */
export function cameraNode(id, from, to, unit) {
  const [x, y, z] = sub(to, from);
  const yaw = (Math.atan2(-x, -z) * 180) / Math.PI;
  const pitch = (Math.atan2(y, Math.hypot(x, z)) * 180) / Math.PI;
  const r = (/** @type {number} */ v) => Number(v.toFixed(3));
  return {
    id,
    translation: from.map((v) => r(v / unit)),
    rotation: [r(pitch), r(yaw), 0],
    rotationOrder: "yxz",
  };
}
/** Where a node is in the picture: -1 to 1 across and up, and how far away. @param {any} doc @param {string} node @param {number} f */
export function inPicture(doc, node, f) {
  const ev = evaluator(doc);
  const cam = doc.cameras.find((/** @type {any} */ c) => !c.frames || (f >= c.frames[0] && f <= c.frames[1]));
  const w = ev.world(cam.node, f);
  const p = turn(qinv(w.q), sub(ev.world(node, f).p, w.p));
  const t = Math.tan((cam.verticalFieldOfView * Math.PI) / 360);
  return [p[0] / -p[2] / t / cam.aspect, p[1] / -p[2] / t, -p[2]];
}
