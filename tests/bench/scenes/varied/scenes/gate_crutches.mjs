// @ts-check
import { full, versions } from "../../people/kit/declare.mjs";
import { add, between, mul, norm, qmul, sub } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { ease, has, keys, person, stand, swing } from "../kit/parts.mjs";

export const name = "gate_crutches";
export const about =
  "A woman with a bad right foot comes on two crutches, three swings: crutches ahead, body through on the left leg. She stops, gets her balance, and looks up.";

const N = 32;
const STEP = 0.54;
const LAST = 136;
const LONG = 0.79;
const F0 = 5;

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "patient",
    1.66,
    "bacino lombi/torace collo testa vertice clavicola omero radio polso dita femore tibia caviglia avampiede alluce",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}_${s === "L" ? "sx" : "dx"}`,
      orders: { root: "yxz", leg: "xyz", arm: "zxy", neck: "yxz" },
    },
  );
  // Where the round begins: crutches are down ahead, the left foot stands.
  const start = (/** @type {number} */ k) => F0 + k * N;
  const L = /** @type {any} */ ({});
  const hips = /** @type {any} */ ({ 1: [0.012, -0.034, 0.03] });
  const rot = /** @type {any} */ ({ 1: [6, 0, 0] });
  const back = /** @type {any} */ ({ 1: [6, 0, 0] });
  const head = /** @type {any} */ ({ 1: [4, 0, 0] });
  const roll = /** @type {any} */ ({ 1: 0 });
  const clav = /** @type {any} */ ({ 1: [2, 2] });
  const rise = has(bad, 2) ? 0 : 1;
  for (let k = 0; k < 3; k++) {
    const [a, z] = [start(k), k * STEP];
    stand(L, k ? a - N + 22 : -3, a + 9, [0.05, 0, z, 8]);
    Object.assign(
      roll,
      keys(
        `${a + 2}: 0 | ${a + 6}: 14 | ${a + 9}: 34 | ${a + 12}: 38 | ${a + 17}: 4 | ${a + 22}: -12 | ${a + 25}: 0`,
      ),
    );
    const y = (/** @type {number} */ v) => -0.036 + (v + 0.036) * rise;
    Object.assign(hips, {
      [a]: [0.022, y(-0.034), z + 0.05],
      [a + 8]: { v: [0.012, y(-0.022), z + 0.165], s: [0, 0.001 * rise, 0.021] },
      [a + 15]: { v: [0.0, y(0.0), z + 0.34], s: [0, 0, 0.026] },
      [a + 22]: { v: [0.014, y(-0.05), z + 0.485], s: [0.001, -0.004 * rise, 0.012] },
      [a + 26]: [0.03, y(-0.058), z + 0.525],
    });
    Object.assign(
      rot,
      keys(`${a}: 7 0 1 | ${a + 8}: 11 0 0 | ${a + 15}: 3 2 -1 | ${a + 22}: 0 2 1 | ${a + 27}: 6 0 2`),
    );
    Object.assign(
      back,
      keys(`${a + 1}: 7 0 0 | ${a + 9}: 13 0 1 | ${a + 16}: 8 0 0 | ${a + 23}: 2 0 0 | ${a + 28}: 9 0 -2`),
    );
    Object.assign(head, keys(`${a + 3}: 4 0 0 | ${a + 12}: -3 0 0 | ${a + 19}: 1 0 0 | ${a + 26}: 9 0 0`));
    Object.assign(clav, keys(`${a + 1}: 2 2 | ${a + 12}: 11 2 | ${a + 19}: 9 0 | ${a + 25}: 0 2`));
  }
  stand(L, start(2) + 22, 150, [0.05, 0, 3 * STEP, 8]);
  for (let k = 0; k < 3; k++) swing(L, start(k) + 9, start(k) + 22, 0.055);
  const e = start(3);
  const ez = 3 * STEP;
  Object.assign(
    hips,
    keys(
      `${e}: 0.02 -0.04 ${ez - 0.005} | ${e + 8}: 0.014 -0.028 ${ez + 0.035} | ${e + 18}: 0.018 -0.03 ${ez + 0.03} | 136: 0.018 -0.03 ${ez + 0.03}`,
    ),
  );
  Object.assign(rot, keys(`${e}: 5 0 1 | ${e + 9}: 1 0 0 | 136: 1 0 0`));
  Object.assign(back, keys(`${e + 2}: 6 0 0 | ${e + 12}: 0 0 0 | ${e + 22}: -2 0 0 | 136: -2 1 0`));
  Object.assign(head, keys(`${e + 6}: 6 0 0 | ${e + 18}: -12 3 0 | ${e + 24}: -10 4 0 | 136: -10 4 0`));
  Object.assign(clav, { [e + 8]: [4, 2], [LAST]: [3, 2] });
  const H = track(hips);
  // The bad foot hangs, and comes after the hips.
  const down = (/** @type {number} */ f) => (has(bad, 3) ? ease(f, 54, 59) * (1 - ease(f, 66, 71)) : 0);
  const R = (/** @type {number} */ f) => {
    const h = H(f - 3);
    const d = down(f);
    return [-0.085, (0.17 + 0.6 * (h[1] + 0.03)) * (1 - d), h[2] - 0.19 + 0.09 * d, -6];
  };
  /** One crutch: its tip's stands, and the line from the tip to the grip. @param {"L" | "R"} s */
  const crutch = (s) => {
    const m = s === "L" ? 1 : -1;
    const T = /** @type {any} */ ({});
    const x = 0.27 * m;
    for (let k = 0; k < 4; k++) {
      const z = 0.36 + k * STEP - (k === 3 ? 0.13 : 0) + (s === "L" ? 0.015 : 0);
      stand(T, k ? start(k) - 1 : -5, k === 3 ? 150 : start(k) + 23, [x, 0, z]);
      if (k === 2 && s === "R" && has(bad, 1)) {
        T[start(k) + 23].v = [x - 0.02, 0, z + 0.14];
        T[start(k) + 5] = { v: [x, 0, z], s: [0, 0, 0] };
        T[start(k) + 17] = { v: [x - 0.02, 0, z + 0.14], s: [0, 0, 0] };
      }
    }
    for (let k = 0; k < 3; k++) swing(T, start(k) + 23, start(k + 1) - 1, 0.05);
    const tip = track(T);
    return (/** @type {number} */ f) => {
      const t = tip(f);
      const h = H(f);
      const grip = [h[0] * 0.5 + 0.235 * m, 0.768, h[2] + 0.08 + (t[2] - h[2] - 0.1) * 0.28];
      const up = norm(sub(grip, t));
      return { p: add(t, mul(up, LONG)), q: between([0, 1, 0], up) };
    };
  };
  const poles = { L: crutch("L"), R: crutch("R") };
  const slip = (/** @type {number} */ f) =>
    has(bad, 4) ? 0.06 * ease(f, 24, 30) * (1 - ease(f, 40, 46)) : 0;
  const hand = (/** @type {"L" | "R"} */ s) => ({
    w: { 1: 1 },
    pole: [s === "L" ? 0.3 : -0.3, -0.3, -0.9],
    at: (/** @type {number} */ f) =>
      add(poles[s](f).p, [0, s === "L" ? slip(f) : 0, s === "L" ? -0.4 * slip(f) : 0]),
    rot: (/** @type {number} */ f) =>
      qmul(poles[s](f).q, handTurn(s, [0.05, -0.5, 0.85], [s === "L" ? -0.25 : 0.25, -0.85, -0.5])),
  });
  const stiff = has(bad, 5);
  const perf = /** @type {any} */ ({
    alive: 0.5,
    leans: () => true,
    opts: { kind: "bezier" },
    hips,
    hipsRot: rot,
    spine: back,
    chest: Object.fromEntries(
      Object.entries(back).map(([f, v]) => [
        Number(f) + (f === "1" ? 0 : 1),
        v.map((/** @type {number} */ x) => x * 1.15),
      ]),
    ),
    neck: keys(`1: -9 0 0 | ${e}: -9 0 0 | ${e + 16}: -3 0 0 | 136: -3 0 0`),
    head: stiff ? { 1: [3, 0, 0] } : head,
    clavL: clav,
    clavR: clav,
    footL: L,
    footR: Object.assign(R, { frames: [5, 13, 20, 27, 37, 45, 52, 59, 69, 77, 84, 91, 101] }),
    rollL: roll,
    rollR: (/** @type {number} */ f) => 24 * (1 - down(f)) + 90 * (H(f - 2)[2] - H(f - 4)[2]) * (1 - down(f)),
    hung: (/** @type {string} */ s) => s === "R",
    kneeL: { 1: 5 },
    kneeR: { 1: 5 },
    handL: hand("L"),
    handR: hand("R"),
    fingL: keys("1: 62"),
    fingR: keys("1: 62"),
  });
  const b = makeShot({
    name,
    fps: 25,
    last: LAST,
    shot: { stage: "splining" },
    items: [
      .../** @type {const} */ (["L", "R"]).map((s) => ({
        id: `stampella_${s === "L" ? "sx" : "dx"}`,
        pose: poles[s],
        tol: 0.001,
        tolTurn: 0.08,
        must: [0, 1, 2, 3].flatMap((k) => [start(k) - 1, start(k) + 23]),
        shapes: [{ kind: "capsule", radius: 0.012, from: [0, 0.2, -0.03], to: [0, -LONG + 0.012, 0] }],
        colour: "#b0b4b8",
      })),
      { skel: sk, perf, body: true },
    ],
    cameras: [
      {
        id: "laterale",
        eye: [-5, 1.15, 1.1],
        at: track(keys("1: 0 0.85 0.3 | 40: 0 0.85 0.5 | 104: 0 0.88 1.5 | 136: 0 0.88 1.55")),
        fov: 30,
      },
    ],
  });
  full(b, {
    props: ["sx", "dx"].map((s) => ({
      node: `stampella_${s}`,
      mass: 0.6,
      heldBy: [{ node: `polso_${s}`, frames: [1, LAST] }],
    })),
  });
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The right crutch skates ahead over the ground with her whole weight on it, in the third swing.",
    kind: "tip-slides",
    size: "strong",
    nodes: ["stampella_dx", "polso_dx", "radio_dx", "omero_dx"],
    frames: [74, 100],
    order: 1,
  },
  {
    what: "The body glides along at one height, it isn't lifted onto the crutches and doesn't come down on the leg; there is no weight in it.",
    kind: "no-weight",
    size: "strong",
    nodes: ["bacino"],
    frames: [5, 97],
    order: 2,
  },
  {
    what: "In the second swing she puts the bad foot down; that's the foot that she mustn't stand on.",
    kind: "wrong-foot-down",
    size: "ordinary",
    nodes: ["caviglia_dx", "tibia_dx", "femore_dx", "avampiede_dx"],
    frames: [54, 71],
    order: 3,
  },
  {
    what: "The left hand comes off its grip while she leans on it.",
    kind: "grip-slip",
    size: "ordinary",
    nodes: ["polso_sx", "radio_sx", "omero_sx"],
    frames: [24, 46],
    order: 4,
  },
  {
    what: "The head doesn't answer the swings or the stop, it sits on the neck like a knob.",
    kind: "stiff-head",
    size: "barely",
    nodes: ["testa"],
    frames: [1, 136],
    order: 5,
  },
];
