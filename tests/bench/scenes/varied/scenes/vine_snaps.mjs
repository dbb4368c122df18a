import { makeDocument } from "../../creatures/kit/document.mjs";
import { add, mul, turn } from "../../creatures/kit/math.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { stopDead } from "../../slips.mjs";
import { chain, loose, one, played, poseOf, thing } from "../kit/stage.mjs";

export const name = "vine_snaps";
export const about =
  "A rooted snapper plant sways, follows a fly round with its head, draws back, snaps it out of the air and chews; its tendrils come after. On twos.";

const FPS = 24;
const RANGE = [1, 121];
const STEM = ["s1", "s2", "s3", "s4", "s5"];
const TENDRILS = ["a", "b", "c", "d"];
const CATCH = 69;
const rig = makeRig([
  ["root", null, [0, 0, 0], 5],
  ...STEM.map((id, i) => [id, i ? STEM[i - 1] : "root", i ? [0, 0.24 - 0.01 * i, 0] : [0, 0.06, 0], 1.5]),
  ["head", "s5", [0, 0.2, 0], 2],
  ["upper", "head", [0, 0.03, 0.04], 1],
  ["upperTip", "upper", [0, 0.04, 0.26]],
  ["lower", "head", [0, -0.03, 0.04], 1],
  ["lowerTip", "lower", [0, -0.03, 0.24]],
  ...TENDRILS.flatMap((a, i) => {
    const [x, z] = [Math.sin((i * Math.PI) / 2 + 0.7), Math.cos((i * Math.PI) / 2 + 0.7)];
    return [1, 2, 3, 4].map((k) => [
      `${a}${k}`,
      k === 1 ? `s${2 + (i % 2)}` : `${a}${k - 1}`,
      k === 1 ? [0.03 * x, 0.1, 0.03 * z] : [0.15 * x, 0.03 - 0.03 * k, 0.15 * z],
      0.1,
    ]);
  }),
]);
const WORDS = {
  root: "knol",
  head: "kop",
  upper: "bovenkaak",
  upperTip: "bovenkaak_punt",
  lower: "onderkaak",
  lowerTip: "onderkaak_punt",
};
const n = (role) => WORDS[role] ?? (role[0] === "s" ? `stengel_${role[1]}` : `rank_${role[0]}_${role[1]}`);
// Lean, turn and bow of the whole stem; joints higher up come later.
const lean = one([
  [1, 3],
  [16, -2],
  [34, 3],
  [48, 6],
  [61, -17],
  [66, -19],
  [CATCH, 10],
  [73, 14],
  [82, 2],
  [92, -4],
  [106, 1],
  [121, 0],
]);
const bow = one([
  [1, 2],
  [20, -2],
  [40, 2],
  [50, 4],
  [61, -4],
  [66, -5],
  [CATCH, 16],
  [74, 12],
  [84, 4],
  [121, 3],
]);
const yaw = one([
  [1, -8],
  [12, -8],
  [20, 14],
  [34, 17],
  [50, -16],
  [60, -11],
  [CATCH, -9],
  [84, -6],
  [100, 3],
  [121, 2],
]);
const side = one([
  [1, 2],
  [14, -3],
  [30, 4],
  [52, -3],
  [66, -2],
  [72, 2],
  [88, -3],
  [104, 2],
  [121, 0],
]);
const gape = one([
  [1, 7],
  [18, 6],
  [44, 9],
  [56, 12],
  [66, 46],
  [67, 48],
  [CATCH, 3],
  [72, 6],
  [74, 5],
]);
const chew = one([
  [74, 5],
  [80, 21],
  [85, 4],
  [91, 17],
  [96, 4],
  [103, 13],
  [108, 4],
  [121, 5],
]);
const jaw = (f) => (f < 74 ? gape(f) : chew(f));
const nod = one([
  [1, 20],
  [20, 16],
  [36, 22],
  [48, 14],
  [60, 34],
  [66, 36],
  [CATCH, -2],
  [73, -12],
  [83, 10],
  [94, 16],
  [121, 18],
]);

