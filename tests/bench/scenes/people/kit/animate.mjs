// @ts-check
import { bakeNumber, bakeTurn, curve, framesOf, held } from "./bake.mjs";
import { track } from "./curve.mjs";
import { add, between, conj, ONE, qmul, turn } from "./math.mjs";
import { hangHair, poseArm, poseBack, poseLeg, poseLook, poseRoot } from "./pose.mjs";
import { massCentre } from "./skeleton.mjs";

/** Makes tracks of the plain keys of a performance. @param {any} p */
export function performance(p) {
  const out = { ...p };
  for (const [k, v] of Object.entries(p)) {
    if (v && typeof v === "object" && !Array.isArray(v) && k !== "opts" && !v.at) out[k] = track(v);
    if (v?.at && !Array.isArray(v)) out[k] = { ...v, w: typeof v.w === "function" ? v.w : track(v.w) };
  }
  return out;
}

const SOFT = { root: 0.25, back: 0.35, leg: 0.09, arm: 0.3, hand: 0.15, hair: 0.7 };

/** Moves a document's root turn for the axis that is up there. @param {string} up */
export const upTurn = (up) => (up === "z" ? [Math.SQRT1_2, 0, 0, Math.SQRT1_2] : ONE);
/** A place, from y up to the document's axes. @param {string} up @param {number[]} p */
export const upPlace = (up, p) => (up === "z" ? [p[0], -p[2], p[1]] : p);

/**
 * Poses a figure on every frame, writes its keys, and hands back the poses that the keys give.
 * @param {any} sk @param {any} raw @param {import('./bake.mjs').Shot} shot @param {any} env
 */
