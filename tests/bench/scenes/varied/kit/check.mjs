// @ts-check
/**
 * What the scenes of this folder are measured by, apart from what the people's kit tells: sudden changes of each joint's path,
 * limbs at full stretch, contacts that creep, and, for each flaw built alone, what differs from the clean version and where.
 *
 *     node tests/bench/scenes/varied/kit/check.mjs NAME...
 */
import { add, conj, len, qmul, sub } from "../../people/kit/math.mjs";
import { inspect } from "../../people/kit/measure.mjs";
import { poses } from "../../people/kit/read.mjs";

/** @param {any[]} P @param {number} first @param {number} fps @param {string[]} ids */
function spikes(P, first, fps, ids) {
  const out = [];
  for (const id of ids) {
    const acc = P.map((_, i) =>
      i && i < P.length - 1
        ? sub(add(P[i + 1][id].p, P[i - 1][id].p), add(P[i][id].p, P[i][id].p))
        : [0, 0, 0],
    );
    for (let i = 3; i < P.length - 3; i++) {
      const jump = len(
        sub(
          acc[i],
          acc[i - 1].map((v, c) => (v + acc[i + 1][c]) / 2),
        ),
      );
      const near = [-3, -2, 2, 3].map((d) => len(acc[i + d])).sort((a, b) => a - b)[2];
      if (jump > 0.012 * (24 / fps) && jump > 2.2 * near)
        out.push(`spike ${id} ${i + first}: ${(jump * 100).toFixed(1)} cm, near ${(near * 100).toFixed(1)}`);
    }
  }
  return out;
}

/** @param {any} sim @param {any[]} P @param {number} first */
function stretch(sim, P, first) {
  const out = [];
  for (const [id, { sk }] of Object.entries(/** @type {Record<string, any>} */ (sim.figures))) {
    for (const [a, b, c] of ["L", "R"].flatMap((s) => [
      [`up${s}`, `fore${s}`, `hand${s}`],
      [`thigh${s}`, `shin${s}`, `foot${s}`],
    ])) {
      const at = (/** @type {any} */ w, /** @type {string} */ k) => w[sk.by[k].id].p;
      const share = P.map((w) => {
        const l = len(sub(at(w, a), at(w, b))) + len(sub(at(w, b), at(w, c)));
        return len(sub(at(w, a), at(w, c))) / l;
      });
      const long = share.map((v, i) => (v > 0.9965 ? i + first : 0)).filter(Boolean);
      if (long.length) out.push(`${id} ${a} at full stretch ${long.join(" ")}`);
      const [lo, hi] = [Math.min(...share), Math.max(...share)];
      out.push(`(${id} ${a} ${lo.toFixed(2)} to ${hi.toFixed(3)})`);
    }
  }
  return out;
}

/** @param {any} doc @param {any[]} P @param {number} first */
function creeps(doc, P, first) {
  const out = [];
  for (const c of doc.contacts ?? []) {
    if (c.slides) continue;
    const at = (/** @type {number} */ f) => P[f - first][c.node].p;
    let worst = 0;
    for (let f = c.frames[0]; f <= c.frames[1]; f++)
      worst = Math.max(worst, len(sub(at(f), at(c.frames[0]))));
    if (worst > 0.01 && !/oot|nkle/.test(c.node))
      out.push(`${c.node} creeps ${(worst * 100).toFixed(1)} cm on ${c.with} ${c.frames.join("-")}`);
  }
  return out;
}

/** @param {any} a @param {any} b @param {any} node */
function local(a, node, b) {
  const rel = (/** @type {any} */ w) => {
    const p = node.parent ? w[node.parent] : { p: [0, 0, 0], q: [0, 0, 0, 1] };
    return { p: sub(w[node.id].p, p.p), q: qmul(conj(p.q), w[node.id].q) };
  };
  const [x, y] = [rel(a), rel(b)];
  const turned = 2 * Math.acos(Math.min(1, Math.abs(qmul(conj(x.q), y.q)[3]))) * 57.2958;
  return { turned, moved: node.parent ? 0 : len(sub(x.p, y.p)) * 100 };
}

/** Stretches of frames. @param {number[]} fs */
const spans = (fs) =>
  fs.reduce((/** @type {number[][]} */ s, f) => {
    const l = s[s.length - 1];
    if (l && f <= l[1] + 2) l[1] = f;
    else s.push([f, f]);
    return s;
  }, []);

for (const name of process.argv.slice(2)) {
  const scene = await import(`../scenes/${name}.mjs`);
  const { doc, sim } = scene.build(false);
  const first = doc.shot.range[0];
  const fps = doc.shot.frameRate;
  const P = poses(doc);
  const ids = doc.nodes.map((/** @type {any} */ n) => n.id);
  console.log(
    `== ${name} ${doc.shot.range} at ${fps}, ${doc.curves.reduce((/** @type {number} */ s, /** @type {any} */ c) => s + c.keys.length, 0)} keys`,
  );
  const lines = [...inspect({ doc, sim }), ...stretch(sim, P, first), ...creeps(doc, P, first)];
  if (!sim.shot.poses) lines.push(...spikes(P, first, fps, ids));
  const few = new Map();
  for (const l of lines) {
    const k = l.replace(/[-\d.]+/g, "#");
    few.set(k, [...(few.get(k) ?? []), l]);
  }
  for (const ls of few.values())
    console.log(`  ${ls[0]}${ls.length > 1 ? `  … ${ls.length} more, last: ${ls[ls.length - 1]}` : ""}`);
  for (const flaw of scene.flaws) {
    const Q = poses(scene.build(flaw.order).doc);
    const told = [];
    for (const node of doc.nodes) {
      const d = P.map((w, i) => local(w, node, Q[i]));
      const at = d.map((x, i) => (x.turned > 1 || x.moved > 0.4 ? i + first : 0)).filter(Boolean);
      if (!at.length) continue;
      const mine = flaw.nodes.includes(node.id);
      const far =
        Math.max(...at.map((f) => len(sub(P[f - first][node.id].p, Q[f - first][node.id].p)))) * 100;
      const most = Math.max(...d.map((x) => x.turned));
      const off = at.filter((f) => f < flaw.frames[0] - 1 || f > flaw.frames[1] + 1);
      told.push(
        `${mine ? "" : "!"}${node.id} ${most.toFixed(0)}° ${far.toFixed(1)}cm ${spans(at)
          .map((s) => s.join("-"))
          .join(",")}${off.length ? ` OUT ${spans(off).map((s) => s.join("-"))}` : ""}`,
      );
    }
    console.log(
      `  flaw ${flaw.order} ${flaw.size} ${flaw.kind} ${flaw.frames.join("-")}: ${told.join("; ") || "NOTHING"}`,
    );
  }
}
