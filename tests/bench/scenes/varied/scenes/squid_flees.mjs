import { makeDocument } from "../../creatures/kit/document.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { leaveOut, retime } from "../../slips.mjs";
import { chain, loose, one, played, thing, wave } from "../kit/stage.mjs";

export const name = "squid_flees";
export const about =
  "A squid hovers in open water, takes fright, fills its mantle and flees backwards in three jets, its arms streaming after it.";

const FPS = 24;
const RANGE = [1, 132];
const ARMS = ["a", "b", "c", "d", "e", "f"];
const rig = makeRig([
  ["mantle", null, [0, 0, 0], 6],
  ["cone", "mantle", [0, 0.02, 0.42], 2],
  ["tip", "cone", [0, 0, 0.3]],
  ["finL", "cone", [0.1, 0.02, 0.04], 0.2],
  ["finTipL", "finL", [0.2, 0, 0.08]],
  ["finR", "cone", [-0.1, 0.02, 0.04], 0.2],
  ["finTipR", "finR", [-0.2, 0, 0.08]],
  ["head", "mantle", [0, 0, -0.12], 1.5],
  ["eyeL", "head", [0.09, 0.03, -0.04]],
  ["eyeR", "head", [-0.09, 0.03, -0.04]],
  ["funnel", "head", [0, -0.1, 0.02], 0.1],
  ["funnelTip", "funnel", [0, -0.02, -0.1]],
  ...ARMS.flatMap((a, i) => {
    const [x, y] = [0.06 * Math.cos((i * Math.PI) / 3 + 0.4), 0.06 * Math.sin((i * Math.PI) / 3 + 0.4)];
    return [1, 2, 3, 4].map((k) => [
      `${a}${k}`,
      k === 1 ? "head" : `${a}${k - 1}`,
      k === 1 ? [x, y, -0.1] : [x * 0.25, y * 0.25, -0.15],
      0.1,
    ]);
  }),
]);
const WORDS = {
  mantle: "manto",
  cone: "bainha",
  tip: "ponta",
  finL: "barbatana.E",
  finTipL: "barbatana_ponta.E",
  finR: "barbatana.D",
  finTipR: "barbatana_ponta.D",
  head: "cabeca",
  eyeL: "olho.E",
  eyeR: "olho.D",
  funnel: "sifao",
  funnelTip: "sifao_ponta",
};
const n = (role) => `lula_${WORDS[role] ?? `braco_${role[0]}${role.slice(1)}`}`;
// When the mantle fills and empties: three jets, each weaker than the one before.
const JETS = [
  [40, 1],
  [68, 0.8],
  [97, 0.6],
];
const fill = one([
  [1, 0.1],
  [24, 0.1],
  [37, 1],
  [40, 1],
  [46, -0.9],
  [50, -0.8],
  [63, 0.8],
  [68, 0.8],
  [74, -0.7],
  [79, -0.6],
  [92, 0.62],
  [97, 0.62],
  [103, -0.5],
  [109, -0.4],
  [124, 0.15],
  [132, 0.15],
]);
const thrust = (f) =>
  JETS.reduce(
    (s, [at, k]) => s + (f > at && f < at + 7 ? k * 0.034 * Math.sin((Math.PI * (f - at)) / 7) ** 2 : 0),
    0,
  );
// The way: a push, and the water's drag on what is fast. Metres a frame.
const [SPEED, GONE] = (() => {
  const [v, s] = [[0], [0]];
  for (let i = 1; i <= 140 * 16; i++) {
    const was = v[i - 1];
    v.push(was + (thrust(i / 16) - 0.011 * was - 0.38 * was * was) / 16);
    s.push(s[i - 1] + v[i] / 16);
  }
  return [v, s].map((list) => (f) => list[Math.max(0, Math.round(f * 16))]);
})();
const yaw = one([
  [1, 24],
  [28, 26],
  [36, 30],
  [60, 12],
  [90, -14],
  [118, -24],
  [132, -25],
]);
const pitch = one([
  [1, -4],
  [26, -5],
  [37, 4],
  [50, -13],
  [76, -9],
  [104, -16],
  [132, -8],
]);
const hover = (f) => [0.012 * Math.sin(f / 17), 0.016 * Math.sin(f / 13 + 1), 0.01 * Math.sin(f / 21)];

