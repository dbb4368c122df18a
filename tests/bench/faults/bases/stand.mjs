/** Builds a shot from what a biped does: body keyed at its turning points, legs solved under it, arms as asked. */
import { bipedNodes, hipsFor, legsUnder } from "../../../../demo/motion/biped.mjs";
import { footTrack } from "../../../../demo/motion/gait.mjs";
import { keyCourse, keySolved } from "../../../../demo/motion/keying.mjs";

/**
 * @param {object} spec `name`, `rate`, `from`, `to`, `angles` and `massCentre` as functions of the frame, `feet` as
 *   lists of plants, `toeFlat`; `hair` for a plait; `more` for further parts of the document
 * @param {(nodes: object[], curves: object[]) => object[]} [added] curves that hang on what has been keyed
 * @returns {{ document: object, curves: object[], act: object }}
 */
export function biped(spec, added = () => []) {
  const { name, rate, from, to, angles, massCentre, toeFlat, more = {} } = spec;
  const nodes = [...bipedNodes({ hair: spec.hair === true }), ...(spec.nodes ?? [])];
  const feet = Array.isArray(spec.feet.l)
    ? { l: footTrack(spec.feet.l), r: footTrack(spec.feet.r) }
    : spec.feet;
  const act = { nodes, angles, massCentre, feet, toeFlat: toeFlat ?? (() => 1) };
  const node = (id) => nodes.find((one) => one.id === id);
  const range = { from, to };
  const curves = keyCourse(node("hips"), "translation", (f) => hipsFor(act, f), {
    ...range,
    tolerance: 0.04,
  });
  for (const id of Object.keys(angles(from))) {
    const tolerance = id === "hips" ? 0.05 : /arm|hand|fingers/.test(id) ? 0.3 : 0.12;
    curves.push(...keyCourse(node(id), "rotation", (f) => angles(f)[id], { ...range, tolerance }));
  }
  curves.push(...added(nodes, curves));
  const { legs } = legsUnder(act, from, to, curves);
  for (const id of Object.keys(legs)) curves.push(...keySolved(id, legs[id], from));
  const document = {
    format: "keyside.curves",
    version: 1,
    shot: { name, frameRate: rate, range: [from, to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    surfaces: [{ id: "ground", normal: [0, 1, 0], height: 0 }],
    ...more,
  };
  return { document, curves, act };
}

/** Feet that stand where they are. */
export const standing = (from, to, turnedOut = 8) => ({
  l: [{ from, to, at: [10, 0, 2], yaw: turnedOut }],
  r: [{ from, to, at: [-10, 0, -2], yaw: -turnedOut }],
});
