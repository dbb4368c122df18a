// @ts-check
import { redo, tick } from "../../mixed/kit/edits.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { stopDead } from "../../slips.mjs";
import { dense, has, keys, person, stand, swing } from "../kit/parts.mjs";

export const name = "quay_phrase";
export const about =
  "A dancer: a step to her left, the right foot crosses behind, another step, together, a jump straight up that travels back, a soft landing, and the left foot drawn out with open arms.";

const LAST = 200;

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "mchezaji",
    1.69,
    "nyonga mgongo/kifua shingo kichwa utosi bega mkono kiwiko kiganja vidole paja goti mguu dole ncha",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}-${s === "L" ? "kushoto" : "kulia"}`,
      orders: { root: "yxz", arm: "xyz", spine: "yxz", neck: "yxz" },
    },
  );
  const L = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  const slide = has(bad, 4) ? 0.1 : 0;
  stand(L, -5, 14, [0.085, 0, 0.01, 14]);
  stand(L, 30, 66, [0.46, 0, 0.01, 14]);
  stand(L, 82, 122, [0.8, 0, 0.0, 14]);
  stand(R, -5, 38, [-0.085, 0, 0, -14]);
  stand(R, 58, 86, [0.6, 0, -0.2, -4]);
  if (slide) {
    R[64] = { v: [0.6, 0, -0.2, -4], s: [0, 0, 0, 0] };
    R[78] = { v: [0.6 + slide, 0, -0.2, -4], s: [0, 0, 0, 0] };
    R[86].v = [0.6 + slide, 0, -0.2, -4];
  }
  stand(R, 102, 122, [0.63, 0, 0.0, -14]);
  swing(L, 14, 30, 0.06, [0, 0, 0.03]);
  swing(L, 66, 82, 0.06, [0, 0, 0.04]);
  swing(R, 38, 58, 0.05, [0, 0, -0.04]);
  swing(R, 86, 102, 0.05, [0, 0, -0.02]);
  // In the air: as the body falls, so do the feet.
  const [v, g] = [-0.24 / 24, 0.0327];
  L[122].out = [v, g, 0, 0];
  R[122].out = [v, g, 0, 0];
  L[146] = { v: [0.56, 0, 0, 14], in: [v, -g, 0, 0], out: [0, 0, 0, 0] };
  L[178] = { v: [0.56, 0, 0, 14], s: [0, 0, 0, 0] };
  L[197] = { v: [0.74, 0, 0.09, 24], s: [0, 0, 0, 0] };
  L[LAST] = { v: [0.74, 0, 0.09, 24], s: [0, 0, 0, 0] };
  R[146] = { v: [0.39, 0, 0, -14], in: [v, -g, 0, 0], out: [0, 0, 0, 0] };
  R[LAST] = { v: [0.39, 0, 0, -14], s: [0, 0, 0, 0] };
  for (const t of [L, R]) {
    delete t[122].s;
    t[122].in = [0, 0, 0, 0];
  }
  const low = has(bad, 2) ? -0.07 : -0.215;
  const give = has(bad, 3) ? -0.035 : -0.2;
  const perf = /** @type {any} */ ({
    alive: 0.7,
    toesL: keys("1: 0 | 121: 0 | 130: 58 | 138: 56 | 147: 0 | 208: 0"),
    toesR: keys("1: 0 | 121: 0 | 131: 58 | 139: 56 | 147: 0 | 208: 0"),
    air: [[122, 146]],
    leans: (/** @type {number} */ f) => f < 104 || (f > 120 && f < 150),
    opts: { quat: /^(thigh|shin|foot|toe)/ },
    hips: {
      ...keys(
        "1: 0 -0.02 0.01 | 8: -0.03 -0.05 0.01 | 14: -0.035 -0.085 0.01 | 22: 0.1 -0.055 0.01 | 32: 0.3 -0.105 0.01 | 41: 0.42 -0.06 0 | 50: 0.475 -0.024 -0.03 | 60: 0.54 -0.075 -0.08 | 67: 0.595 -0.095 -0.11 | 75: 0.62 -0.06 -0.09 | 85: 0.72 -0.1 -0.03 | 94: 0.775 -0.06 0 | 101: 0.73 -0.1 0",
      ),
      111: { v: [0.715, low, 0.0], s: [0, 0, 0] },
      122: { v: [0.715, 0.05, 0.005], s: [v, 0.033, 0] },
      146: { v: [0.475, 0.045, 0.005], in: [v, -0.033, 0], out: [v * 0.6, -0.031, 0] },
      157: { v: [0.465, give, -0.005], s: [0, 0, 0] },
      ...keys("172: 0.425 -0.035 -0.005 | 188: 0.4 -0.022 0 | 208: 0.403 -0.024 0"),
    },
    hipsRot: keys(
      "1: 0 0 0 | 14: 0 -3 3 | 24: 0 4 -2 | 34: 2 6 1 | 52: 0 -10 -3 | 62: 4 -16 -1 | 76: 0 -4 2 | 86: 2 4 2 | 104: 4 0 0 | 111: 9 0 0 | 121: 0 0 0 | 134: -3 0 0 | 146: 1 0 0 | 157: 8 0 0 | 174: 0 3 0 | 190: -1 9 2 | 208: -1 9 2",
    ),
    spine: keys(
      "1: 0 0 0 | 15: 2 2 -6 | 27: -1 2 7 | 37: 0 2 4 | 54: -2 6 -6 | 64: 4 8 -5 | 78: -2 2 5 | 88: 1 0 2 | 105: 4 0 0 | 112: 9 0 0 | 122: -3 0 0 | 135: -6 0 0 | 147: 2 0 0 | 159: 9 0 0 | 177: -2 0 -3 | 194: -5 2 -4 | 208: -5 2 -4",
    ),
    chest: keys(
      "1: 0 0 0 | 17: 3 4 -7 | 30: -3 4 9 | 41: -2 2 5 | 57: -3 10 -8 | 67: 4 14 -6 | 81: -4 4 7 | 92: 0 0 2 | 106: 5 0 0 | 114: 10 0 0 | 124: -6 0 0 | 137: -9 0 0 | 149: 2 0 0 | 162: 11 0 0 | 180: -4 2 -4 | 197: -8 6 -6 | 208: -8 6 -6",
    ),
    neck: keys(
      "1: 0 0 0 | 16: 2 8 2 | 30: -2 18 -3 | 44: 0 14 -2 | 58: 2 -10 4 | 69: -3 -8 4 | 84: 0 14 -4 | 106: 0 0 0 | 115: -6 0 0 | 127: -5 0 0 | 150: -4 0 0 | 164: -6 0 0 | 184: 2 12 2 | 200: 2 15 3 | 208: 2 15 3",
    ),
    head: keys(
      "1: 0 0 0 | 18: 3 10 2 | 33: -4 22 -4 | 47: 0 16 -2 | 60: 4 -14 6 | 72: -3 -10 6 | 87: 0 16 -5 | 108: 0 0 0 | 117: -7 0 0 | 129: -8 0 0 | 152: -2 0 0 | 166: -8 0 0 | 187: 2 16 4 | 203: 0 20 5 | 208: 0 20 5",
    ),
    footL: L,
    footR: R,
    rollL: keys(
      "1: 0 | 10: 2 | 14: 30 | 18: 44 | 26: 28 | 30: 14 | 36: 0 | 60: 0 | 66: 28 | 71: 44 | 78: 26 | 82: 14 | 88: 0 | 110: 0 | 116: 19 | 122: 47 | 131: 66 | 146: 44 | 154: 4 | 158: 0 | 171: 0 | 178: 14 | 195: 44 | 208: 44",
    ),
    rollR: keys(
      "1: 0 | 27: 0 | 33: 18 | 38: 36 | 44: 44 | 53: 40 | 58: 34 | 64: 28 | 72: 30 | 80: 34 | 86: 44 | 92: 36 | 102: 16 | 107: 0 | 110: 0 | 116: 19 | 122: 47 | 132: 66 | 146: 44 | 154: 5 | 159: 0 | 208: 0",
    ),
    kneeL: keys("1: 8 | 102: 8 | 111: 16 | 130: 6 | 157: 18 | 178: 8"),
    kneeR: keys("1: 8 | 102: 8 | 111: 16 | 130: 6 | 157: 18 | 178: 8"),
    armL: keys(
      "1: 6 10 0 20 | 10: 12 4 0 26 | 18: 8 34 0 34 | 34: 6 88 0 14 | 44: 8 94 0 10 | 58: 30 54 -10 40 | 70: 44 24 -20 58 | 84: 10 84 0 20 | 96: 4 72 0 18 | 110: -4 18 0 24 | 117: 50 20 -6 40 | 126: 138 18 -4 30 | 136: 152 16 -4 24 | 146: 132 30 -4 26 | 158: 60 62 0 22 | 168: 26 40 0 34 | 184: 16 84 0 14 | 196: 12 96 0 10 | 208: 12 95 0 11",
    ),
    armR: keys(
      "1: 6 10 0 20 | 12: 10 26 0 30 | 22: 34 20 -10 52 | 36: 42 16 -24 62 | 48: 30 40 -10 40 | 62: 8 92 0 12 | 74: 8 90 0 14 | 88: 34 30 -16 52 | 99: 14 46 0 32 | 112: -4 18 0 24 | 119: 50 20 -6 40 | 128: 136 18 -4 30 | 138: 150 16 -4 25 | 148: 130 30 -4 26 | 160: 58 60 0 22 | 171: 30 36 0 38 | 187: 60 40 -6 34 | 199: 78 38 -8 22 | 208: 77 38 -8 23",
    ),
    wristL: keys(
      "1: 4 0 0 | 16: -16 0 0 | 28: 18 0 0 | 40: -6 0 0 | 52: 10 0 0 | 64: 18 0 0 | 77: 14 0 0 | 90: -8 0 0 | 104: 8 0 0 | 118: 16 0 0 | 130: -12 0 0 | 142: -6 0 0 | 154: -18 0 0 | 172: 14 0 0 | 190: 16 0 0 | 202: -8 0 0 | 208: -8 0 0",
    ),
    wristR: keys(
      "1: 4 0 0 | 18: -12 0 0 | 30: 14 0 0 | 44: 10 0 0 | 56: 18 0 0 | 68: -8 0 0 | 80: 10 0 0 | 94: 6 0 0 | 106: 10 0 0 | 120: 16 0 0 | 132: -12 0 0 | 144: -6 0 0 | 156: -18 0 0 | 175: 14 0 0 | 193: 12 0 0 | 205: -6 0 0 | 208: -6 0 0",
    ),
    fingL: { 1: 14, 36: 4, 66: 22, 86: 4, 112: 20, 132: 6, 166: 22, 196: 2 },
    fingR: { 1: 14, 38: 22, 64: 4, 90: 20, 114: 18, 134: 6, 168: 24, 199: 2 },
  });
  const b = makeShot({
    name,
    fps: 60,
    last: LAST,
    unit: 1,
    shot: { stage: "polish" },
    items: [{ skel: sk, perf }],
  });
  full(b);
  b.doc.contacts = b.doc.contacts.filter(
    (/** @type {any} */ c) => !(c.node.endsWith("kushoto") && c.frames[0] >= 176),
  );
  dense(b.doc);
  // Flat at the top, and steep before and after.
  if (has(bad, 1)) {
    const y = new Map(
      b.doc.curves.find((/** @type {any} */ c) => c.node === "nyonga" && c.channel === "translation.y").keys,
    );
    const top = y.get(134) - 0.012;
    redo(b.doc, "nyonga", "translation.y", [123, 145], (f, was) => {
      const d = Math.abs(f - 134);
      return d < 7 ? top - 0.0004 * d * d : was + (top - 0.02 - was) * Math.min(1, ((12 - d) / 5) * 0.95);
    });
  }
  if (has(bad, 5))
    for (const n of ["mkono-kushoto", "kiwiko-kushoto", "kiganja-kushoto"])
      stopDead(b.doc, [n], "rotation", 24, 31, 47);
  if (has(bad, 6)) tick(b.doc, "kiganja-kulia", "rotation.z", 183, 14);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "She flies up, hangs at the top of the jump as on a wire, and drops; that isn't how a body falls.",
    kind: "floats",
    size: "strong",
    nodes: ["nyonga"],
    frames: [122, 146],
    order: 1,
  },
  {
    what: "The jump has no plié before it, she goes up off nearly straight legs; where does the height come from?",
    kind: "no-anticipation",
    size: "strong",
    nodes: ["nyonga", "paja-kushoto", "goti-kushoto", "paja-kulia", "goti-kulia"],
    frames: [97, 122],
    order: 2,
  },
  {
    what: "The left arm hits its pose on the first step and stands there like a signpost; it should go on through and settle.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["mkono-kushoto", "kiwiko-kushoto", "kiganja-kushoto"],
    frames: [25, 47],
    order: 5,
  },
  {
    what: "The foot that crosses behind slides sideways while she stands on it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["mguu-kulia", "dole-kulia", "goti-kulia", "paja-kulia"],
    frames: [64, 102],
    order: 4,
  },
  {
    what: "She lands stiff, the knees don't take the landing.",
    kind: "no-give",
    size: "ordinary",
    nodes: ["nyonga", "paja-kushoto", "goti-kushoto", "paja-kulia", "goti-kulia"],
    frames: [146, 184],
    order: 3,
  },
  {
    what: "A tick in the right hand on its way to the last pose.",
    kind: "pop",
    size: "barely",
    nodes: ["kiganja-kulia"],
    frames: [182, 184],
    order: 6,
  },
];
