// @ts-check

import { pop } from "../../slips.mjs";
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";
import { steps } from "../kit/steps.mjs";

export const name = "waiter_turns";
export const about =
  "A waiter walks up with even steps, turns a quarter to his left over his right foot because somebody calls, goes two steps that way and stops.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "cameriere",
    stature: 1.78,
    spines: 2,
    words: {
      root: "BACINO",
      spine: ["SCHIENA1", "SCHIENA2"],
      neck: "COLLO",
      head: "TESTA",
      end: "TESTA_FINE",
      clav: "SPALLA",
      up: "BRACCIO",
      fore: "AVAMBRACCIO",
      hand: "MANO",
      fing: "DITA",
      thigh: "COSCIA",
      shin: "GAMBA",
      foot: "PIEDE",
      toe: "PUNTA",
      tip: "PUNTA_FINE",
    },
    side: (w, s) => `${w}.${s === "L" ? "SX" : "DX"}`,
    orders: { root: "yxz", leg: "xyz", arm: "zxy", spine: "yxz" },
  });
  const W = 0.075;
  const perf = /** @type {any} */ ({
    hips: { 1: [-0.02, -0.016, 0] },
    hipsRot: { 1: [1, 0, 0] },
    spine: { 1: [2, 0, 0] },
    chest: { 1: [3, 0, 0] },
    footL: { 1: [W, 0, 0, 5] },
    footR: { 1: [-W, 0, 0, -6] },
    clavL: { 1: [0, 0] },
    fingL: { 1: 22, 60: 30, 110: 24 },
    fingR: { 1: 26, 50: 20, 100: 28 },
  });
  const n = 13;
  const land = steps(perf, sk, {
    f0: 4,
    lean: 3,
    settle: 0.022,
    sway: 0.5,
    dip: 0.012,
    arms: 17,
    heel: 22,
    toe: 11,
    hipYaw: 5,
    list: [
      { s: "L", to: [W, 0, 0.36, 5], n },
      { s: "R", to: [-W, 0, 0.98, -4], n },
      { s: "L", to: [0.27, 0, 1.1, 52], n: 14 },
      { s: "R", to: [0.48, 0, 1.36, 78], n: 15 },
      { s: "L", to: [1.0, 0, 1.25, 94], n: 14 },
      { s: "R", to: [1.0, 0, 1.4, 84], n: 14 },
    ],
  });
  const last = land + 26;
  // The eyes are called first; the head goes, then the chest, then the feet.
  const t = 34;
  perf.neck = {
    1: [0, 0, 0],
    [t - 4]: [0, 0, 0],
    [t + 8]: [1, 24, 0],
    [t + 26]: [0, 10, 0],
    [t + 44]: [0, 0, 0],
  };
  perf.head = {
    1: [0, 2, 0],
    [t - 6]: [0, -1, 0],
    [t + 5]: [2, 42, 2],
    [t + 24]: [0, 16, 1],
    [t + 42]: [0, 2, 0],
    [land + 6]: [3, 0, 0],
    [land + 14]: [0, 2, 0],
    [last]: [0, 3, 0],
  };
  for (const f of Object.keys(perf.chest).map(Number))
    if (f > t && f < t + 20) perf.chest[f] = [perf.chest[f][0], perf.chest[f][1] + 16, perf.chest[f][2]];
  for (const k of ["hipsRot", "spine", "chest", "hips"])
    perf[k][last] ??= perf[k][Math.max(...Object.keys(perf[k]).map(Number))];
  perf.armL[last] = perf.armL[land + 9] = [6, 9, 0, 21];
  perf.armR[last] = [0, 7, 0, 11];
  if (bad) {
    // Before the second foot lands the body all but stands in the air, then catches up.
    const hips = track(perf.hips);
    const late = track({ 17: { v: 17, s: 1 }, 22: 21.2, 28: { v: 22.6, s: 0.5 }, 33: { v: 33, s: 1 } });
    perf.hips = (/** @type {number} */ f) => {
      const [x, y] = hips(f);
      return [x, y, hips(f > 17 && f < 33 ? late(f) : f)[2]];
    };
    perf.neck = { 1: [0, 0, 0] };
    perf.head = { 1: [0, 2, 0], 60: [0, 1, 0] };
    // The wrists were never keyed after the first frame.
    perf.wristL = { 1: [4, 0, 0] };
    perf.wristR = { 1: [4, 0, 0] };
    // The foot that he turns on is turned with the body.
    const r = perf.footR;
    const plant = Object.keys(r)
      .map(Number)
      .filter((f) => f > 28 && f < 48);
    const from = r[plant[0]].v ?? r[plant[0]];
    r[40] = { v: [from[0], 0, from[2], from[3]], s: [0, 0, 0, 0] };
    const off =
      Object.keys(r)
        .map(Number)
        .find((f) => f > 44) ?? 0;
    r[off - 2] = { v: [from[0] + 0.05, 0, from[2] + 0.03, from[3] + 38], s: [0, 0, 0, 0] };
    r[off] = { v: [from[0] + 0.06, 0, from[2] + 0.035, from[3] + 42], s: [0, 0, 0, 0] };
  }
  const b = makeShot({ name, fps: 24, last, unit: 0.01, items: [{ skel: sk, perf }] });
  if (bad) {
    pop(b.doc, "GAMBA.SX", "rotation.x", 76, 13);
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "In the second step the body stops in mid air before the foot is down to carry it, then catches up at a jump.",
    kind: "slows before the foot",
    size: "strong",
    nodes: ["BACINO"],
    frames: [20, 33],
    order: 1,
  },
  {
    what: "The right foot swivels and slides under him while all of his weight is on it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["PIEDE.DX", "PUNTA.DX"],
    frames: [38, 50],
    order: 2,
  },
  {
    what: "He turns like a block: the head never looks where he goes, it only rides on the chest.",
    kind: "one-block",
    size: "ordinary",
    nodes: ["TESTA", "COLLO", "SCHIENA2"],
    frames: [28, 76],
    order: 3,
  },
  {
    what: "The left knee snaps for one frame at 76.",
    kind: "pop",
    size: "ordinary",
    nodes: ["GAMBA.SX", "PIEDE.SX"],
    frames: [75, 77],
    order: 4,
  },
  {
    what: "The hands hang on stiff wrists through the whole walk.",
    kind: "dead-wrist",
    size: "barely",
    nodes: ["MANO.SX", "MANO.DX"],
    frames: [4, 88],
    order: 5,
  },
];
