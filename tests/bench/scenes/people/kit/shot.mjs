// @ts-check
import { animate, upPlace, upTurn } from "./animate.mjs";
import { bakeNumber, bakeTurn, curve, framesOf, held } from "./bake.mjs";
import { track } from "./curve.mjs";
import { add, conj, lookAt, ONE, qmul, turn } from "./math.mjs";
import { palmAt } from "./pose.mjs";
import { restAt } from "./skeleton.mjs";

/**
 * A whole document.
 * @param {{ name: string, fps: number, last: number, first?: number, unit?: number, up?: string, say?: any,
 *   poses?: number[], every?: boolean, shot?: any, items: any[], doc?: any, cameras?: any[] }} o
 */
export function makeShot(o) {
  const shot = {
    first: o.first ?? 1,
    last: o.last,
    fps: o.fps,
    unit: o.unit ?? 0.01,
    up: o.up ?? "y",
    poses: o.poses,
    every: o.every,
  };
  const sim = /** @type {any} */ ({ shot, figures: {}, props: {}, warn: [] });
  const env = {
    joint: (fig, key, f) => sim.figures[fig].at(key, held(shot, f)),
    prop: (id, f) => sim.props[id][Math.max(0, Math.min(shot.last - shot.first, Math.round(f) - shot.first))],
    palm: (fig, s, f) => {
      const w = sim.figures[fig].at(`hand${s}`, held(shot, f));
      return { p: add(w.p, turn(w.q, palmAt(sim.figures[fig].sk, s))), q: w.q };
    },
  };
  const doc = /** @type {any} */ ({
    format: "keyside.curves",
    version: 1,
    shot: { name: o.name, frameRate: o.fps, range: [shot.first, shot.last], ...o.shot },
    space: { metresPerUnit: shot.unit, ...(shot.up === "y" ? {} : { up: shot.up }) },
    nodes: [],
    curves: [],
  });
  for (const item of o.items) (item.skel ? putFigure : putProp)(item, shot, env, doc, sim);
  for (const c of o.cameras ?? []) putCamera(c, shot, doc, sim);
  Object.assign(doc, o.doc);
  return { doc, sim };
}

const trim = (/** @type {number[]} */ v, d = 4) => v.map((x) => Number(x.toFixed(d)) + 0);

function putFigure(item, shot, env, doc, sim) {
  const sk = item.skel;
  const a = animate(sk, item.perf, shot, env);
  sim.figures[sk.id] = { ...a, sk };
  sim.warn.push(...a.warn.map((w) => `${sk.id} ${w}`));
  for (const j of sk.joints) {
    const n = /** @type {any} */ ({ id: j.id });
    if (j.parent) {
      n.parent = sk.by[j.parent].id;
      n.translation = trim(restAt(sk, j).map((v) => v / shot.unit));
    } else {
      const z = sk.size;
      n.translation = trim(
        upPlace(shot.up, [0, z.ankle + z.shin + z.thigh + z.root, 0]).map((v) => v / shot.unit),
      );
      if (shot.up !== "y") n.fixedRotation = upTurn(shot.up).map((v) => Number(v.toFixed(10)));
    }
    if (j.order !== "xyz") n.rotationOrder = j.order;
    if (item.body) bodyShape(sk, j, n, shot.unit);
    doc.nodes.push(n);
  }
  doc.curves.push(...a.curves);
}

const THICK = {
  root: 0.075,
  spine0: 0.07,
  spine1: 0.07,
  chest: 0.075,
  neck: 0.03,
  up: 0.026,
  fore: 0.021,
  hand: 0.017,
  thigh: 0.04,
  shin: 0.028,
  foot: 0.02,
};
/** A capsule along a bone, a ball for the head. */
function bodyShape(sk, j, n, unit) {
  const word = j.key.replace(/[LR]$/, "");
  const child = sk.joints.find(
    (c) => c.parent === j.key && !c.key.startsWith("clav") && !c.key.startsWith("thigh"),
  );
  const r = Number((((THICK[word] ?? 0) * sk.H) / unit).toFixed(4));
  if (j.key === "head") n.shapes = [{ kind: "sphere", radius: Number(((0.062 * sk.H) / unit).toFixed(4)) }];
  else if (r && child)
    n.shapes = [
      { kind: "capsule", radius: r, from: [0, 0, 0], to: trim(restAt(sk, child).map((v) => v / unit)) },
    ];
}

