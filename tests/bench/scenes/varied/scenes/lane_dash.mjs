// @ts-check
import { heldThen, late, stand } from "../../mixed/kit/edits.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { dense, ease, has, person } from "../kit/parts.mjs";

export const name = "lane_dash";
export const about =
  "A boy runs down a lane, takes the corner to his left over five steps, leaning in, and runs on.";

const FIRST = 101;
const LAST = 196;
const A = 97;
const turns = 19;

/** Heading in degrees: it changes while a foot is down, and not in the air. @param {number} f */
const heading = (f) => [3, 4, 5, 6, 7].reduce((s, k) => s + turns * ease(f, A + 10 * k, A + 10 * k + 5), 0);
const speed = track({
  80: 0.11,
  112: 0.11,
  127: { v: 0.092, s: 0 },
  170: { v: 0.092, s: 0 },
  190: 0.112,
  220: 0.112,
});
/** Where the hips go. */
const way = (() => {
  const at = new Map();
  let p = [0, 0];
  for (let f = 80; f <= 220; f += 0.25) {
    at.set(f, p);
    const h = (heading(f + 0.125) * Math.PI) / 180;
    const v = speed(f + 0.125) * 0.25;
    p = [p[0] + Math.sin(h) * v, p[1] + Math.cos(h) * v];
  }
  return (/** @type {number} */ f) => at.get(Math.round(f * 4) / 4);
})();
const lean = track({ 80: 0, 122: 0, 134: { v: 13, s: 0 }, 164: { v: 13, s: 0 }, 180: 0, 220: 0 });
/** A place beside and ahead of the hips' way. @param {number} f @param {number} side @param {number} ahead @param {number} at */
function beside(f, side, ahead, at = f) {
  const h = (heading(at) * Math.PI) / 180;
  const [x, z] = way(f);
  return [x + Math.cos(h) * side + Math.sin(h) * ahead, z - Math.sin(h) * side + Math.cos(h) * ahead];
}

