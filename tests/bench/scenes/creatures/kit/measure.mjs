// @ts-check
// Whether a clean version is clean: planted feet, flight, balance, spikes. Works on the document alone.
import { inPicture } from "./camera.mjs";
import { evaluator } from "./evaluate.mjs";
import { len, mul, sub } from "./math.mjs";

/**
 * @typedef {{ plants?: { node: string, frames: [number, number], limit?: number }[],
 *   air?: { frames: [number, number] }[], ground?: { nodes: string[], height: number, under?: number },
 *   balance?: { frames: [number, number], feet: string[], margin?: number }[],
 *   picture?: { nodes: string[], frames: [number, number] },
 *   unit?: number,
 *   masses?: Record<string, number>, spikes?: { ratio?: number, except?: [number, number][], nodes?: string[] } }} Truth
 */

/** @param {any} ev @param {Record<string, number>} masses @param {number} t */
function centre(ev, masses, t) {
  let sum = [0, 0, 0];
  let m = 0;
  for (const [id, w] of Object.entries(masses)) {
    const kid = ev.nodes.find((/** @type {any} */ n) => n.parent === id);
    const a = ev.world(id, t).p;
    const b = kid ? ev.world(kid.id, t).p : a;
    sum = sum.map((v, i) => v + (w * (a[i] + b[i])) / 2);
    m += w;
  }
  return mul(sum, 1 / m);
}

/** @param {any} doc @param {Truth} truth @returns {string[]} */
export function measure(doc, truth) {
  const ev = evaluator(doc, truth.unit);
  const out = [];
  const fps = typeof doc.shot.frameRate === "number" ? doc.shot.frameRate : 24;
  for (const {
    node,
    frames: [a, b],
    limit = 0.005,
  } of truth.plants ?? []) {
    const from = ev.world(node, Math.ceil(a)).p;
    let worst = 0;
    for (let f = Math.ceil(a); f <= b; f += 0.5) worst = Math.max(worst, len(sub(ev.world(node, f).p, from)));
    if (worst > limit)
      out.push(`slide: ${node} ${a.toFixed(1)}–${b.toFixed(1)}: ${(worst * 1000).toFixed(1)} mm`);
  }
  for (const {
    frames: [a, b],
  } of truth.air ?? []) {
    let worst = 0;
    for (let f = a + 1; f < b; f++) {
      const y = [f - 1, f, f + 1].map((t) => centre(ev, truth.masses ?? {}, t)[1]);
      worst = Math.max(worst, Math.abs((y[0] - 2 * y[1] + y[2]) * fps * fps + 9.81));
    }
    if (worst > 1.5) out.push(`flight ${a}–${b}: off by ${worst.toFixed(1)} m/s²`);
  }
  if (truth.ground) {
    const { nodes, height, under = 0.004 } = truth.ground;
    for (const id of nodes) {
      for (let f = doc.shot.range[0]; f <= doc.shot.range[1]; f += 0.5) {
        const y = ev.world(id, f).p[1];
        if (y < height - under) {
          out.push(`sinks: ${id} at ${f}: ${((height - y) * 1000).toFixed(0)} mm`);
          break;
        }
      }
    }
  }
  for (const {
    frames: [a, b],
    feet,
    margin = 0.03,
  } of truth.balance ?? []) {
    for (let f = a; f <= b; f++) {
      const c = centre(ev, truth.masses ?? {}, f);
      const at = feet.map((id) => ev.world(id, f).p);
      const off = [0, 2].map((i) =>
        Math.max(0, Math.min(...at.map((p) => p[i])) - c[i], c[i] - Math.max(...at.map((p) => p[i]))),
      );
      if (Math.max(...off) > margin) {
        out.push(`balance at ${f}: off by ${(Math.max(...off) * 100).toFixed(1)} cm`);
        break;
      }
    }
  }
  for (const id of truth.picture?.nodes ?? []) {
    for (let f = truth.picture?.frames[0] ?? 0; f <= (truth.picture?.frames[1] ?? 0); f++) {
      const [x, y] = inPicture(doc, id, f);
      if (Math.max(Math.abs(x), Math.abs(y)) > 0.95) {
        out.push(`out of picture: ${id} at ${f}: ${x.toFixed(2)} ${y.toFixed(2)}`);
        break;
      }
    }
  }
  out.push(...spikes(doc, ev, truth));
  return out;
}

/** Frames at which a node's acceleration stands out of its neighbourhood. @param {any} doc @param {any} ev @param {Truth} truth */
function spikes(doc, ev, truth) {
  const out = [];
  const { ratio = 5, except = [], nodes } = truth.spikes ?? {};
  if (ratio > 1e6) return out;
  const [a, b] = doc.shot.range;
  const frames = Array.from({ length: b - a + 1 }, (_, i) => a + i);
  for (const n of ev.nodes) {
    if (nodes && !nodes.includes(n.id)) continue;
    const p = frames.map((f) => ev.world(n.id, f).p);
    const acc = frames.map((_, i) =>
      i === 0 || i === p.length - 1 ? 0 : len(sub(p[i + 1], sub(mul(p[i], 2), p[i - 1]))),
    );
    for (let i = 2; i < acc.length - 2; i++) {
      if (except.some(([c, d]) => frames[i] >= c && frames[i] <= d)) continue;
      const near = acc.filter((_, k) => k !== i && Math.abs(k - i) <= 6).sort((x, y) => x - y);
      const usual = near[Math.floor(near.length * 0.7)];
      if (acc[i] > ratio * usual && acc[i] > 0.02)
        out.push(
          `spike: ${n.id} at ${frames[i]}: ${(acc[i] * 100).toFixed(1)} cm/f², around ${(usual * 100).toFixed(1)}`,
        );
    }
  }
  return out;
}