export function animate(sk, raw, shot, env) {
  const perf = performance(raw);
  const opts = { kind: "bezier", ...raw.opts };
  const frames = framesOf(shot);
  const H = (/** @type {number} */ f) => held(shot, f);
  const curves = [];
  /** @type {Record<string, { p: number[], q: number[] }>[]} */
  const W = frames.map(() => ({}));
  const warn = [];
  const must = (...names) => [...new Set(names.flatMap((n) => perf[n]?.frames ?? []))];
  const lift = airLift(sk, perf, shot, env);

  /** Joints from dense world turns; the fitted turns become the poses. */
  const joint = (key, world, tol, keys = [], kind = opts.kind) => {
    const j = sk.by[key];
    const p = j.parent;
    const local = frames.map((_, i) => {
      const mine = qmul(world[i], conj(j.bind));
      return p ? qmul(conj(qmul(W[i][p].q, conj(sk.by[p].bind))), mine) : mine;
    });
    const quat = opts.quat?.test(key);
    const b = bakeTurn(shot, j.id, j.order, local, {
      kind,
      tol,
      must: keys,
      quat,
      ones: opts.ones?.test(key),
    });
    curves.push(...b.curves);
    frames.forEach((_, i) => {
      const q = p ? qmul(qmul(W[i][p].q, conj(sk.by[p].bind)), b.turns[i]) : b.turns[i];
      W[i][key] = { p: p ? add(W[i][p].p, turn(W[i][p].q, j.at)) : W[i][key].p, q: qmul(q, j.bind) };
    });
  };
  const still = (key) =>
    frames.forEach((_, i) => {
      const j = sk.by[key];
      const p = W[i][/** @type {string} */ (j.parent)];
      W[i][key] = { p: add(p.p, turn(p.q, j.at)), q: p.q };
    });

  const roots = frames.map((f, i) => {
    const r = poseRoot(sk, perf, H(f));
    r.p = [r.p[0], r.p[1] + lift[i], r.p[2]];
    return r;
  });
  const docPlaces = roots.map((r) => upPlace(shot.up, r.p).map((v) => v / shot.unit));
  const fittedPlaces = [0, 1, 2].map((ax) => {
    const b = bakeNumber(
      shot,
      docPlaces.map((p) => p[ax]),
      { kind: opts.kind, tol: 0.0018 / shot.unit, must: must("hips"), digits: shot.unit < 0.1 ? 2 : 4 },
    );
    curves.push(curve(shot, sk.by.root.id, `translation.${"xyz"[ax]}`, opts.kind, b.keys));
    return b.values;
  });
  frames.forEach((_, i) => {
    const d = fittedPlaces.map((v) => v[i] * shot.unit);
    W[i].root = { p: shot.up === "z" ? [d[0], d[2], -d[1]] : d, q: ONE };
  });
  joint(
    "root",
    roots.map((r) => r.q),
    SOFT.root,
    must("hipsRot"),
  );

  const backs = frames.map((f) => poseBack(sk, perf, H(f)));
  const along = (key) => frames.map((_, i) => qmul(W[i][sk.by[key].parent].q, backs[i][key]));
  for (const key of sk.spine) joint(key, along(key), SOFT.back, must("spine", "chest"));
  const neckAt = sk.by.neck;
  const looks = frames.map((f, i) => {
    const base = W[i].chest;
    const n = qmul(base.q, backs[i].neck);
    const at = add(add(base.p, turn(base.q, neckAt.at)), turn(n, sk.by.head.at));
    return poseLook(perf, H(f), base, backs[i].neck, backs[i].head, at);
  });
  const headKeys = [...must("neck", "head"), ...(perf.look?.w.frames ?? [])];
  joint(
    "neck",
    frames.map((_, i) => qmul(W[i].chest.q, looks[i].neck)),
    SOFT.back,
    headKeys,
  );
  joint(
    "head",
    frames.map((_, i) => qmul(W[i].neck.q, looks[i].head)),
    SOFT.back,
    headKeys,
  );
  still("end");

  for (const s of ["L", "R"]) {
    const legs = frames.map((f, i) => poseLeg(sk, perf, s, H(f), W[i].root, lift[i]));
    legs.forEach((l, i) => {
      if (l.over > -0.001) warn.push(`${frames[i]} leg${s} over ${(l.over * 100).toFixed(1)} cm`);
    });
    const k = must(`foot${s}`, `roll${s}`);
    joint(
      `thigh${s}`,
      legs.map((l) => l.thigh),
      SOFT.leg,
      k,
    );
    joint(
      `shin${s}`,
      legs.map((l) => l.shin),
      SOFT.leg,
      k,
    );
    joint(
      `foot${s}`,
      legs.map((l) => l.foot),
      SOFT.leg,
      k,
    );
    joint(
      `toe${s}`,
      legs.map((l) => l.toe),
      0.4,
      k,
    );
    if (sk.by[`tip${s}`]) still(`tip${s}`);

    if (sk.by[`clav${s}`]) joint(`clav${s}`, along(`clav${s}`), SOFT.back, must(`clav${s}`));
    const up = sk.by[`up${s}`];
    const base = /** @type {string} */ (up.parent);
    const armAt = (i, goal) =>
      poseArm(
        sk,
        perf,
        s,
        H(frames[i]),
        add(W[i][base].p, turn(W[i][base].q, up.at)),
        W[i][base].q,
        env,
        goal,
      );
    const arms = frames.map((_f, i) =>
      armAt(
        i,
        goalOf(perf[`hand${s}`]?.w, frames, i, H, (j) => {
          const a = armAt(j);
          const b = conj(W[j][base].q);
          return { up: qmul(b, a.up), fore: qmul(b, a.fore), hand: qmul(conj(a.fore), a.hand) };
        }),
      ),
    );
    arms.forEach((a, i) => {
      if (a.over > 0) warn.push(`${frames[i]} arm${s} over ${(a.over * 100).toFixed(1)} cm`);
    });
    const ak = [...must(`arm${s}`), ...(perf[`hand${s}`]?.w.frames ?? [])];
    const tol = perf[`hand${s}`] ? 0.12 : SOFT.arm;
    joint(
      `up${s}`,
      arms.map((a) => a.up),
      tol,
      ak,
    );
    joint(
      `fore${s}`,
      arms.map((a) => a.fore),
      tol,
      ak,
    );
    joint(
      `hand${s}`,
      arms.map((a) => a.hand),
      tol,
      [...ak, ...must(`wrist${s}`)],
    );
    if (sk.by[`fing${s}`]) {
      joint(
        `fing${s}`,
        arms.map((a) => a.fing),
        0.8,
        must(`fing${s}`),
      );
      still(`fingEnd${s}`);
    }
  }
  if (sk.hair.length) hairKeys(sk, perf, shot, frames, W, joint);
  return {
    W,
    curves,
    warn,
    perf,
    com: W.map((w) => massCentre(sk, w)),
    at: (key, f) => W[Math.max(0, Math.min(frames.length - 1, Math.round(f) - shot.first))][key],
  };
}