/** @param {any} perf @param {"L" | "R"} s @param {import("../kit/parts.mjs").Bad} bad */
function foot(perf, s, bad) {
  const m = s === "L" ? 1 : -1;
  const F = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  for (let k = s === "L" ? -2 : -1; k < 13; k += 2) {
    const [a, b] = [A + 10 * k, A + 10 * k + 5];
    if (a < 82 || b > 214) continue;
    const out = Math.tan((lean(a + 2.5) * Math.PI) / 180) * 0.42;
    const yaw = heading(a + 2.5) + m * 5;
    const [x, z] = beside(a + 2.5, 0.06 * m - out, 0.035);
    const skid = has(bad, 2) && k === 5 ? 0.13 : 0;
    const h = (heading(a) * Math.PI) / 180;
    const end = [x + Math.sin(h) * skid, 0, z + Math.cos(h) * skid, yaw];
    F[a] = {
      v: [x, 0, z, yaw],
      in: [Math.sin(h) * 0.065, -0.028, Math.cos(h) * 0.065, 0],
      out: [0, 0, 0, 0],
    };
    F[b] = { v: end, in: [0, 0, 0, 0], out: [Math.sin(h) * 0.04, 0.035, Math.cos(h) * 0.04, 0] };
    Object.assign(R, { [a]: -3, [a + 1.5]: 0, [b - 2]: 14, [b]: 42 });
    if (b + 15 > 214) continue;
    for (const [u, ahead, y, r, side] of [
      [3, -0.37, 0.15, 62, 0.05],
      [6, -0.28, 0.27, 74, 0.04],
      [9.25, 0.06, 0.21, 34, 0.05],
      [12.5, 0.265, 0.085, 4, 0.06],
    ]) {
      const t = b + u;
      const off = Math.tan((lean(t) * Math.PI) / 180) * 0.42;
      const [px, pz] = beside(t, side * m - off, ahead);
      F[t] = [px, y, pz, heading(t) + m * 4];
      R[t] = r;
    }
  }
  perf[`foot${s}`] = F;
  perf[`roll${s}`] = R;
}

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "garcon",
    1.48,
    "BASSIN RACHIS/THORAX COU TETE SOMMET CLAV BRAS AVBRAS MAIN DOIGTS CUISSE TIBIA PIED ORTEILS BOUT",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}_${s === "L" ? "G" : "D"}`,
      orders: { root: "yxz", leg: "zxy", arm: "yxz", spine: "yxz" },
    },
  );
  const hips = /** @type {any} */ ({});
  const perf = /** @type {any} */ ({
    alive: 0.4,
    air: [],
    leans: () => true,
    kneeL: { 1: 3 },
    kneeR: { 1: 3 },
  });
  for (const k of ["hipsRot", "spine", "chest", "neck", "head", "armL", "armR", "wristL", "wristR"])
    perf[k] = {};
  for (let k = -1; k < 12; k++) {
    const a = A + 10 * k;
    const m = k % 2 === 0 ? 1 : -1;
    for (const [u, y, s] of [
      [0, -0.092, -0.034],
      [2.5, has(bad, 4) && k > 5 && k < 8 ? -0.104 : -0.133, 0],
      [5, -0.092, 0.035],
    ]) {
      const f = a + u;
      const d = [0, 1].map((c) => (way(f + 0.25)[c] - way(f - 0.25)[c]) * 2);
      hips[f] = { v: [way(f)[0], y, way(f)[1]], s: [d[0], s, d[1]] };
    }
    if (k >= 0) perf.air.push([a - 5, a]);
    const l = lean(a);
    perf.hipsRot[a] = [8, heading(a) - 8 * m, -l * 0.9 + 2 * m];
    perf.hipsRot[a + 5] = [7, heading(a + 5) + 5 * m, -l * 0.9 - m];
    perf.spine[a + 0.5] = [5, 7 * m, 1];
    perf.chest[a + 1] = [6, 12 * m + turns * 0.25 * (k > 2 && k < 8 ? 1 : 0), l * 0.1];
    // He looks into the corner before he goes there.
    const look = 16 * ease(a, 112, 124) * (1 - ease(a, 162, 178));
    perf.neck[a + 1] = [-8, -6 * m + look, l * 0.35];
    perf.head[a + 2] = [-7, -5 * m + look, l * 0.4];
    const [back, front] = [
      [-48, 18, 0, 84],
      [38, 15, -18, 97],
    ];
    perf.armL[a + 0.5] = m > 0 ? back : front;
    perf.armR[a + 1.5] = m > 0 ? front : back.map((v, i) => v - (i === 0 ? 3 : 0));
    perf.wristL[a + 3.5] = [m > 0 ? -8 : 13, 0, 0];
    perf.wristR[a + 4] = [m > 0 ? 13 : -9, 0, 0];
  }
  perf.hips = hips;
  perf.air.pop();
  Object.assign(perf, { fingL: { 1: 48 }, fingR: { 1: 44 } });
  foot(perf, "L", bad);
  foot(perf, "R", bad);
  if (has(bad, 1))
    for (const k of ["hipsRot", "neck", "head"])
      for (const f of Object.keys(perf[k]).map(Number)) {
        const w = ease(f, 122, 130) * (1 - ease(f, 168, 176));
        const v = perf[k][f];
        if (w > 0) perf[k][f] = [v[0], v[1], v[2] * (1 - w)];
      }
  const b = makeShot({
    name,
    fps: 30,
    first: FIRST,
    last: LAST,
    unit: 1,
    up: "z",
    items: [{ skel: sk, perf }],
  });
  full(b);
  dense(b.doc);
  if (has(bad, 5)) for (const n of ["COU", "TETE"]) heldThen(b.doc, n, "rotation.y", 110, 136, 146);
  if (has(bad, 3)) for (const n of ["BRAS_D", "AVBRAS_D", "MAIN_D"]) stand(b.doc, n, "rotation", 172, 186);
  if (has(bad, 6)) late(b.doc, "AVBRAS_G", "rotation", [106, 128], 3);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "He goes round the corner bolt upright; at that speed he has to lean in or he would go over.",
    kind: "no-lean",
    size: "strong",
    nodes: ["BASSIN", "COU", "TETE"],
    frames: [124, 176],
    order: 1,
  },
  {
    what: "The outside foot skids along while his weight is on it in the corner.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["PIED_D", "ORTEILS_D", "CUISSE_D", "TIBIA_D"],
    frames: [146, 153],
    order: 2,
  },
  {
    what: "The right arm stops dead behind the corner and is carried along in one pose while the legs go on running.",
    kind: "held-arm",
    size: "strong",
    nodes: ["BRAS_D", "AVBRAS_D", "MAIN_D"],
    frames: [172, 187],
    order: 3,
  },
  {
    what: "On two steps out of the corner the body doesn't sink into the leg, he runs over the ground as if he weighed nothing.",
    kind: "no-give",
    size: "ordinary",
    nodes: ["BASSIN", "CUISSE_D", "TIBIA_D", "CUISSE_G", "TIBIA_G"],
    frames: [157, 172],
    order: 4,
  },
  {
    what: "The head doesn't lead: he is half round the corner before he looks where he goes.",
    kind: "late-look",
    size: "ordinary",
    nodes: ["COU", "TETE"],
    frames: [111, 146],
    order: 5,
  },
  {
    what: "The left forearm is a few frames behind its upper arm at the start.",
    kind: "out-of-step",
    size: "barely",
    nodes: ["AVBRAS_G", "MAIN_G"],
    frames: [106, 128],
    order: 6,
  },
];
