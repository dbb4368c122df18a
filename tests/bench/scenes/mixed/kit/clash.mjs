// @ts-check
/**
 * Where shapes of a clean scene go into each other: parts of a body that do not hang on each other, and things.
 *
 *     node tests/bench/scenes/mixed/kit/clash.mjs NAME...
 */
import { add, conj, len, lerp, sub, turn } from "../../people/kit/math.mjs";
import { poses } from "../../people/kit/read.mjs";

const DEEP = 0.012;
for (const name of process.argv.slice(2)) {
  const scene = await import(`../scenes/${name}.mjs`);
  const doc = scene.clean();
  const unit = doc.space.metresPerUnit;
  const parent = new Map(doc.nodes.map((/** @type {any} */ n) => [n.id, n.parent]));
  const near = (/** @type {string} */ a, /** @type {string} */ b) => {
    const up = (/** @type {string} */ x) => [x, parent.get(x), parent.get(parent.get(x))];
    return up(a).includes(b) || up(b).includes(a) || (parent.get(a) && parent.get(a) === parent.get(b));
  };
  /** @type {any[]} */
  const shapes = doc.nodes.flatMap((/** @type {any} */ n) =>
    (n.shapes ?? []).map((/** @type {any} */ s) => ({ node: n.id, ...s })),
  );
  const worst = new Map();
  poses(doc).forEach((w, i) => {
    const f = doc.shot.range[0] + i;
    /** @type {any[]} */
    const placed = shapes.map((s) => {
      const at = (/** @type {number[]} */ v) =>
        add(
          w[s.node].p,
          turn(
            w[s.node].q,
            v.map((x) => x * unit),
          ),
        );
      const points =
        s.kind === "capsule"
          ? Array.from({ length: 7 }, (_, k) => lerp(at(s.from), at(s.to), k / 6))
          : s.kind === "sphere"
            ? [at(s.centre ?? [0, 0, 0])]
            : [];
      return { ...s, points, r: (s.radius ?? 0) * unit };
    });
    for (const a of placed) {
      for (const b of placed) {
        if (a === b || near(a.node, b.node) || a.points.length === 0) continue;
        let deep = 0;
        if (b.kind === "box") {
          for (const p of a.points) {
            const q = turn(conj(w[b.node].q), sub(p, w[b.node].p));
            const gap = [0, 1, 2].map(
              (k) => Math.abs(q[k] - (b.centre?.[k] ?? 0) * unit) - (b.size[k] * unit) / 2,
            );
            const out = len(gap.map((g) => Math.max(0, g)));
            deep = Math.max(deep, out > 0 ? a.r - out : a.r - Math.max(...gap));
          }
        } else if (a.node < b.node) {
          for (const p of a.points)
            for (const q of b.points) deep = Math.max(deep, a.r + b.r - len(sub(p, q)));
        }
        const key = `${a.node} in ${b.node}`;
        if (deep > DEEP && deep > (worst.get(key)?.deep ?? 0)) worst.set(key, { deep, f });
      }
    }
  });
  console.log(`${name}: ${worst.size === 0 ? "clean" : ""}`);
  for (const [key, { deep, f }] of worst) console.log(`  ${key}: ${(deep * 100).toFixed(1)} cm at ${f}`);
}
