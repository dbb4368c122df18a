import { beast, masses, names, person } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { add, mul, qmul, turn } from "../../creatures/kit/math.mjs";
import { heading } from "../../creatures/kit/rig.mjs";
import { cycle } from "../../creatures/kit/steps.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { leaveOut } from "../../slips.mjs";
import { carried, chain, loose, onFours, played, poseOf, truly, wave, withMore } from "../kit/stage.mjs";

export const name = "camel_post";
export const about =
  "A messenger rides a camel at an easy pace, both legs of a side nearly together; she rocks with the saddle, a staff across her knee.";

const FPS = 30;
const RANGE = [101, 190];
const T = 36;
const STRIDE = 2.3;
const V = STRIDE / T;
const DUTY = 0.6;
const HIP = 1.5;
const BODY = 1.3;
const PHASE = { hindL: 0, foreL: 0.13, hindR: 0.5, foreR: 0.63 };
const camel = withMore(
  beast({
    hip: HIP,
    body: BODY,
    mass: 420,
    wide: 0.17,
    neck: [0, 0.35, 0.75],
    head: [0, -0.06, 0.4],
    tail: [0, -0.18, -0.03],
    tails: 4,
    hind: [0.4, 0.4, 0.28],
    fore: [0.4, 0.4, 0.27],
  }),
  [
    ["saddle", "loin", [0, 0.42, 0.14]],
    ["pommel", "saddle", [0, 0.12, 0.22]],
  ],
);
const rider = person(1.66, { mass: 58 });
const n = names(
  {
    L: "cle",
    R: "des",
    hips: "krupa",
    loin: "hrbet",
    chest: "lopata",
    neck: "sija",
    head: "glava",
    nose: "gobec",
    saddle: "sedlo",
    pommel: "sedlo_rog",
    tail1: "rep1",
    tail2: "rep2",
    tail3: "rep3",
    tail4: "rep4",
    "thigh*": "stegno_*",
    "shin*": "golen_*",
    "hock*": "skocnik_*",
    "hoof*": "zad_kopito_*",
    "upper*": "nadlaket_*",
    "lower*": "podlaket_*",
    "wrist*": "sprednja_*",
    "pad*": "spred_kopito_*",
  },
  "kamela:",
);
const r = names(
  {
    L: "L",
    R: "D",
    hips: "boki",
    waist: "pas",
    chest: "prsi",
    neck: "vrat",
    head: "glava",
    crown: "teme",
    "thigh*": "stegno*",
    "shin*": "golen*",
    "foot*": "stopalo*",
    "ball*": "blazinica*",
    "toe*": "prst*",
    "clav*": "kljucnica*",
    "arm*": "nadlaht*",
    "fore*": "podlaht*",
    "hand*": "dlan*",
    "tip*": "prsti*",
  },
  "sel:",
);
const plants = Object.fromEntries(
  Object.entries(PHASE).map(([leg, phase]) => [
    leg,
    cycle({
      period: T,
      stride: STRIDE,
      duty: DUTY,
      phase,
      cycles: 6,
      start: 101 - T,
      x: (leg.endsWith("L") ? 1 : -1) * 0.11,
      z0: (STRIDE * DUTY) / 2 - STRIDE + (leg.startsWith("h") ? -0.02 : BODY * 0.82 - 0.03),
    }),
  ]),
);
const SKID = plants.foreR.findIndex((q) => q.from > 115);
const g = (f, k = 1, at = 0) => wave(f - 101, T / k, at);

