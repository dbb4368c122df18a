// @ts-check
import { track } from "../../people/kit/curve.mjs";
import { versions } from "../../people/kit/declare.mjs";
import { ONE } from "../../people/kit/math.mjs";
import { follow, makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { names } from "../kit-A/write.mjs";

export const name = "key_hunt";
export const about =
  "Blocking: a man before his door feels for his keys in the trouser pocket, on his breast and behind; he thinks, steps round to look at the ground behind him, turns back, and sees the keys in his left hand.";

const POSES = [1, 9, 19, 28, 40, 54, 66, 76];
const LAST = 90;

/** Poses that are held; a foot that goes elsewhere does so in the two frames before. @param {any[]} rows */
const posed = (rows) =>
  track(
    Object.fromEntries(
      rows.flatMap((v, i) => [[POSES[i], v], ...(i + 1 < POSES.length ? [[POSES[i + 1] - 2, v]] : [])]),
    ),
  );

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "sosed",
    stature: 1.78,
    spines: 2,
    words: names(
      "medenica hrbet/prsnikos vrat glava teme kljucnica nadlaket podlaket dlan prsti stegno golen stopalo noga noga_konec",
    ),
    side: (w, s) => `${w}${s === "L" ? "_levo" : "_desno"}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz" },
  });
  const rows = /** @type {Record<string, any[]>} */ ({
    hips: [
      [0.035, -0.016, 0],
      [0.05, -0.022, -0.01],
      [-0.035, -0.03, 0.005],
      [0.045, -0.02, 0.02],
      [0.0, -0.012, -0.012],
      [-0.075, -0.05, -0.06],
      [0.005, -0.03, -0.01],
      [0.03, -0.02, 0.02],
    ],
    hipsRot: [
      [2, 0, 3],
      [5, -6, 4],
      [3, 8, -3],
      [-3, -10, 4],
      [0, 0, 0],
      [8, -38, -3],
      [6, 4, 1],
      [-6, 4, 3],
    ],
    spine: [
      [2, 0, -2],
      [8, -8, -4],
      [7, 8, 3],
      [-5, -10, -3],
      [-2, 2, 0],
      [12, -18, 2],
      [7, 6, 0],
      [-6, 3, -2],
    ],
    chest: [
      [3, 0, -2],
      [9, -9, -5],
      [8, 12, 4],
      [-7, -12, -3],
      [-3, 3, 1],
      [12, -20, 3],
      [9, 8, 0],
      [-8, 3, -3],
    ],
    neck: [
      [4, 2, 0],
      [12, -8, 3],
      [14, 8, -2],
      [-8, 10, 0],
      [-2, -6, 2],
      [10, -14, 2],
      [10, 10, -2],
      [-12, 0, 3],
    ],
    head: [
      [8, 4, 2],
      [16, -12, 4],
      [18, 10, -4],
      [-12, 14, 3],
      [-4, -12, 4],
      [18, -16, 4],
      [14, 16, -4],
      [-20, 4, 5],
    ],
    footL: [
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
      [0.11, 0, 0.03, 12],
    ],
    footR: [
      [-0.1, 0, -0.02, -14],
      [-0.1, 0, -0.02, -14],
      [-0.1, 0, -0.02, -14],
      [-0.1, 0, -0.02, -14],
      [-0.1, 0, -0.02, -14],
      [-0.2, 0, -0.2, -70],
      [-0.11, 0, -0.05, -18],
      [-0.11, 0, -0.05, -18],
    ],
    kneeL: [6, 4, 8, 4, 5, -14, 5, 4],
    kneeR: [8, 10, 4, 10, 6, 4, 6, 10],
    clavL: [
      [0, 0],
      [0, 4],
      [2, -4],
      [2, 6],
      [8, 0],
      [0, 6],
      [2, 8],
      [-3, 2],
    ],
    clavR: [
      [0, 0],
      [-4, -2],
      [4, 12],
      [-2, -14],
      [6, 4],
      [2, -6],
      [0, 2],
      [-4, -2],
    ],
    armL: [
      [6, 10, 0, 22],
      [-8, 14, 0, 30],
      [-16, 20, 0, 42],
      [12, 18, 0, 36],
      [-4, 16, 0, 28],
      [26, 30, 0, 48],
      [46, 16, -16, 106],
      [30, 30, 6, 118],
    ],
    armR: [
      [2, 9, 0, 18],
      [-14, 22, -8, 62],
      [36, 16, -52, 122],
      [-44, 22, -10, 66],
      [62, 42, -28, 138],
      [-18, 34, 0, 36],
      [6, 16, 0, 44],
      [-4, 12, 0, 26],
    ],
    wristL: [
      [6, 0, 0],
      [12, 0, 0],
      [10, 0, 0],
      [-6, 0, 0],
      [4, 0, 0],
      [-18, 0, 0],
      [-12, 0, 20],
      [-24, 0, 10],
    ],
    wristR: [
      [4, 0, 0],
      [18, 0, 0],
      [10, 0, 0],
      [14, 0, 0],
      [20, 0, 0],
      [-14, 0, 0],
      [-8, 0, 0],
      [6, 0, 0],
    ],
    fingL: [52, 52, 54, 54, 56, 52, 48, 46],
    fingR: [20, 10, 14, 10, 30, 6, 16, 22],
  });
  if (bad) {
    // Hips were copied from pose to pose.
    for (const k of ["hips", "hipsRot"]) for (const i of [1, 2, 3]) rows[k][i] = rows[k][0];
    // Weight is behind both feet when he looks round.
    rows.hips[5] = [-0.2, -0.05, -0.27];
    rows.head[6] = [-6, -14, 2];
    rows.neck[6] = [-2, -8, 0];
    rows.footL[4] = [0.13, 0, 0.075, 12];
    rows.armL[4] = [62, 42, -28, 138];
    rows.wristL[4] = rows.wristR[4];
    rows.clavL[4] = rows.clavR[4];
  }
  const perf = /** @type {any} */ (Object.fromEntries(Object.entries(rows).map(([k, v]) => [k, posed(v)])));
  perf.alive = 0;
  const b = makeShot({
    name,
    fps: 25,
    last: LAST,
    unit: 0.01,
    poses: POSES,
    shot: { stage: "blocking" },
    items: [
      { skel: sk, perf, body: true },
      {
        id: "kljuci",
        pose: follow(
          [{ fig: "sosed", s: "L", from: 1, to: LAST, grip: { p: [-0.01, -0.03, 0.03], q: ONE } }],
          () => ({
            p: [0, 0, 0],
            q: ONE,
          }),
        ),
        shapes: [{ kind: "box", size: [0.015, 0.09, 0.03], centre: [0, -0.03, 0] }],
      },
    ],
    cameras: [{ id: "vrata", eye: [1.5, 1.4, 4.2], at: [0, 0.92, 0], fov: 30 }],
  });
  if (bad) {
    for (const c of b.doc.curves) {
      if (c.node === "podlaket_desno") c.keys = c.keys.filter((/** @type {any} */ k) => k[0] !== 28);
      if (c.node === "kljuci") c.keys = c.keys.filter((/** @type {any} */ k) => k[0] !== 76);
    }
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "When he looks round to the ground his weight is behind both feet; nobody can stand so.",
    kind: "off-balance",
    size: "strong",
    nodes: ["medenica", "hrbet", "prsnikos"],
    frames: [54, 65],
    order: 1,
  },
  {
    what: "He holds the keys up and looks to the other side: the shot is about his seeing them.",
    kind: "look-misses",
    size: "strong",
    nodes: ["glava", "vrat"],
    frames: [66, 75],
    order: 2,
  },
  {
    what: "The keys stay in the air beside his chest while the hand has gone up to his face.",
    kind: "floating-prop",
    size: "ordinary",
    nodes: ["kljuci", "dlan_levo"],
    frames: [76, 90],
    order: 3,
  },
  {
    what: "Three pockets, one pair of hips: the same stand was copied from pose to pose, and only arm and back move on top of it.",
    kind: "pose copied",
    size: "ordinary",
    nodes: ["medenica"],
    frames: [1, 39],
    order: 4,
  },
  {
    what: "As he thinks both hands are at his head in mirror image, keys and all.",
    kind: "twins",
    size: "ordinary",
    nodes: ["nadlaket_levo", "nadlaket_desno", "podlaket_levo", "podlaket_desno"],
    frames: [40, 53],
    order: 5,
  },
  {
    what: "The left foot, which he stands on, is somewhere else for one pose.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["stopalo_levo", "noga_levo", "stegno_levo", "golen_levo"],
    frames: [38, 55],
    order: 6,
  },
  {
    what: "The right forearm still has its bend from the breast pocket when the arm is behind him.",
    kind: "key not set",
    size: "barely",
    nodes: ["podlaket_desno", "dlan_desno"],
    frames: [28, 39],
    order: 7,
  },
];