function build(bad) {
  const k = (f) => (bad && f > 48 && f < CATCH ? 48 : f);
  const tilt = (g, late) => (f) => g(k(f) - late);
  const drives = TENDRILS.map((_, i) => {
    const [c, s] = [Math.cos((i * Math.PI) / 2 + 0.7), Math.sin((i * Math.PI) / 2 + 0.7)];
    const push = (f) =>
      -2.2 * ((lean(f) - lean(f - 3)) * c - (side(f) - side(f - 3)) * s) + 5 * Math.sin(f / (9 + i) + i);
    const swing = (f) => -1.3 * (yaw(f) - yaw(f - 3)) + 6 * Math.sin(f / (11 - i) + 2 * i);
    return [
      chain(RANGE, FPS, push, 4, 1.7 + 0.1 * i, 0.42),
      chain(RANGE, FPS, swing, 4, 1.5 + 0.12 * i, 0.42),
    ];
  });
  const heavy = loose(RANGE, FPS, nod, 5, 0.7);
  const take = played(rig, RANGE, (p, f) => {
    STEM.forEach((id, i) => {
      const t = i * 0.9;
      p.rot(
        id,
        tilt(lean, t)(f) * [0.9, 0.8, 0.6, 0.4, 0.3][i] + tilt(bow, t)(f) * [0.2, 0.4, 0.6, 0.9, 1][i],
        yaw(f - t) * [0.2, 0.3, 0.4, 0.5, 0.6][i],
        side(f - t) * 0.8,
      );
    });
    p.rot("head", heavy(f), yaw(f - 3) * 0.4, -2 * side(f - 4));
    p.rot("upper", -jaw(f), 0, 0);
    p.rot("lower", 0.75 * jaw(f - (f > 76 ? 1 : 0)), 0, 0);
    TENDRILS.forEach((a, i) => {
      const frozen = bad && a === "c";
      const [x, z] = [Math.sin((i * Math.PI) / 2 + 0.7), Math.cos((i * Math.PI) / 2 + 0.7)];
      for (let j = 0; j < 4; j++) {
        const up = frozen ? 0 : drives[i][0][j](f) * [0.6, 0.8, 1, 1.2][j];
        const curl = [-14, 4, 10, 16][j] + up;
        p.rot(`${a}${j + 1}`, curl * z, frozen ? 0 : drives[i][1][j](f) * [0.6, 0.8, 1, 1.1][j], -curl * x);
      }
    });
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 0.1,
    shot: { animators: ["Mieke"] },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "twos" }) }],
    things: [{ id: "vlieg", visible: [[1, 70]], shapes: [{ kind: "sphere", radius: 0.15 }] }],
    more: {
      surfaces: [{ id: "aarde", height: 0 }],
      props: [{ node: "vlieg", mass: 0.001, heldBy: [{ node: n("lower"), frames: [CATCH, RANGE[1]] }] }],
      figures: [
        {
          id: "snapper",
          parts: { root: n("root"), head: n("head") },
          limbs: TENDRILS.map((a) => ({
            id: `rank ${a}`,
            kind: "tentacle",
            nodes: [1, 2, 3, 4].map((j) => n(`${a}${j}`)),
          })),
        },
      ],
    },
  });
  // The fly comes round to where the mouth shuts, and is gone with it.
  const mouth = (f) => {
    const w = poseOf(take, f).world("lower");
    return add(w.p, turn(w.q, [0, 0.02, 0.15]));
  };
  const at = mouth(CATCH);
  const round = tracksOf(at);
  const fly = (f) => mul(f < CATCH ? round(f) : mouth(f % 2 ? f : f - 1), 10);
  const xyz = Object.fromEntries([0, 1, 2].map((i) => [`translation.${"xyz"[i]}`, (f) => fly(f)[i]]));
  doc.curves.push(...thing("vlieg", RANGE, xyz, 2, "step"));
  return doc;
}
/** The fly's rounds, closing in on a point. @param {number[]} at */
const tracksOf = (at) => (f) => {
  const far = 1 - f / CATCH;
  const soft = Math.min(1, (CATCH - f) / 24);
  const t = yaw(f + 3) * 0.03;
  return [
    at[0] + (0.5 * Math.sin(t) + 0.05 * Math.sin(f / 3.1)) * soft,
    at[1] + (0.16 * far + 0.06 * Math.sin(f / 4.7)) * soft,
    at[2] + (0.34 * far + 0.05 * Math.cos(f / 3.7)) * soft,
  ];
};
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  const jaws = ["upper", "lower"].map(n);
  // The chewing was left out but for its last bite.
  for (const c of doc.curves)
    if (jaws.includes(c.node)) c.keys = c.keys.filter((q) => q[0] < 75 || q[0] > 100);
  stopDead(doc, [n("head")], "rotation.x", CATCH, 73, 97);
  for (const c of doc.curves)
    if (c.node === n("head")) for (const q of c.keys) if (q[2]) q[2] = { ...q[2], interpolation: "step" };
  // The fly was led to where the mouth had been in an older take.
  for (const c of doc.curves)
    if (c.node === "vlieg" && c.channel === "translation.x")
      for (const q of c.keys) if (q[0] > 57 && q[0] < 72) q[1] += 2.1 * Math.min(1, (q[0] - 57) / 10);
  for (const c of doc.curves)
    if (c.node === n("s4") && c.channel === "rotation.z") for (const q of c.keys) if (q[0] === 29) q[1] -= 5;
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "The stem stays up and then it's at the fly, nothing draws back before the snap; that's the moment of the shot.",
    kind: "no anticipation",
    size: "strong",
    nodes: STEM.map(n),
    frames: [49, 68],
    order: 1,
  },
  {
    what: "It bit, and then it holds the mouth for over a second; the chews are missing.",
    kind: "chewing left out",
    size: "strong",
    nodes: all("upper", "lower", "upperTip", "lowerTip"),
    frames: [75, 100],
    order: 2,
  },
  {
    what: "The head goes on into the bite and stands like nailed at 73, no recoil, no settle.",
    kind: "stops dead",
    size: "ordinary",
    nodes: all("head"),
    frames: [CATCH, 97],
    order: 3,
  },
  {
    what: "One of the four tendrils is dead wood while the others whip.",
    kind: "part forgotten",
    size: "ordinary",
    nodes: all("c1", "c2", "c3", "c4"),
    frames: RANGE,
    order: 4,
  },
  {
    what: "The bite goes past the fly, it's a hand's breadth beside the mouth and vanishes all the same.",
    kind: "misses the contact",
    size: "ordinary",
    nodes: ["vlieg", n("lower")],
    frames: [58, 71],
    order: 5,
  },
  {
    what: "The stem knocks aside on one drawing, 29.",
    kind: "one-frame twitch",
    size: "barely",
    nodes: all("s4", "s5", "head"),
    frames: [28, 31],
    order: 6,
  },
];
export const truth = { spikes: { except: [[62, 78]], ratio: 1e9 } };
