// @ts-check
import { valueAt } from "./curve.mjs";
import { add, fromEuler, ONE, qmul, slerp, turn } from "./math.mjs";

/** Poses a document again from its keys alone, y up and in metres: one map of nodes per frame. @param {any} doc */
export function poses(doc) {
  const unit = doc.space.metresPerUnit;
  const base = doc.space.up === "z" ? [-Math.SQRT1_2, 0, 0, Math.SQRT1_2] : ONE;
  const curves = new Map(doc.curves.map((c) => [`${c.node} ${c.channel}`, c]));
  const out = [];
  for (let f = doc.shot.range[0]; f <= doc.shot.range[1]; f++) {
    const w = /** @type {any} */ ({});
    for (const n of doc.nodes) {
      const get = (kind, i, rest) => {
        const c = curves.get(`${n.id} ${kind}.${"xyz"[i]}`);
        return c ? valueAt(c.keys, c.interpolation ?? "linear", f) : (rest?.[i] ?? 0);
      };
      const t = [0, 1, 2].map((i) => get("translation", i, n.translation));
      const qc = curves.get(`${n.id} rotation`);
      const r = qc
        ? quatAt(qc, f)
        : fromEuler(
            n.rotationOrder ?? "xyz",
            [0, 1, 2].map((i) => get("rotation", i, n.rotation)),
          );
      const p = n.parent ? w[n.parent] : { p: [0, 0, 0], q: base };
      w[n.id] = {
        p: add(
          p.p,
          turn(
            p.q,
            t.map((v) => v * unit),
          ),
        ),
        q: qmul(qmul(p.q, n.fixedRotation ?? ONE), r),
      };
    }
    out.push(w);
  }
  return out;
}

/** @param {any} c @param {number} f */
function quatAt(c, f) {
  const k = c.keys;
  if (f <= k[0][0]) return k[0][1];
  if (f >= k[k.length - 1][0]) return k[k.length - 1][1];
  let i = 0;
  while (k[i + 1][0] <= f) i++;
  return c.interpolation === "step"
    ? k[i][1]
    : slerp(k[i][1], k[i + 1][1], (f - k[i][0]) / (k[i + 1][0] - k[i][0]));
}