/** On the way to a hold or from it: the arm's turns at the hold, so that an approach is one even swing. */
function goalOf(w, frames, i, H, at) {
  const v = w?.(H(frames[i])) ?? 0;
  if (v <= 0 || v >= 1) return undefined;
  const dir = w(H(frames[i]) + 0.5) >= v ? 1 : -1;
  for (let j = i; j >= 0 && j < frames.length; j += dir) {
    const x = w(H(frames[j]));
    if (x >= 1) return at(j);
    if (x <= 0) break;
  }
  return undefined;
}

/** Hair that hangs and lags behind the head. */
function hairKeys(sk, perf, shot, frames, W, joint) {
  const first = sk.by.hair0;
  const anchor = frames.map((_, i) => add(W[i].head.p, turn(W[i].head.q, first.at)));
  const dirs = hangHair(sk, anchor, shot.fps);
  sk.hair.forEach((key, n) => {
    const p = sk.by[key].parent;
    joint(
      key,
      frames.map((_, i) => {
        if (perf.hairStiff) return W[i].head.q;
        const q = W[i][p].q;
        return qmul(between(turn(q, [0, -1, 0]), dirs[i][n]), q);
      }),
      0.7,
    );
  });
}

/** How far to lift the body on each frame so that its mass falls as it must. */
function airLift(sk, perf, shot, env) {
  const frames = framesOf(shot);
  const lift = frames.map(() => 0);
  for (const [a, b] of perf.air ?? []) {
    const com = (f) => massCentre(sk, roughPose(sk, perf, f, env))[1];
    const T = (b - a) / shot.fps;
    const ya = com(a);
    const v = (com(b) - ya) / T + (9.8 * T) / 2;
    for (let f = a + 1; f < b; f++) {
      const t = (f - a) / shot.fps;
      lift[f - shot.first] = ya + v * t - 4.9 * t * t - com(f);
    }
  }
  return lift;
}

/** A pose straight from the performance, without keys between. */
function roughPose(sk, perf, f, env) {
  const w = { root: poseRoot(sk, perf, f) };
  const back = poseBack(sk, perf, f);
  const put = (key, q) => {
    const j = sk.by[key];
    const p = w[j.parent];
    w[key] = { p: add(p.p, turn(p.q, j.at)), q: q ?? p.q };
  };
  for (const key of [...sk.spine, "neck", "head"]) put(key, qmul(w[sk.by[key].parent].q, back[key]));
  put("end");
  for (const s of ["L", "R"]) {
    const l = poseLeg(sk, perf, s, f, w.root, 0);
    put(`thigh${s}`, l.thigh);
    put(`shin${s}`, l.shin);
    put(`foot${s}`, l.foot);
    put(`toe${s}`, l.toe);
    const base = sk.by[`up${s}`].parent;
    if (sk.by[`clav${s}`]) put(`clav${s}`, qmul(w.chest.q, back[`clav${s}`]));
    const a = poseArm(sk, perf, s, f, add(w[base].p, turn(w[base].q, sk.by[`up${s}`].at)), w[base].q, env);
    put(`up${s}`, a.up);
    put(`fore${s}`, a.fore);
    put(`hand${s}`, a.hand);
  }
  return w;
}