function build(bad) {
  const drive =
    (g, when = (f) => f) =>
    (f) =>
      g(when(f));
  const late = bad ? (f) => f : undefined;
  const spin = drive((f) => 3.2 * (yaw(f) - yaw(f - 3)), late);
  const rise = drive((f) => 3.2 * (pitch(f) - pitch(f - 3)), late);
  const flare = loose(RANGE, FPS, (f) => 20 * Math.max(0, 1 - SPEED(f) * 26) + 5 * fill(f), 1.3, 0.55);
  const arms = ARMS.map((_, i) => ({
    x: chain(RANGE, FPS, (f) => 0.9 * rise(f) + 4 * wave(f, 43 + 5 * i, i / 6), 4, 1.35 + 0.08 * i, 0.5),
    y: chain(RANGE, FPS, (f) => -0.9 * spin(f) + 4 * wave(f, 51 - 3 * i, i / 5), 4, 1.25 + 0.1 * i, 0.5),
    open: chain(RANGE, FPS, flare, 4, 1.6, 0.6),
  }));
  const bend = loose(RANGE, FPS, (f) => 2.2 * (yaw(f) - yaw(f - 4)), 1.5, 0.6);
  // Fins beat while it hovers and lie close while it shoots.
  const beat = (f) => Math.max(0.12, 1 - SPEED(f) * 22);
  const path = [[0, 0, 0]];
  for (let i = 1; i <= RANGE[1] * 8; i++) {
    const [h, k] = [yaw(i / 8), pitch(i / 8)].map((d) => (d * Math.PI) / 180);
    const d = GONE(i / 8) - GONE((i - 1) / 8);
    const q = path[i - 1];
    path.push([
      q[0] + d * Math.sin(h) * Math.cos(k),
      q[1] - d * Math.sin(k),
      q[2] + d * Math.cos(h) * Math.cos(k),
    ]);
  }
  const take = played(rig, RANGE, (p, f) => {
    const at = path[Math.round(f * 8)];
    const b = hover(f);
    p.move("mantle", ...at.map((v, i) => v + b[i] + [0, 3, 0][i]));
    p.rot("mantle", pitch(f), yaw(f), -0.8 * bend(f) + 2 * Math.sin(f / 23));
    p.rot("cone", 0.35 * (pitch(f + 2) - pitch(f)), 0.5 * bend(f + 1), 0);
    p.rot(
      "head",
      -2 * fill(f - 1) - 0.5 * (pitch(f) - pitch(f - 2)),
      -0.8 * bend(f - 2) +
        (f < 44
          ? one([
              [1, 0],
              [16, 0],
              [22, 11],
              [33, 12],
              [44, 0],
            ])(f)
          : 0),
      0,
    );
    const blown = bad && f > 93 && f < 115 ? 95 * Math.sin((Math.PI * (f - 93)) / 22) ** 1.2 : 0;
    p.rot("funnel", 10 - 12 * fill(f - 1) - blown, 0.8 * bend(f), 0);
    for (const [s, m] of [
      ["L", 1],
      ["R", -1],
    ])
      p.rot(
        `fin${s}`,
        10 * beat(f) * wave(f, 18, m > 0 ? 0.25 : 0.29),
        m * -42 * (1 - beat(f)),
        m * (26 * beat(f) * wave(f, 18, m > 0 ? 0 : 0.04) - 10 * (1 - beat(f))),
      );
    ARMS.forEach((a, i) => {
      const t = (i * Math.PI) / 3 + 0.4;
      for (let k = 1; k <= 4; k++) {
        const g = arms[i];
        const j = bad ? 0 : k - 1;
        const out = g.open[j](f) * [0.5, 0.55, -0.3, -0.7][k - 1] - [0, 0, 2, 5][k - 1];
        p.rot(
          `${a}${k}`,
          g.x[j](f) * [0.5, 0.8, 1, 1.1][k - 1] + out * Math.sin(t),
          g.y[j](f) * [0.5, 0.8, 1, 1.1][k - 1] - out * Math.cos(t),
          0,
        );
      }
    });
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.12, place: 0.0012 }) }],
    more: {
      surroundings: [{ medium: "water" }],
      figures: [
        {
          id: "lula",
          parts: { root: n("mantle"), head: n("head") },
          limbs: [
            ...ARMS.map((a) => ({
              id: `braco ${a}`,
              kind: "tentacle",
              nodes: [1, 2, 3, 4].map((k) => n(`${a}${k}`)),
            })),
            { id: "barbatana E", kind: "fin", side: "left", nodes: [n("finL"), n("finTipL")] },
            { id: "barbatana D", kind: "fin", side: "right", nodes: [n("finR"), n("finTipR")] },
          ],
        },
      ],
    },
  });
  // In the second jet the flawed mantle stays full.
  const full = (f) => (bad && f > 66 && f < 92 ? 0.8 : fill(f));
  doc.curves.push(
    ...thing(
      n("cone"),
      RANGE,
      { "scale.x": (f) => 1 + 0.13 * full(f), "scale.y": (f) => 1 + 0.13 * full(f) },
      1,
    ),
  );
  return doc;
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // The glide after the first jet runs at one speed, and the brake comes in a frame.
  const a = [52, 66];
  retime(doc, [n("mantle")], "translation", 40, 68, (f) =>
    f <= 62 ? 40 + ((f - 40) * 27.6) / 22 : 67.6 + ((f - 62) * 0.4) / 6,
  );
  leaveOut(doc, [n("finR")], "rotation");
  retime(doc, [n("eyeL"), n("head")], "rotation", a[0] - 38, a[0] - 16, () => 14);
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "First jet: one speed from the shot to 62 and then it sticks in the water; where is the burst, and the glide that dies away?",
    kind: "jet without burst",
    size: "strong",
    nodes: all("mantle"),
    frames: [40, 68],
    order: 1,
  },
  {
    what: "Arms bend in all joints on the same frame, like wires; in water each link is dragged by the one before.",
    kind: "no drag in arms",
    size: "ordinary",
    nodes: ARMS.flatMap((a) => [1, 2, 3, 4].map((k) => n(`${a}${k}`))),
    frames: RANGE,
    order: 2,
  },
  {
    what: "The right fin is forgotten, it never moves.",
    kind: "fin dead",
    size: "ordinary",
    nodes: all("finR", "finTipR"),
    frames: RANGE,
    order: 3,
  },
  {
    what: "On the second jet the mantle stays full, nothing is squeezed out that could push it.",
    kind: "missing squeeze",
    size: "ordinary",
    nodes: all("cone"),
    frames: [67, 91],
    order: 4,
  },
  {
    what: "It flees before it has noticed anything, the head's look round to the danger is gone.",
    kind: "reaction missing",
    size: "ordinary",
    nodes: all("head", "eyeL", "eyeR"),
    frames: [14, 36],
    order: 5,
  },
  {
    what: "In the last jet the funnel is swung round and blows ahead, it would drive it back where it came from.",
    kind: "funnel aims wrong",
    size: "barely",
    nodes: all("funnel", "funnelTip"),
    frames: [94, 114],
    order: 6,
  },
];
export const truth = {};
