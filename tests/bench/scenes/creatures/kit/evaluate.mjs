// @ts-check
// Poses of a document, worked out from its own text, apart from the performance that it was made from.
import { valueAt } from "./curve.mjs";
import { add, fromEuler, mul, qmul, turn } from "./math.mjs";

const ROOTS = { y: [0, 0, 0, 1], z: [-Math.SQRT1_2, 0, 0, Math.SQRT1_2] };

/** @param {any} doc @param {number} [metres] per unit, where the document does not say it */
export function evaluator(doc, metres = 1) {
  const curves = new Map(doc.curves.map((/** @type {any} */ c) => [`${c.node}|${c.channel}`, c]));
  const by = new Map(doc.nodes.map((/** @type {any} */ n) => [n.id, n]));
  const unit = doc.space?.metresPerUnit ?? metres;
  const base = /** @type {any} */ (ROOTS)[doc.space?.up ?? "y"];
  /** @param {any} node @param {string} kind @param {number} t */
  const triple = (node, kind, t) =>
    [0, 1, 2].map((i) => {
      const c = curves.get(`${node.id}|${kind}.${"xyz"[i]}`);
      return c ? valueAt(c.keys, t, c.interpolation ?? "linear") : (node[kind] ?? [0, 0, 0])[i];
    });
  /** @param {string} id @param {number} t @returns {{ p: number[], q: number[] }} metres, y up */
  const world = (id, t) => {
    const node = by.get(id);
    if (!node) throw new Error(`no node ${id}`);
    const up = node.parent ? world(node.parent, t) : { p: [0, 0, 0], q: base };
    const local = qmul(
      node.fixedRotation ?? [0, 0, 0, 1],
      fromEuler(triple(node, "rotation", t), node.rotationOrder ?? "xyz"),
    );
    return { p: add(up.p, mul(turn(up.q, triple(node, "translation", t)), unit)), q: qmul(up.q, local) };
  };
  return { world, nodes: [...by.values()], unit };
}
