// @ts-check
import { add, conj, dot, len, norm, qmul, sub, turn } from "./math.mjs";
import { poses } from "./read.mjs";
import { massCentre } from "./skeleton.mjs";

/** All that is wrong with a clean shot, in words. @param {{ doc: any, sim: any }} built */
export function inspect({ doc, sim }) {
  const P = poses(doc);
  const out = [...sim.warn];
  const first = doc.shot.range[0];
  const fps = doc.shot.frameRate;
  for (const [id, fig] of Object.entries(sim.figures)) {
    const W = P.map((w) =>
      Object.fromEntries(fig.sk.joints.map((j) => [j.key, { p: w[j.id].p, q: qmul(w[j.id].q, j.bind) }])),
    );
    const plants = ["L", "R"].map((s) => W.map((_, i) => plantOf(fig, s, i + first)));
    out.push(...slides(id, fig, W, plants, first));
    if (sim.shot.poses) {
      out.push(...balance(id, fig, W, plants, first, fps));
      continue;
    }
    out.push(
      ...balance(id, fig, W, plants, first, fps),
      ...air(id, fig, W, plants, first, fps),
      ...spikes(id, fig, W, first, fps),
    );
    W.forEach((w, i) => {
      for (const k in w)
        if (w[k].p[1] < (fig.perf.lowest ?? -0.004))
          out.push(`${id} ${k} under the floor ${i + first}: ${w[k].p[1].toFixed(3)}`);
    });
  }
  out.push(...slips(doc, P, first), ...frame(doc, sim, P, first));
  return out;
}

/** What of a foot stands at a frame: `flat`, `ball`, `heel` or nothing. */
export function plantOf(fig, s, f) {
  const t = fig.perf[`foot${s}`];
  const d = (x) => len(sub(t(x), t(f)));
  if (d(f - 1) > 1e-4 && d(f + 1) > 1e-4) return "";
  const [, y] = t(f);
  if (fig.perf.hung?.(s, f) || (fig.perf.air ?? []).some(([a, b]) => f > a && f < b)) return "";
  const r = fig.perf[`roll${s}`]?.(f) ?? 0;
  return y > (fig.perf.highest ?? 3) ? "" : r > 0.5 ? "ball" : r < -0.5 ? "heel" : "flat";
}

function slides(id, fig, W, plants, first) {
  const out = [];
  const z = fig.sk.size;
  ["L", "R"].forEach((s, n) => {
    for (const part of ["ball", "heel"]) {
      let start = -1;
      let worst = 0;
      const at = (i) =>
        part === "ball"
          ? W[i][`toe${s}`].p
          : add(W[i][`foot${s}`].p, turn(W[i][`foot${s}`].q, [0, -z.ankle, -z.heel]));
      const ok = (i) => plants[n][i] === part || plants[n][i] === "flat";
      for (let i = 0; i <= W.length; i++) {
        if (i < W.length && ok(i)) {
          if (start < 0) start = i;
          worst = Math.max(worst, len(sub(at(i), at(start))));
        } else {
          if (worst > 0.004)
            out.push(
              `${id} ${part}${s} slides ${(worst * 1000).toFixed(1)} mm in ${start + first}-${i - 1 + first}`,
            );
          start = -1;
          worst = 0;
        }
      }
    }
  });
  return out;
}

function balance(id, fig, W, plants, first, fps) {
  const out = [];
  const z = fig.sk.size;
  let run = 0;
  W.forEach((w, i) => {
    const pts = [];
    ["L", "R"].forEach((s, n) => {
      if (!plants[n][i]) return;
      const q = w[`foot${s}`].q;
      const a = w[`foot${s}`].p;
      for (const x of [-0.02, 0.02])
        for (const zz of [-z.heel, z.ball + z.tip]) pts.push(add(a, turn(q, [x * fig.sk.H, -z.ankle, zz])));
    });
    const c = massCentre(fig.sk, w);
    const v = (len(sub(W[Math.min(i + 1, W.length - 1)].root.p, W[Math.max(0, i - 1)].root.p)) * fps) / 2;
    const off =
      pts.length && !fig.perf.leans?.(i + first)
        ? outside(
            pts.map((p) => [p[0], p[2]]),
            [c[0], c[2]],
          )
        : 0;
    if (off > 0.015 && v < 0.25) {
      run++;
      if (run === 5 || run % 12 === 0)
        out.push(`${id} off balance ${i + first} by ${(off * 100).toFixed(1)} cm`);
    } else run = 0;
  });
  return out;
}

/** How far a point is outside of the hull of others. */
function outside(pts, c) {
  let worst = -1;
  for (let a = 0; a < 72; a++) {
    const d = [Math.cos((a * Math.PI) / 36), Math.sin((a * Math.PI) / 36)];
    const far = Math.max(...pts.map((p) => p[0] * d[0] + p[1] * d[1]));
    worst = Math.max(worst, c[0] * d[0] + c[1] * d[1] - far);
  }
  return worst;
}

