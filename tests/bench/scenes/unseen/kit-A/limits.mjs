// @ts-check
/**
 * More that a clean shot must not do, measured on its keys: wrists and elbows past what they can, a
 * head that leaves the chest, arms that pass through the trunk, keys that freeze a body.
 *
 *     node tests/bench/scenes/unseen/kit-A/limits.mjs NAME...
 */
import { conj, dot, len, qmul, sub, turn } from "../../people/kit/math.mjs";
import { inspect } from "../../people/kit/measure.mjs";
import { poses } from "../../people/kit/read.mjs";

const DEG = 180 / Math.PI;
const angle = (/** @type {number[]} */ q) => 2 * Math.acos(Math.min(1, Math.abs(q[3]))) * DEG;
const between = (/** @type {number[]} */ a, /** @type {number[]} */ b) =>
  Math.acos(Math.max(-1, Math.min(1, dot(a, b) / (len(a) * len(b))))) * DEG;

/** How near a point comes to the line between two others. @param {number[]} p @param {number[]} a @param {number[]} b */
function near(p, a, b) {
  const d = sub(b, a);
  const t = Math.max(0, Math.min(1, dot(sub(p, a), d) / dot(d, d)));
  return len(
    sub(
      p,
      a.map((v, i) => v + d[i] * t),
    ),
  );
}

/** @param {{ doc: any, sim: any }} built @returns {string[]} */
export function limits({ doc, sim }) {
  const P = poses(doc);
  const first = doc.shot.range[0];
  const worst = /** @type {Record<string, [number, number]>} */ ({});
  const note = (/** @type {string} */ what, /** @type {number} */ v, /** @type {number} */ f) => {
    if (!worst[what] || v > worst[what][0]) worst[what] = [v, f];
  };
  for (const [id, fig] of Object.entries(sim.figures)) {
    const by = fig.sk.by;
    let idle = 0;
    P.forEach((w, i) => {
      const at = (/** @type {string} */ k) => ({ p: w[by[k].id].p, q: qmul(w[by[k].id].q, by[k].bind) });
      const f = i + first;
      note(`${id} head to chest, degrees (80)`, angle(qmul(conj(at("chest").q), at("head").q)) / 80, f);
      note(`${id} chest to hips, degrees (75)`, angle(qmul(conj(at("root").q), at("chest").q)) / 75, f);
      for (const s of ["L", "R"]) {
        const open = between(sub(at(`fore${s}`).p, at(`up${s}`).p), sub(at(`hand${s}`).p, at(`fore${s}`).p));
        const twist = qmul(conj(at(`fore${s}`).q), at(`hand${s}`).q);
        const roll = Math.abs(2 * Math.atan2(twist[1], twist[3]) * DEG);
        note(
          `${id} wrist${s} bends (75)`,
          between(turn(at(`fore${s}`).q, [0, 1, 0]), turn(at(`hand${s}`).q, [0, 1, 0])) / 75,
          f,
        );
        note(`${id} wrist${s} turns (95)`, Math.min(roll, 360 - roll) / 95, f);
        note(`${id} elbow${s} closes (145)`, open / 145, f);
        const trunk = near(at(`hand${s}`).p, at("root").p, at("neck").p);
        note(`${id} hand${s} in the trunk`, (0.062 * fig.sk.H) / Math.max(trunk, 1e-3), f);
        const mid = at(`fore${s}`).p.map((v, n) => (v + at(`hand${s}`).p[n]) / 2);
        note(
          `${id} forearm${s} in the trunk`,
          (0.062 * fig.sk.H) / Math.max(near(mid, at("root").p, at("neck").p), 1e-3),
          f,
        );
        const knee = between(
          sub(at(`shin${s}`).p, at(`thigh${s}`).p),
          sub(at(`foot${s}`).p, at(`shin${s}`).p),
        );
        if (knee < 2) note(`${id} knee${s} straight`, 2 - knee + 1, f);
        note(
          `${id} ankle${s} bends (45 up)`,
          (90 - between(sub(at(`shin${s}`).p, at(`foot${s}`).p), turn(at(`foot${s}`).q, [0, 0, 1]))) / 42,
          f,
        );
      }
      if (i && !sim.shot.poses) {
        const u = P[i - 1];
        const moved = Object.values(by).some((/** @type {any} */ j) => len(sub(w[j.id].p, u[j.id].p)) > 2e-5);
        idle = moved ? 0 : idle + 1;
        note(`${id} still for frames (6)`, idle / 6, f);
      }
    });
  }
  return Object.entries(worst)
    .filter(([, [v]]) => v > 1)
    .map(([k, [v, f]]) => `${k}: ${v.toFixed(2)} of it at ${f}`);
}

for (const n of process.argv[1]?.endsWith("limits.mjs") ? process.argv.slice(2) : []) {
  const scene = await import(`../scenes/${n}.mjs`);
  const b = scene.build(false);
  console.log(`${n}: ${doc(b)}`);
  for (const line of [...inspect(b), ...limits(b)]) console.log(`  ${line}`);
}

/** @param {any} b */
function doc(b) {
  return `${b.doc.shot.range[1]} frames, ${b.doc.curves.length} curves`;
}
