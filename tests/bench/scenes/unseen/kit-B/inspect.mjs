// @ts-check
/**
 * What this kit measures on scenes: the common means, joints that turn in jerks, and how fast all turns.
 *
 *     node tests/bench/scenes/unseen/kit-B/inspect.mjs NAME...
 */
import { evaluator } from "../../creatures/kit/evaluate.mjs";
import { qinv, qmul } from "../../creatures/kit/math.mjs";
import { measure } from "../../creatures/kit/measure.mjs";

/** @param {any} doc @param {number} unit */
function jerks(doc, unit) {
  const ev = evaluator(doc, unit);
  const [a, b] = doc.shot.range;
  const out = [];
  let quickest = { id: "", f: 0, v: 0 };
  for (const n of ev.nodes) {
    /** @type {number[][]} */ const q = [];
    for (let f = a; f <= b; f++) q.push(ev.world(n.id, f).q);
    const w = q.slice(1).map((v, i) => {
      const d = qmul(v, qinv(q[i]));
      const s = d[3] < 0 ? -2 : 2;
      return [d[0] * s, d[1] * s, d[2] * s];
    });
    w.forEach((v, i) => {
      const s = Math.hypot(...v);
      if (s > quickest.v) quickest = { id: n.id, f: a + i, v: s };
    });
    const acc = w.slice(1).map((v, i) => (Math.hypot(...v.map((x, k) => x - w[i][k])) * 180) / Math.PI);
    acc.forEach((x, i) => {
      const near = acc.filter((_, k) => k !== i && Math.abs(k - i) <= 6).sort((p, r) => p - r);
      const usual = near[Math.floor(near.length * 0.75)];
      if (x > 4 && x > 3 * usual)
        out.push(`jerk: ${n.id} at ${a + i + 1}: ${x.toFixed(1)}°/f², around ${usual.toFixed(1)}`);
    });
  }
  out.push(
    `quickest turn: ${quickest.id} at ${quickest.f}: ${((quickest.v * 180) / Math.PI).toFixed(0)}°/frame`,
  );
  return out;
}

for (const name of process.argv.slice(2)) {
  const scene = await import(`../scenes/${name}.mjs`);
  const doc = scene.clean();
  const keys = doc.curves.reduce((/** @type {number} */ s, /** @type {any} */ c) => s + c.keys.length, 0);
  console.log(`${name}: ${doc.nodes.length} nodes, ${doc.curves.length} curves, ${keys} keys`);
  for (const line of [...measure(doc, scene.truth), ...jerks(doc, scene.truth.unit ?? 1)])
    console.log(`  ${line}`);
  const flawed = scene.flawed();
  const ids = new Set(flawed.nodes.map((/** @type {any} */ n) => n.id));
  for (const f of scene.flaws)
    for (const id of f.nodes) if (!ids.has(id)) console.log(`  unknown node ${id}`);
  if (JSON.stringify(flawed) === JSON.stringify(doc)) console.log("  no flaw in it");
  for (const line of measure(flawed, scene.truth)) console.log(`    flawed: ${line}`);
}
