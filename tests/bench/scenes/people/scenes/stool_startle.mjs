// @ts-check
import { versions } from "../kit/declare.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "stool_startle";
export const about =
  "Blocked in step keys: a woman dozes on a stool, lifts her head, sees a mouse on the floor and starts. She gathers herself, jumps up from the stool, settles, and looks after the mouse.";
export const centre = [0, 0.8, -0.1];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "mila",
    stature: 1.67,
    spines: 2,
    words: {
      root: "miednica",
      spine: ["ledzwie", "klatka"],
      neck: "szyja",
      head: "glowa",
      end: "glowa_koniec",
      clav: "obojczyk",
      up: "ramie",
      fore: "przedramie",
      hand: "dlon",
      fing: "palce",
      thigh: "udo",
      shin: "lydka",
      foot: "stopa",
      toe: "palce_stopy",
    },
    side: (w, s) => `${w}_${s}`,
    tips: false,
    orders: { root: "yxz" },
  });
  const mouse = [-0.55, 0.03, 1.5];
  const seat = [0, -0.335, -0.4];
  const P = bad ? [1, 17, 29, 31, 37, 49, 63] : [1, 17, 25, 33, 39, 49, 63];
  const key = (...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const perf = /** @type {any} */ ({
    alive: 0,
    hips: key(
      seat,
      seat,
      [0, -0.33, -0.42],
      [0, -0.26, -0.24],
      [0.03, -0.02, bad ? -0.19 : -0.02],
      [0.02, -0.03, bad ? -0.17 : -0.03],
      [-0.03, -0.03, -0.03],
    ),
    hipsRot: key([-12, 0, 0], [-8, 0, 0], [-14, 0, 0], [30, 0, 0], [-4, 6, 0], [0, 8, 1], [2, -8, -1]),
    spine: key([20, 0, 3], [10, 0, 0], [-6, 0, 0], [24, 0, 0], [-10, 4, 0], [-6, 4, 0], [4, -6, 0]),
    chest: key([24, 0, 5], [12, -2, 0], [-8, -3, 0], [24, 0, 0], [-12, 6, 0], [-7, 5, 0], [8, -9, 0]),
    neck: key([18, 0, 4], [0, 0, 0], [0, 0, 0], [-14, 0, 0], [6, 0, 0], [6, 0, 0], [4, 0, 0]),
    head: key([26, 4, 6], [-4, -4, 0], [0, 0, 0], [-20, 0, 0], [8, 0, 0], [8, 0, 0], [6, 0, 0]),
    look: { w: key(0, 0.5, 1, 1, 1, 1, 1), at: () => (bad ? [1.2, 0.9, 1.5] : mouse) },
    clavL: key([-2, 0], [0, 0], [14, 4], [4, 6], [16, 0], [10, 2], [2, 2]),
    clavR: key([-3, 0], [0, 0], [16, 2], [5, 7], [12, 2], [8, 3], [1, 3]),
    armL: bad
      ? key(
          [22, 5, 0, 40],
          [20, 6, 0, 44],
          [38, 2, 42, 104],
          [-30, 20, 0, 30],
          [40, 4, 44, 100],
          [36, 4, 44, 104],
          [30, 4, 40, 96],
        )
      : key(
          [22, 5, 0, 40],
          [20, 6, 0, 44],
          [48, 46, 0, 96],
          [-30, 20, 0, 30],
          [56, 58, 0, 74],
          [30, 30, 0, 86],
          [14, 12, 0, 40],
        ),
    armR: bad
      ? key(
          [22, 5, 0, 40],
          [20, 6, 0, 44],
          [38, 2, 42, 104],
          [-30, 20, 0, 30],
          [40, 4, 44, 100],
          [36, 4, 44, 104],
          [30, 4, 40, 96],
        )
      : key(
          [26, 4, 0, 34],
          [22, 8, 0, 46],
          [36, 58, 0, 80],
          [-22, 26, 0, 36],
          [34, 66, 0, 62],
          [22, 38, 0, 98],
          [30, 16, 0, 84],
        ),
    wristL: key([10, 0, 0], [4, 0, 0], [-34, 0, 0], [10, 0, 0], [-38, 0, 0], [-20, 0, 0], [2, 0, 0]),
    wristR: key([8, 0, 0], [6, 0, 0], [-28, 0, 0], [6, 0, 0], [-30, 0, 0], [-24, 0, 0], [10, 0, 0]),
    fingL: key(26, 22, 2, 34, 0, 8, 20),
    fingR: key(28, 24, 0, 30, 2, 12, 44),
    footL: key(
      ...Array(4).fill([0.1, 0, -0.02, 8]),
      [0.12, 0, -0.02, 12],
      [0.12, 0, -0.02, 12],
      [0.12, 0, -0.02, 12],
    ),
    footR: key(
      ...Array(4).fill([-0.1, 0, 0.03, -8]),
      ...(bad
        ? [
            [-0.1, 0, 0.03, -8],
            [-0.16, 0, 0.0, -12],
            [-0.12, 0, 0.05, -12],
          ]
        : Array(3).fill([-0.1, 0, 0.03, -8])),
    ),
    rollL: key(0, 0, 0, 14, 0, 0, 0),
    rollR: key(0, 0, 10, 18, 0, 0, 0),
    leans: (f) => f < P[4],
  });
  if (!bad) perf.footL = { 1: [0.1, 0, -0.02, 8] };
  const b = makeShot({
    name,
    fps: 24,
    last: 84,
    poses: P,
    shot: { stage: "blocking" },
    items: [
      {
        id: "stolek",
        still: [0, 0, -0.42],
        shapes: [{ kind: "box", size: [0.36, 0.05, 0.34], centre: [0, 0.42, 0] }],
      },
      { id: "mysz", still: mouse, shapes: [{ kind: "sphere", radius: 0.03 }] },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "plan", eye: [-0.9, 1.2, 4.2], at: [-0.1, 0.82, 0], fov: 32 }],
  });
  b.doc.gazes = [{ figure: "miednica", at: "mysz", frames: [33, 84] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The start is on screen for two frames; nobody reads it.",
    kind: "too-short",
    size: "strong",
    nodes: ["miednica", "klatka", "ramie_L", "ramie_R"],
    frames: [29, 31],
    order: 1,
  },
  {
    what: "In the start and in the standing poses the hands are lost in front of the chest; there is no silhouette.",
    kind: "lost-silhouette",
    size: "ordinary",
    nodes: ["ramie_L", "ramie_R", "przedramie_L", "przedramie_R", "dlon_L", "dlon_R"],
    frames: [29, 84],
    order: 2,
  },
  {
    what: "Up from the stool she stands with her hips behind her heels.",
    kind: "off-balance",
    size: "ordinary",
    nodes: ["miednica"],
    frames: [37, 63],
    order: 3,
  },
  {
    what: "She looks beside the mouse, over to the other side.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["glowa", "szyja"],
    frames: [29, 84],
    order: 4,
  },
  {
    what: "The arms are the same left and right in every pose.",
    kind: "twinning",
    size: "barely",
    nodes: ["ramie_L", "ramie_R", "przedramie_L", "przedramie_R"],
    frames: [1, 84],
    order: 5,
  },
  {
    what: "The right foot stands elsewhere in each of the last poses.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["stopa_R", "udo_R", "lydka_R"],
    frames: [37, 63],
    order: 6,
  },
];
