import { makeDocument } from "../../creatures/kit/document.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { pop, retime, stopDead } from "../../slips.mjs";
import { chain, one, played } from "../kit/stage.mjs";

export const name = "viper_crosses";
export const about =
  "A viper winds across a sandy track, every part of it through the same bends; it slows, stops, lifts its head and tastes the air to both sides.";

const FPS = 25;
const RANGE = [1, 150];
const N = 18;
const L = 0.06;
const R = 0.018;
const BODY = Array.from({ length: N }, (_, i) => `b${i}`);
const rig = makeRig([
  ...BODY.map((id, i) => [id, i ? BODY[i - 1] : null, i ? [0, 0, L] : [0, R, 0], 0.03]),
  ["head", `b${N - 1}`, [0, 0, L], 0.03],
  ["snout", "head", [0, 0, 0.045]],
  ["tongue", "head", [0, -0.004, 0.03]],
  ["tongueTip", "tongue", [0, 0, 0.04]],
]);
const WORDS = { head: "kopf", snout: "schnauze", tongue: "zunge", tongueTip: "zunge_ende" };
const n = (role) => `otter/${WORDS[role] ?? `wirbel${role.slice(1).padStart(2, "0")}`}`;

// The track that it leaves in the sand; its bends grow a little wider.
const track = (s) => [0.085 * Math.sin(s * 9.2) * (0.8 + 0.2 * Math.sin(s * 2.1)) + 0.05 * s, 0.86 * s];
const speed = one([
  [-60, 0.0165],
  [1, 0.0165],
  [20, 0.018],
  [44, 0.0155],
  [62, 0.0165],
  [84, 0.009],
  [102, 0.0025],
  [110, 0],
  [160, 0],
]);
const GONE = [0];
for (let i = 1; i <= 1800; i++) GONE.push(GONE[i - 1] + speed(i / 10) / 10);
const gone = (f) => GONE[Math.round(f * 10)];
/** The next point of the track that is a bone's length away. */
function ahead(s, from) {
  let [lo, hi] = [s, s + 0.2];
  for (let i = 0; i < 50; i++) {
    const mid = (lo + hi) / 2;
    const q = track(mid);
    if (Math.hypot(q[0] - from[0], q[1] - from[1]) < L) lo = mid;
    else hi = mid;
  }
  return lo;
}
const raise = one([
  [1, 2],
  [30, 3],
  [60, 2],
  [96, 1],
  [104, -1.5],
  [118, 13],
  [126, 11.6],
  [150, 11.8],
]);
const turnTo = one([
  [1, 0],
  [104, 0],
  [112, -2],
  [123, 16],
  [129, 14.5],
  [136, 15],
  [143, -11],
  [150, -13],
]);
const flick = (f) =>
  [12, 34, 58, 121, 133, 146].reduce((s, at) => s + Math.max(0, 1 - Math.abs(f - at) / 5) ** 0.6, 0);

function build(bad) {
  const neck = chain(RANGE, FPS, turnTo, 4, 3.2, 0.62);
  const lift = chain(RANGE, FPS, raise, 4, 3, 0.65);
  const take = played(rig, RANGE, (p, f) => {
    let s = gone(f + 1) + 0.2;
    const at = track(s);
    p.move("b0", at[0], R, at[1]);
    let [was, from] = [0, at];
    const total = [];
    for (let i = 0; i < N; i++) {
      const next = ahead(s, from);
      const to = track(next);
      const head = (Math.atan2(to[0] - from[0], to[1] - from[1]) * 180) / Math.PI;
      total.push(head);
      // The flawed one has bends that stay with the body instead of with the ground.
      const k = bad && f >= 50 && f <= 78 ? Math.sin((Math.PI * (f - 50)) / 28) : 0;
      const free = i > N - 5;
      p.rot(
        BODY[i],
        free ? -lift[i - N + 4](f) * 0.42 : 0,
        head -
          was +
          (i > 5 && i < 13 ? k * 5.5 * Math.sin(i * 1.6) : 0) +
          (free ? neck[N - 1 - i](f) * 0.55 : 0),
        0,
      );
      was = head;
      [s, from] = [next, to];
    }
    // The head is held level, and where the way goes, not with each bend.
    const up = [0, 1, 2, 3].reduce((q, i) => q + lift[i](f) * 0.42, 0);
    const way = one([
      [1, 3.5],
      [150, 3.5],
    ])(f);
    const steady = (way - was) * 0.62;
    p.rot(
      "head",
      up - raise(f - 1) * 0.35 + (bad ? 0 : 0.8 * Math.sin(f / 9)),
      (bad && f < 100 ? 0 : steady) + 0.5 * neck[0](f),
      0,
    );
    const t = flick(f);
    p.move("tongue", 0, -0.004, -0.012 + 0.042 * Math.min(1, t));
    p.rot("tongue", t > 0 ? 8 + 16 * Math.sin(f * 1.3) * Math.min(1, t) : 8, 0, 0);
  });
  return makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    up: "z",
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "every" }) }],
    more: {
      surfaces: [{ id: "sand", height: 0 }],
      figures: [{ id: "otter", parts: { root: n("b0"), head: n("head") } }],
    },
  });
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  stopDead(doc, ["b0"].map(n), "translation", 86, 94, 112);
  retime(doc, BODY.map(n), "rotation", 84, 112, (f) =>
    f <= 86 ? f : f < 94 ? 86 + ((f - 86) * 26) / 8 : 112,
  );
  for (const c of doc.curves)
    if (c.node.includes("zunge"))
      for (const k of c.keys) if (k[0] > 112) k[1] = c.keys.find((q) => q[0] === 112)[1];
  pop(doc, n("b8"), "rotation.y", 27, 3.5);
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "It runs into its stop at 94 at full speed, the whole body freezes in one frame instead of easing out of the crawl.",
    kind: "stops dead",
    size: "strong",
    nodes: BODY.map(n),
    frames: [84, 112],
    order: 1,
  },
  {
    what: "The middle slips sideways over the sand from 50 to 78; a snake's body goes where its neck went.",
    kind: "body skids sideways",
    size: "ordinary",
    nodes: BODY.slice(6).map(n),
    frames: [50, 78],
    order: 2,
  },
  {
    what: "The head wags with each bend of the neck, it has no aim. Keep it on its way while the body winds under it.",
    kind: "head wags",
    size: "ordinary",
    nodes: all("head", "snout", "tongue", "tongueTip"),
    frames: [1, 99],
    order: 3,
  },
  {
    what: "It lifts its head to taste the air and the tongue never comes out.",
    kind: "action left out",
    size: "ordinary",
    nodes: all("tongue", "tongueTip"),
    frames: [113, 150],
    order: 4,
  },
  {
    what: "A flick through the middle of the body for a frame at 27.",
    kind: "one-frame twitch",
    size: "barely",
    nodes: BODY.slice(8).map(n),
    frames: [26, 28],
    order: 5,
  },
];
export const truth = { ground: { nodes: BODY.map(n), height: 0 } };