/** A thing: `pose(f, env)` gives its place and turn, or `still` where it never moves, or `hang` under a joint. */
function putProp(item, shot, env, doc, sim) {
  const frames = framesOf(shot);
  const pose = item.pose ?? (() => ({ p: item.still, q: item.turn ?? ONE }));
  let dense = frames.map((f) => pose(held(shot, f), env));
  const n = /** @type {any} */ ({
    id: item.id,
    translation: trim(upPlace(shot.up, dense[0].p).map((v) => v / shot.unit)),
  });
  const order = item.order ?? "yxz";
  if (order !== "xyz") n.rotationOrder = order;
  if (shot.up !== "y") n.fixedRotation = upTurn(shot.up).map((v) => Number(v.toFixed(10)));
  else if (item.still && item.turn) n.fixedRotation = trim(item.turn, 8);
  if (item.shapes) n.shapes = item.shapes.map((s) => scaleShape(s, 1 / shot.unit));
  if (item.colour) n.colour = item.colour;
  doc.nodes.push(n);
  if (!item.still) {
    const kind = item.kind ?? "bezier";
    const tol = (item.tol ?? 0.0012) / shot.unit;
    const vals = [0, 1, 2].map((ax) => {
      const b = bakeNumber(
        shot,
        dense.map((d) => upPlace(shot.up, d.p)[ax] / shot.unit),
        { kind, tol, must: item.must, digits: shot.unit < 0.1 ? 2 : 4 },
      );
      doc.curves.push(curve(shot, item.id, `translation.${"xyz"[ax]}`, kind, b.keys));
      return b.values;
    });
    const r = bakeTurn(
      shot,
      item.id,
      order,
      dense.map((d) => d.q),
      { kind, tol: item.tolTurn ?? 0.25, must: item.must, quat: item.quat },
    );
    doc.curves.push(...r.curves);
    dense = frames.map((_, i) => {
      const d = vals.map((v) => v[i] * shot.unit);
      return { p: shot.up === "z" ? [d[0], d[2], -d[1]] : d, q: r.turns[i] };
    });
  }
  sim.props[item.id] = dense;
}

function scaleShape(s, k) {
  const out = { ...s };
  for (const key of ["size", "centre", "from", "to"]) if (s[key]) out[key] = trim(s[key].map((v) => v * k));
  if (s.radius) out.radius = Number((s.radius * k).toFixed(4));
  return out;
}

/** A camera on a node of its own; `eye` and `at` are places or tracks of places. */
function putCamera(c, shot, doc, sim) {
  const moves = !Array.isArray(c.eye) || !Array.isArray(c.at);
  const get = (v, f) => (Array.isArray(v) ? v : v(f));
  const pose = (f) => ({ p: get(c.eye, f), q: lookAt(get(c.eye, f), get(c.at, f)) });
  const up = upTurn(shot.up);
  const id = c.node ?? `${c.id}_node`;
  const n = /** @type {any} */ ({
    id,
    translation: trim(upPlace(shot.up, pose(shot.first).p).map((v) => v / shot.unit)),
  });
  n.fixedRotation = trim(moves ? up : qmul(up, pose(shot.first).q), 8);
  if (moves) n.rotationOrder = "yxz";
  doc.nodes.push(n);
  const frames = framesOf(shot);
  if (moves) {
    [0, 1, 2].forEach((ax) => {
      const b = bakeNumber(
        shot,
        frames.map((f) => upPlace(shot.up, pose(f).p)[ax] / shot.unit),
        { kind: "smooth", tol: 0.004 / shot.unit, digits: 3 },
      );
      doc.curves.push(curve({ ...shot, poses: undefined }, id, `translation.${"xyz"[ax]}`, "smooth", b.keys));
    });
    doc.curves.push(
      ...bakeTurn(
        { ...shot, poses: undefined },
        id,
        "yxz",
        frames.map((f) => pose(f).q),
        { kind: "smooth", tol: 0.1 },
      ).curves,
    );
  }
  doc.cameras = [
    ...(doc.cameras ?? []),
    {
      id: c.id,
      node: id,
      verticalFieldOfView: c.fov ?? 32,
      aspect: c.aspect ?? 1.7778,
      ...(c.frames ? { frames: c.frames } : {}),
    },
  ];
  sim.camera = { fov: c.fov ?? 32, aspect: c.aspect ?? 1.7778, pose };
}

/**
 * A prop that goes along with hands, one after another, from where it is: `[{ fig, s, from, to }]`;
 * outside of those stretches `free(f)` places it.
 */
export function follow(parts, free, grip = { p: [0, 0, 0], q: ONE }) {
  const memo = new Map();
  const pose = (f, env) => {
    if (memo.has(f)) return memo.get(f);
    const i = parts.findIndex((p) => f >= p.from && f <= p.to);
    let out;
    if (i < 0) out = free(f, env, pose);
    else {
      const hand = env.palm(parts[i].fig, parts[i].s, f);
      let g = parts[i].grip ?? grip;
      if (parts[i].take) {
        const h0 = env.palm(parts[i].fig, parts[i].s, parts[i].from);
        const was = pose(parts[i].from - 1, env);
        g = {
          p: turn(
            conj(h0.q),
            add(
              was.p,
              h0.p.map((v) => -v),
            ),
          ),
          q: qmul(conj(h0.q), was.q),
        };
      }
      out = { p: add(hand.p, turn(hand.q, g.p)), q: qmul(hand.q, g.q) };
    }
    memo.set(f, out);
    return out;
  };
  return pose;
}

/** Free flight from the pose at `a` to the pose at `b`, with gravity. */
export function fly(a, b, from, to, fps, spin = 0) {
  return (f) => {
    const T = (b - a) / fps;
    const t = (f - a) / fps;
    const p = [0, 1, 2].map((i) => from.p[i] + ((to.p[i] - from.p[i]) * t) / T);
    p[1] += 4.9 * t * (T - t);
    const h = ((spin * (f - a)) / (b - a) / 2) * (Math.PI / 180);
    return { p, q: qmul([Math.sin(h), 0, 0, Math.cos(h)], from.q) };
  };
}
export { track };
