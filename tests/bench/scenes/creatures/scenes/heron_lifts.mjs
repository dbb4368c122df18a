// @ts-check
// A heron takes off.
import { pop } from "../../slips.mjs";
import { masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { clamp, mix } from "../kit/math.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "heron_lifts";
export const about =
  "A heron stands, looks up, crouches and springs from its long legs while its wings come down for the first time; it beats its way up and draws in its neck, the legs trail behind.";

const END = 118;
const FPS = 24;
const T = 11;
const OFF = 34;
const rig = makeRig(
  /** @type {any} */ ([
    ["trunk", null, [0, 0.58, 0], 0.9, "yxz"],
    ["breast", "trunk", [0, 0.02, 0.14], 0.3],
    ["neck1", "breast", [0, 0.05, 0.08], 0.06],
    ["neck2", "neck1", [0, 0.15, 0.03], 0.05],
    ["neck3", "neck2", [0, 0.15, -0.02], 0.04],
    ["skull", "neck3", [0, 0.12, 0.02], 0.06],
    ["beak", "skull", [0, -0.01, 0.16], 0],
    ["rump", "trunk", [0, 0.01, -0.14], 0.1],
    ["fan", "rump", [0, 0, -0.14], 0],
    ...bothSides([
      ["wing*", "breast", [0.06, 0.05, -0.02], 0.12, "zyx"],
      ["ulna*", "wing*", [0.26, 0, -0.02], 0.07, "zyx"],
      ["prim*", "ulna*", [0.3, 0, 0.02], 0.05, "zyx"],
      ["quill*", "prim*", [0.34, 0, -0.1], 0],
      ["femur*", "trunk", [0.05, -0.04, -0.02], 0.07, "xzy"],
      ["tib*", "femur*", [0, -0.26, 0.02], 0.04],
      ["tars*", "tib*", [0, -0.28, 0], 0.02],
      ["toes*", "tars*", [0, -0.01, 0.09], 0],
    ]),
  ]),
);
const n = names(
  {
    L: "e",
    R: "d",
    trunk: "corpus",
    breast: "sternum",
    neck1: "cervix1",
    neck2: "cervix2",
    neck3: "cervix3",
    skull: "cranium",
    beak: "rostrum",
    rump: "uropygium",
    fan: "rectrix",
    "wing*": "ala_*",
    "ulna*": "cubitus_*",
    "prim*": "manus_*",
    "quill*": "remex_*",
    "femur*": "femoris_*",
    "tib*": "tibia_*",
    "tars*": "tarsus_*",
    "toes*": "digiti_*",
  },
  "ardea:",
);

/** The beat: 1 with the wings up, -1 with the wings down; the first downstroke goes with the spring. */
const phase = (/** @type {number} */ f) => (2 * Math.PI * (f - 29)) / T;
const power = (/** @type {number} */ f) =>
  val(f, [
    [24, 0],
    [29, 1],
    [100, 0.92],
    [118, 0.9],
  ]);
const beat = (/** @type {number} */ f) =>
  f < 29
    ? val(f, [
        [20, -0.9],
        [29, 1],
      ])
    : Math.cos(phase(f));
/** How much the wings hold at a time: all of it in the downstroke. @param {number} f */
const hold = (f) => Math.max(0, Math.sin(phase(f))) * Math.PI;

/** The flight of the body, worked out in time from the push of the legs and the beats of the wings. */
const path = (() => {
  /** @type {number[][]} */ const out = [];
  const dt = 1 / FPS / 8;
  let [y, z, vy, vz] = [0.62, 0.1, 1.35, 0.75];
  for (let f = OFF; f <= END + 9; f++) {
    out[f] = [y, z];
    for (let k = 0; k < 8; k++) {
      const t = f + k / 8;
      vy +=
        (9.81 *
          (hold(t) *
            val(t, [
              [OFF, 1.22],
              [60, 1.08],
              [110, 1.0],
            ]) -
            1) -
          0.25 * vy) *
        dt;
      vz += (0.75 * hold(t) - 0.2 * vz) * dt;
      y += vy * dt;
      z += vz * dt;
    }
  }
  return out;
})();
/** The body on its legs until it leaves them. @param {number} f */
const onLegs = (f) => [
  val(f, [
    [1, 0.555],
    [12, 0.56],
    [26, 0.4],
    [27, 0.4],
  ]),
  val(f, [
    [1, 0],
    [12, -0.005],
    [26, 0.025],
  ]),
];
/** @param {number} f */
function body(f) {
  if (f >= OFF)
    return (
      path[OFF] && path[Math.floor(f)].map((v, i) => mix(v, path[Math.floor(f) + 1][i], f - Math.floor(f)))
    );
  const [y0, z0] = onLegs(f);
  if (f <= 27) return [y0, z0];
  // A push of the legs that ends at the speed of the flight.
  const u = (f - 27) / (OFF - 27);
  const run = (/** @type {number} */ a, /** @type {number} */ b, /** @type {number} */ v) => {
    const m = v * (OFF - 27);
    return a + (b - a) * (3 * u * u - 2 * u ** 3) + m * (u ** 3 - u * u);
  };
  const [a, b] = [path[OFF], path[OFF + 1]];
  return [run(0.4, a[0], b[0] - a[0]), run(0.025, a[1], b[1] - a[1])];
}

/** @param {boolean} bad */
function build(bad) {
  const at = (/** @type {number} */ f) => {
    if (!bad) return body(f);
    // The rise begins before there is anything that could carry it, and later does not care for the beat.
    if (f <= 46)
      return body(
        f +
          val(f, [
            [12, 0],
            [17, 8],
            [36, 8],
            [46, 0],
          ]),
      );
    if (f < 62) return body(f);
    const [a, b] = [body(62), body(END)];
    const u = (f - 62) / (END - 62);
    return [mix(a[0], b[0], u), body(f)[1]];
  };
  const take = perform(rig, [1, END], (p, f) => {
    const [y, z] = at(f);
    const go = clamp((f - OFF) / 26, 0, 1);
    const air = val(f, [
      [OFF, 0],
      [OFF + 9, 0.75],
      [OFF + 26, 1],
      [END, 1],
    ]);
    p.move("trunk", 0, y, z);
    p.rot(
      "trunk",
      val(f, [
        [1, -24],
        [12, -24],
        [26, -6],
        [34, -38],
        [48, -22],
        [70, -8],
        [118, -4],
      ]) -
        3 * go * beat(f - 2),
      0,
      val(f, [
        [1, 1],
        [60, 0],
        [84, 3],
        [104, -2],
        [118, 0],
      ]),
    );
    p.rot("breast", -4 + 2 * go * beat(f - 3), 0, 0);
    const look = (/** @type {number} */ t) =>
      val(t, [
        [4, 0],
        [13, 1],
        [20, 0.7],
        [34, 0.2],
        [60, 0],
      ]);
    const tuck = (/** @type {number} */ t) =>
      val(t, [
        [40, 0],
        [74, 1],
        [118, 1],
      ]);
    const s = bad
      ? val(f, [
          [4, 0],
          [9, 0],
          [9.99, 0],
          [10, 1],
          [20, 0.7],
          [34, 0.2],
          [60, 0],
        ])
      : look(f);
    p.rot(
      "neck1",
      mix(34, 72, tuck(f)) +
        val(f, [
          [16, 0],
          [26, 20],
          [35, -6],
          [48, 0],
        ]) +
        2 * go * beat(f - 4),
      0,
      0,
    );
    p.rot(
      "neck2",
      mix(-46, -128, tuck(f - 2)) +
        val(f, [
          [17, 0],
          [27, -14],
          [36, 10],
          [50, 0],
        ]),
      6 * s,
      0,
    );
    p.rot("neck3", mix(18, 96, tuck(f - 4)), 10 * s, 0);
    p.rot(
      "skull",
      mix(22, -22, tuck(f - 3)) -
        12 * s -
        2 * go * beat(f - 5) -
        val(f, [
          [26, 0],
          [34, -16],
          [60, 0],
        ]),
      24 * s,
      0,
    );
    p.rot(
      "rump",
      val(f, [
        [1, 8],
        [27, 4],
        [34, 34],
        [60, 14],
        [118, 8],
      ]) -
        5 * go * beat(f - 3),
      0,
      0,
    );
    for (const side of ["L", "R"]) {
      const k = side === "L" ? 1 : -1;
      const w = power(f);
      const b = beat(f) * w;
      const late = (/** @type {number} */ d) => (bad ? beat(f) : beat(f - d)) * power(f);
      // Folded against the body, then open; the outer wing folds on the way up.
      const open = val(f, [
        [18, 0],
        [28, 1],
        [118, 1],
      ]);
      const rise = Math.max(0, -Math.sin(phase(f))) * clamp((f - OFF) / 4, 0, 1);
      const soft = bad ? 0 : rise;
      p.rot(
        `wing${side}`,
        -8 + 8 * Math.sin(phase(f)) * go,
        k * mix(76, 8 + 10 * soft, open),
        k * mix(-18, 4 + 44 * b + (side === "L" ? 1.5 : 0) * go, open),
      );
      p.rot(`ulna${side}`, 0, k * mix(-150, -14 - 22 * soft, open), k * (open * 14 * late(1.4)));
      p.rot(`prim${side}`, 0, k * mix(146, 8 + 26 * soft, open), k * (open * 20 * late(2.6)));
      // The heel comes up over the toes while the leg pushes.
      const pitch = val(f, [
        [1, 0],
        [28, 0],
        [OFF, 40],
        [OFF + 8, 70],
        [60, 82],
        [118, 84],
      ]);
      const a = (Math.min(pitch, 40) * Math.PI) / 180;
      const sy = 0.002 + 0.01 * Math.cos(a) + 0.09 * Math.sin(a);
      const sz = k * 0.035 + 0.11 + 0.01 * Math.sin(a) - 0.09 * Math.cos(a);
      // On the ground as long as the leg reaches; then the foot swings up behind the body.
      const hang = p.point("trunk", [k * 0.05, mix(-0.52, -0.1, air), mix(-0.1, -0.56, air)]);
      const free = val(f, [
        [OFF, 0],
        [OFF + 5, 1],
      ]);
      const foot =
        f <= OFF
          ? [k * 0.052, sy, sz]
          : [
              k * 0.052,
              mix(sy + 0.1 * (f - OFF) * 0.4, hang[1], free),
              mix(sz + 0.02 * (f - OFF), hang[2], free),
            ];
      p.reach(`femur${side}`, `tib${side}`, `tars${side}`, foot, [k * 0.05, 0.1, -1], [1, 0, 0]);
      p.face(`tars${side}`, turnX(pitch));
    }
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 1,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.25, place: 0.0012 }) }],
    more: {
      figures: [
        {
          id: "ardea",
          parts: { root: n("trunk"), head: n("skull") },
          limbs: ["L", "R"].map((s) => ({
            id: `ala ${s === "L" ? "e" : "d"}`,
            kind: "wing",
            side: s === "L" ? "left" : "right",
            nodes: ["wing", "ulna", "prim", "quill"].map((r) => n(r + s)),
          })),
        },
      ],
      propulsors: [{ figure: "ardea", nodes: [n("wingL"), n("wingR")], channel: "rotation.z" }],
    },
  });
}
/** A turn about x. @param {number} a degrees */
const turnX = (a) => [Math.sin((a * Math.PI) / 360), 0, 0, Math.cos((a * Math.PI) / 360)];

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  pop(doc, n("ulnaL"), "rotation.z", 81, 34);
  return doc;
}
export const flaws = [
  {
    what: "It is lifted before the wings do anything: the body rises out of its crouch while they are still folded.",
    kind: "lift before the wings",
    size: "strong",
    nodes: [n("trunk")],
    frames: [12, 46],
    order: 1,
  },
  {
    what: "From 62 the body climbs on a straight line as if on a wire, no downstroke lifts it and no upstroke lets it sink.",
    kind: "body ignores the wings",
    size: "ordinary",
    nodes: [n("trunk")],
    frames: [62, END],
    order: 3,
  },
  {
    what: "The wings are boards: the outer parts go with the arm on the same frames, nothing drags and nothing folds on the way up.",
    kind: "no drag",
    size: "strong",
    nodes: ["ulnaL", "primL", "ulnaR", "primR"].map(n),
    frames: [30, END],
    order: 2,
  },
  {
    what: "The left wing folds up for one frame at 81.",
    kind: "pop",
    size: "ordinary",
    nodes: ["ulnaL", "primL", "quillL"].map(n),
    frames: [80, 82],
    order: 4,
  },
  {
    what: "The look aside at the start is there from one frame to the next.",
    kind: "start too hard",
    size: "ordinary",
    nodes: ["skull", "neck2", "neck3"].map(n),
    frames: [8, 12],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].map((s) => ({
    node: n(`toes${s}`),
    frames: /** @type {[number, number]} */ ([1, OFF - 1]),
  })),
  ground: {
    nodes: ["tarsL", "tarsR", "toesL", "toesR", "trunk", "beak", "fan", "quillL", "quillR"].map(n),
    height: 0,
  },
  masses: masses(rig, n),
};