function ride(bad) {
  const feet = structuredClone(plants);
  const nod = chain(RANGE, FPS, (f) => g(f, 2, 0.35), 2, 4, 0.7);
  const tail = chain(RANGE, FPS, (f) => 8 * g(f, 1, 0.2) + 3 * wave(f, 61), 3, 1.7, 0.4);
  const take = played(camel, RANGE, (p, f) => {
    p.move(
      "hips",
      0.035 * g(f, 1, 0.36),
      HIP * 0.948 - 0.02 * g(f, 2, 0.08),
      V * (f - 101) + 0.012 * g(f, 2, 0.3),
    );
    p.rot("hips", 1.4 * g(f, 2, 0.3), 2 * g(f, 1, 0.05), 3.2 * g(f, 1, 0.34));
    p.rot("loin", 0.6 * g(f, 2, 0.34), -1.4 * g(f, 1, 0.1), -0.8 * g(f, 1, 0.4));
    p.rot("chest", -1.6 * g(f, 2, 0.32), -1.4 * g(f, 1, 0.14), -2 * g(f, 1, 0.42));
    p.rot("neck", 4 + 5 * nod[0](f), 1.6 * g(f, 1, 0.25), 0.8 * g(f, 1, 0.5));
    p.rot("head", 12 - 3.6 * nod[1](f), 1.2 * g(f, 1, 0.35) + 2 * Math.sin(f / 27), 0);
    for (let i = 0; i < 3; i++) p.rot(`tail${i + 1}`, [14, -6, -4][i], 0, tail[i](f) * [0.7, 0.9, 1][i]);
    if (bad) {
      const q = feet.foreR[SKID];
      const u = Math.min(1, Math.max(0, (f - q.from - 4) / 12));
      q.at = [q.at[0], 0, plants.foreR[SKID].at[2] + 0.11 * u * u * (3 - 2 * u)];
    }
    onFours(p, f, feet, {
      hip: HIP,
      lift: 0.17,
      ramp: 0.4,
      hindLean: 4,
      foreLean: 0,
      swing: 26,
      fold: 40,
      foreFold: 1.1,
    });
  });
  const seat = new Map();
  const at = (f) => {
    const t = Math.max(RANGE[0], Math.min(RANGE[1], Math.round(f)));
    if (!seat.has(t)) seat.set(t, poseOf(take, t).world("saddle"));
    return seat.get(t);
  };
  const rock = chain(RANGE, FPS, (f) => g(f, 2, 0.3), 3, 2.6, 0.6);
  const roll = chain(RANGE, FPS, (f) => g(f, 1, 0.38), 3, 2.6, 0.7);
  const look = loose(RANGE, FPS, (f) => (f > 136 && f < 166 ? 20 : -3), 2.1, 0.85);
  const body = played(rider, RANGE, (p, f) => {
    const w = at(f);
    const k = bad ? 0 : 1;
    const off = bad && f > 138 && f < 158 ? 0.085 * Math.sin((Math.PI * (f - 138)) / 20) ** 2 : 0;
    p.move("hips", ...add(w.p, turn(w.q, [0, 0.1 - 0.008 * g(f, 2, 0.16) + off, -0.03])));
    p.face("hips", qmul(w.q, heading(0, -6 + 5 * rock[0](f), 0)));
    p.rot("waist", 3 - 7 * k * rock[1](f), -1 * k * g(f, 1, 0.1), -3.6 * k * roll[0](f));
    p.rot("chest", 4 + 4.5 * k * rock[2](f), -1 * k * g(f, 1, 0.15) + 0.2 * look(f), -2.2 * k * roll[1](f));
    p.rot("neck", -2 - 2.5 * k * rock[2](f), 0.35 * look(f - 1), 1.4 * k * roll[2](f));
    p.rot("head", -1 - 1.5 * k * g(f, 2, 0.05), 0.55 * look(f), 1.4 * k * roll[2](f) + 0.05 * look(f));
    for (const [s, m] of [
      ["L", 1],
      ["R", -1],
    ]) {
      const lost = bad && s === "L" && f > 168 ? Math.min(1, (f - 168) / 6) : 0;
      const swing = 0.018 * rock[0](f - (m > 0 ? 0 : 1.5));
      p.reach(
        `thigh${s}`,
        `shin${s}`,
        `foot${s}`,
        add(w.p, turn(w.q, [m * (0.34 + 0.06 * lost), -0.5 - 0.02 * lost, 0.2 + swing - 0.11 * lost])),
        [m * 0.55, 0.1, 0.9],
      );
      p.face(`foot${s}`, qmul(w.q, heading(m * 14, 4 + 4 * rock[1](f) + 20 * lost, 0)));
      p.rot(`clav${s}`, 0, m * 3, 1.2 * m * rock[1](f));
    }
    const c = p.world("chest");
    // The near hand has the reins, the off hand the staff across the knee.
    const rein = add(
      mul(add(w.p, turn(w.q, [0.07, 0.36, 0.26])), 0.6),
      mul(add(c.p, turn(c.q, [0.07, -0.02, 0.32])), 0.4),
    );
    p.reach("armL", "foreL", "handL", rein, [0.7, -0.7, -0.5]);
    p.face("handL", qmul(w.q, heading(-10, -62 + 5 * rock[2](f), 0)));
    const staff = add(
      mul(add(w.p, turn(w.q, [-0.2, 0.25, 0.2])), 0.65),
      mul(add(c.p, turn(c.q, [-0.2, -0.15, 0.26])), 0.35),
    );
    p.reach("armR", "foreR", "handR", staff, [-0.7, -0.7, -0.5]);
    p.face("handR", qmul(w.q, heading(12, -58 + 4 * rock[2](f), 0)));
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 0.01,
    bodies: [
      { rig: camel, name: n, curves: keyed(take, { how: "cubic", turn: 0.06, place: 0.0006 }) },
      { rig: rider, name: r, curves: keyed(body, { how: "bezier", turn: 0.06, place: 0.0006 }) },
    ],
    things: [
      {
        id: "palica",
        rotationOrder: "yxz",
        shapes: [{ kind: "capsule", radius: 1.6, from: [-70, 0, 0], to: [62, 0, 0] }],
      },
    ],
    more: {
      surfaces: [{ id: "pesek", height: 0 }],
      contacts: [
        { node: r("hips"), with: n("saddle"), frames: RANGE },
        ...["L", "R"].map((s) => ({ node: r(`foot${s}`), with: n("saddle"), frames: RANGE })),
      ],
      props: [{ node: "palica", mass: 0.8, heldBy: [{ node: r("handR"), frames: RANGE }] }],
    },
  });
  doc.curves.push(
    ...carried("palica", RANGE, 0.01, "yxz", (f) => {
      const w = poseOf(body, f).world("handR");
      const slip = bad && f > 112 && f < 134 ? 0.13 * Math.sin((Math.PI * (f - 112)) / 22) ** 2 : 0;
      return {
        p: add(add(w.p, turn(w.q, [0, -0.07, 0.02])), [0, -slip, slip * 0.5]),
        q: qmul(w.q, heading(16, 0, 0)),
      };
    }),
  );
  return doc;
}
export const clean = () => ride(false);
export function flawed() {
  const doc = ride(true);
  leaveOut(doc, [n("neck")], "rotation");
  doc.curves.push({ node: n("neck"), channel: "rotation.x", keys: [[RANGE[0], 4]] });
  leaveOut(doc, ["tail1", "tail2", "tail3"].map(n), "rotation.z");
  return doc;
}
export const flaws = [
  {
    what: "She leaves the saddle at 140 and hangs over it till 157, nothing threw her up.",
    kind: "rider off the saddle",
    size: "strong",
    nodes: [r("hips"), n("saddle")],
    frames: [139, 157],
    order: 1,
  },
  {
    what: "Above the hips she's a post. The saddle rocks her, the back has to give and the head come after.",
    kind: "no overlap in rider",
    size: "ordinary",
    nodes: ["waist", "chest", "neck", "head"].map(r),
    frames: RANGE,
    order: 2,
  },
  {
    what: "The camel's off forefoot skates forward with all the weight on it.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["upperR", "lowerR", "wristR", "padR"].map(n),
    frames: [Math.ceil(plants.foreR[SKID].from), Math.floor(plants.foreR[SKID + 1].from)],
    order: 3,
  },
  {
    what: "The staff drops out of her hand between 114 and 132 and comes back to it.",
    kind: "prop leaves grip",
    size: "ordinary",
    nodes: ["palica", r("handR")],
    frames: [113, 133],
    order: 4,
  },
  {
    what: "The camel carries its neck like a crane; that long neck should pump with every stride.",
    kind: "neck dead",
    size: "ordinary",
    nodes: ["neck", "head"].map(n),
    frames: RANGE,
    order: 5,
  },
  {
    what: "Her near foot is out of the stirrup at the end and dangles back.",
    kind: "foot out of stirrup",
    size: "barely",
    nodes: ["thighL", "shinL", "footL", "ballL"].map(r),
    frames: [169, RANGE[1]],
    order: 6,
  },
  {
    what: "The tail hangs still, the croup would swing it.",
    kind: "tail dead",
    size: "barely",
    nodes: ["tail1", "tail2", "tail3", "tail4"].map(n),
    frames: RANGE,
    order: 7,
  },
];
export const truth = {
  plants: truly(plants, n, RANGE, 0.012),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.012 },
  masses: masses(camel, n),
};