function air(id, fig, W, _plants, first, fps) {
  const out = [];
  for (const [a, b] of fig.perf.air ?? []) {
    const com = W.map((w) => massCentre(fig.sk, w)[1]);
    for (let f = a + 2; f < b - 1; f++) {
      const i = f - first;
      const g = ((com[i + 2] - 2 * com[i] + com[i - 2]) * fps * fps) / 4;
      if (Math.abs(g + 9.8) > 2.5 && f > a + 2 && f < b - 2) out.push(`${id} air ${f} g ${g.toFixed(1)}`);
    }
    const v = (i) => (com[i + 1 - first] - com[i - first]) * fps;
    out.push(
      `(${id} leaves at ${v(a - 1).toFixed(2)} then ${v(a).toFixed(2)} m/s, lands ${v(b - 1).toFixed(2)} then ${v(b).toFixed(2)})`,
    );
  }
  return out;
}

function spikes(id, fig, W, first, fps) {
  const out = [];
  for (const j of fig.sk.joints) {
    if (!j.parent || j.key === "end" || j.key.startsWith("tip") || j.key.startsWith("fingEnd")) continue;
    const q = W.map((w) => qmul(conj(w[/** @type {string} */ (j.parent)].q), w[j.key].q));
    const d = q.slice(1).map((x, i) => {
      const r = qmul(conj(q[i]), x);
      const a = 2 * Math.acos(Math.min(1, Math.abs(r[3]))) * 57.3;
      return { a, v: norm([r[0], r[1], r[2]].map((y) => y * Math.sign(r[3] || 1))).map((y) => y * a) };
    });
    d.forEach((x, i) => {
      if (x.a > 24) out.push(`${id} ${j.key} turns ${x.a.toFixed(0)} deg at ${i + first + 1}`);
      if (!i) return;
      const acc = len(sub(x.v, d[i - 1].v));
      if (acc > 9 && !j.key.startsWith("toe"))
        out.push(
          `${id} ${j.key} jerks ${acc.toFixed(0)} deg at ${i + first} (${d[i - 1].a.toFixed(0)}>${x.a.toFixed(0)})`,
        );
    });
  }
  for (const k of ["handL", "handR", "head", "root", "shinL", "shinR"]) {
    for (let i = 1; i < W.length - 1; i++) {
      const a = len(add(sub(W[i + 1][k].p, W[i][k].p), sub(W[i - 1][k].p, W[i][k].p))) * fps * fps;
      if (
        a > (k === "root" || k === "head" ? 26 : 60) &&
        !(fig.perf.air ?? []).some(([x, y]) => Math.abs(i + first - x) < 3 || Math.abs(i + first - y) < 4)
      )
        out.push(`${id} ${k} accelerates ${a.toFixed(0)} at ${i + first}`);
    }
  }
  return out;
}

function slips(doc, P, first) {
  const out = [];
  for (const prop of [...(doc.props ?? []), ...(doc.hiddenHolds ?? [])]) {
    for (const h of prop.heldBy ?? []) {
      const loc = (f) => {
        const w = P[f - first];
        return turn(conj(w[h.node].q), sub(w[prop.node].p, w[h.node].p));
      };
      const rel = (f) => {
        const w = P[f - first];
        return turn(conj(w[prop.node].q), sub(w[h.node].p, w[prop.node].p));
      };
      let worst = 0;
      for (let f = h.frames[0]; f <= h.frames[1]; f++)
        worst = Math.max(worst, len(sub(rel(f), rel(h.frames[0]))));
      if (worst > 0.006)
        out.push(
          `${prop.node} slips in ${h.node} ${(worst * 1000).toFixed(1)} mm (${(len(sub(loc(h.frames[1]), loc(h.frames[0]))) * 1000).toFixed(0)} at the end)`,
        );
    }
  }
  return out;
}

function frame(doc, sim, P, first) {
  const out = [];
  for (const [id, fig] of Object.entries(sim.figures)) {
    P.forEach((w, i) => {
      const f = i + first;
      const g = (doc.gazes ?? []).find(
        (x) => (x.figure === fig.sk.by.root.id || x.figure === id) && f >= x.frames[0] && f <= x.frames[1],
      );
      if (g) {
        const h = w[fig.sk.by.head.id];
        const a = Math.acos(Math.min(1, dot(turn(h.q, [0, 0, 1]), norm(sub(w[g.at].p, h.p))))) * 57.3;
        if (a > 8) out.push(`${id} looks ${a.toFixed(0)} deg off ${g.at} at ${f}`);
      }
      if (!sim.camera) return;
      const cam = sim.camera.pose(f);
      for (const k of ["end", "head", "handL", "handR", ...(fig.perf.fullShot ? ["footL", "footR"] : [])]) {
        const v = turn(conj(cam.q), sub(w[fig.sk.by[k].id].p, cam.p));
        const t = Math.tan((sim.camera.fov * Math.PI) / 360) * -v[2];
        const y = v[1] / t;
        const x = v[0] / (t * sim.camera.aspect);
        if (Math.max(Math.abs(x), Math.abs(y)) > 0.93)
          out.push(`${id} ${k} out of frame ${f}: ${x.toFixed(2)} ${y.toFixed(2)}`);
      }
    });
  }
  return out;
}
