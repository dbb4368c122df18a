/**
 * A tern-like bird in powered flight, with no glide in it: one flies level at a steady speed, one turns and climbs. Each
 * beat gives the lift that the body's course needs, which goes with the square of rate and amplitude, and the body rises
 * and falls once in a beat, since the downstroke gives more of it than the upstroke.
 */

import { stateAt } from "../../../../demo/motion/biped.mjs";
import { draggedChain, seriesAt, trailing } from "../../../../demo/motion/drag.mjs";
import { keyCourse } from "../../../../demo/motion/keying.mjs";
import { gravity, moves } from "../../../../demo/motion/moves.mjs";
import { nodeIn, poseOf } from "../../../../demo/motion/skeleton.mjs";

const rate = 24;
const from = 1;
const to = 118;
const range = { from, to };
/** Frames of a beat; a bird of this size beats about 2.7 times a second. */
const beat = 9;
/** Speed through the air, cm/s. */
const speed = 780;
/** Swing of the wing to either side that carries the weight, in degrees. */
const carrying = 33;
/** By how much of the lift the downstroke gives more than the mean, and the upstroke less. */
const uneven = 0.55;
const degrees = 180 / Math.PI;

/** @typedef {{ heading: (f: number) => number, climb: (f: number) => number }} Course in degrees */

/** @returns {{ document: object, curves: object[], act: null }} level, straight but for a little drift */
export const levelFlight = () =>
  flight("level flight", {
    heading: moves(2, [2, 48, -5], [46, 92, 6], [90, 124, -3]),
    climb: () => 0,
  });

/** @returns {{ document: object, curves: object[], act: null }} a turn, and a climb out of it */
export const climbingTurn = () =>
  flight("climbing turn", {
    heading: moves(-20, [16, 74, 62], [78, 122, -12]),
    climb: moves(0, [40, 78, 13], [84, 122, -8]),
  });

/** @param {string} name @param {Course} course */
function flight(name, course) {
  const nodes = birdNodes();
  const path = pathOf(course);
  const phase = (f) => (2 * Math.PI * (f - 3)) / beat;
  const swing = (f) => carrying * Math.sqrt(path.need(f));
  const stroke = (f) => swing(f) * Math.cos(phase(f));
  // The body is pushed up through the downstroke, between a high and a low of the wing: it goes with minus the lift.
  const omega = (2 * Math.PI * rate) / beat;
  const bob = (f) => -(gravity / omega ** 2) * uneven * path.need(f) * Math.sin(phase(f));
  const tilt = (f) => 1.6 * Math.sin(phase(f) - 0.6);
  const bank = (f) => path.bank(f);
  const trimmed = trailing(bank, { ...range, lag: 2.4, gain: 0.35 });
  const look = moves(0, [12, 26, 11], [40, 54, -19], [70, 84, 14], [96, 110, -7]);
  const swept = (f) => 0.3 * swing(f) * Math.sin(phase(f) - 0.5);
  const wing = (side, out, late, size) => (f) => {
    const g = f - late;
    return {
      [`wing_${side}`]: [
        size * 0.25 * stroke(g + beat / 4),
        out * (6 + size * swept(g)),
        out * (6 + size * stroke(g)),
      ],
      [`wing_mid_${side}`]: [
        0,
        out * (-12 - 0.6 * size * swept(g - 1)),
        out * (0.4 * size * stroke(g - 1.1) - 6),
      ],
      [`wing_tip_${side}`]: [
        0,
        out * (5 + 0.5 * size * swept(g - 1.8)),
        out * (0.5 * size * stroke(g - 2) + 2),
      ],
    };
  };
  const [left, right] = [wing("l", 1, 0, 1), wing("r", -1, 0.3, 0.96)];
  // The neck takes out what the beat puts into the body, so that the head looks ahead steadily.
  const steady = (f) => -0.8 * tilt(f) + 0.7 * path.pitch(f);
  const angles = (f) => ({
    body: [-3 + tilt(f) - path.pitch(f), path.heading(f), -bank(f)],
    breast: [1 + 0.4 * tilt(f - 1), 0.1 * look(f - 1), trimmed(f)],
    neck_1: [6 + 0.4 * steady(f - 0.5), 0.25 * look(f), 0.3 * bank(f) + trimmed(f - 1)],
    neck_2: [-2 + 0.3 * steady(f - 1), 0.3 * look(f), 0.3 * bank(f - 1)],
    head: [-6 + 0.3 * steady(f - 1.5), 0.4 * look(f), 0.3 * bank(f - 2)],
    ...left(f),
    ...right(f),
  });
  const node = (id) => nodes.find((one) => one.id === id);
  const place = (f) => {
    const [x, y, z] = path.place(f);
    return [x, y + bob(f), z];
  };
  const curves = keyCourse(node("body"), "translation", place, { ...range, tolerance: 0.05 });
  for (const id of Object.keys(angles(from))) {
    const tolerance = /wing/.test(id) ? 0.5 : 0.1;
    curves.push(...keyCourse(node(id), "rotation", (f) => angles(f)[id], { ...range, tolerance }));
  }
  curves.push(...tail(nodes, curves));
  return { document: documentOf(name, nodes), curves, act: null };
}

/** The course of the body without its beat, worked out in steps of a sixteenth of a frame. */
function pathOf({ heading, climb }) {
  const fine = 16;
  const lead = 4;
  const places = [];
  let at = [0, 420, 0];
  const velocity = (f) => {
    const [turned, up] = [heading(f) / degrees, climb(f) / degrees];
    const level = speed * Math.cos(up);
    return [level * Math.sin(turned), speed * Math.sin(up), level * Math.cos(turned)];
  };
  for (let i = 0; i <= (to - from + 2 * lead) * fine; i++) {
    places.push(at);
    const v = velocity(from - lead + (i + 0.5) / fine);
    at = at.map((value, k) => value + v[k] / (rate * fine));
  }
  const acceleration = (f) => {
    const [a, b] = [velocity(f - 0.5), velocity(f + 0.5)];
    return [0, 1, 2].map((k) => (b[k] - a[k]) * rate);
  };
  return {
    place: (f) => {
      const i = Math.max(0, Math.min(places.length - 2, Math.floor((f - from + lead) * fine)));
      const part = (f - from + lead) * fine - i;
      return places[i].map((value, k) => value + part * (places[i + 1][k] - value));
    },
    heading,
    pitch: climb,
    /** Lift that the course needs, in units of the weight. */
    need: (f) => {
      const [x, y, z] = acceleration(f);
      return Math.hypot(x, y + gravity, z) / gravity;
    },
    /** Degrees that the body leans into a turn, so that the lift points where the course needs it. */
    bank: (f) => {
      const [x, , z] = acceleration(f);
      const turned = heading(f) / degrees;
      return Math.atan2(x * Math.cos(turned) - z * Math.sin(turned), gravity) * degrees;
    },
  };
}

/** Air that flows past steadily holds the tail in line; only the body's turning makes it trail. */
function tail(nodes, curves) {
  const base = (f) => {
    const { angles, places } = stateAt(nodes, curves, f);
    return { position: [0, 0, 0], orientation: nodeIn(poseOf(nodes, angles, places), "body").orientation };
  };
  const links = [
    [0, 0, -8],
    [0, 0, -9],
  ];
  const how = { from, to, rate, links, order: "yxz", stiffness: 900, damping: 22, gravity: 0 };
  return draggedChain(base, how, [0, 0, -11]).flatMap((series, n) => {
    const node = nodes.find(({ id }) => id === `tail_${n + 1}`);
    return keyCourse(node, "rotation", seriesAt(series, from), { ...range, tolerance: 0.2 });
  });
}

function birdNodes() {
  const nodes = [
    { id: "body", translation: [0, 420, 0], rotationOrder: "yxz" },
    { id: "breast", parent: "body", translation: [0, 2, 9], rotationOrder: "yxz" },
    { id: "neck_1", parent: "breast", translation: [0, 3, 6], rotationOrder: "yxz" },
    { id: "neck_2", parent: "neck_1", translation: [0, 3, 5], rotationOrder: "yxz" },
    { id: "head", parent: "neck_2", translation: [0, 2, 5], rotationOrder: "yxz" },
    { id: "beak_end", parent: "head", translation: [0, -1, 8] },
    { id: "tail_1", parent: "body", translation: [0, 0, -11], rotationOrder: "yxz" },
    { id: "tail_2", parent: "tail_1", translation: [0, 0, -8], rotationOrder: "yxz" },
    { id: "tail_end", parent: "tail_2", translation: [0, 0, -9] },
  ];
  for (const [side, out] of [
    ["l", 1],
    ["r", -1],
  ]) {
    nodes.push(
      { id: `wing_${side}`, parent: "breast", translation: [out * 4, 3, -1], rotationOrder: "zyx" },
      { id: `wing_mid_${side}`, parent: `wing_${side}`, translation: [out * 16, 0, 1], rotationOrder: "zyx" },
      {
        id: `wing_tip_${side}`,
        parent: `wing_mid_${side}`,
        translation: [out * 20, 0, -1],
        rotationOrder: "zyx",
      },
      { id: `wing_end_${side}`, parent: `wing_tip_${side}`, translation: [out * 24, 0, -4] },
    );
  }
  return nodes;
}

const documentOf = (name, nodes) => ({
  format: "keyside.curves",
  version: 1,
  shot: { name, frameRate: rate, range: [from, to] },
  space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
  nodes,
  figures: [
    {
      id: "tern",
      parts: {
        root: "body",
        chest: "breast",
        neck: ["neck_1", "neck_2"],
        head: "head",
        tail: ["tail_1", "tail_2"],
        leftWing: ["wing_l", "wing_mid_l", "wing_tip_l"],
        rightWing: ["wing_r", "wing_mid_r", "wing_tip_r"],
      },
      stature: 0.65,
      mass: 0.8,
    },
  ],
  surfaces: [{ id: "water", normal: [0, 1, 0], height: 0 }],
  propulsors: [{ figure: "tern", nodes: ["wing_l", "wing_r"], channel: "rotation.z" }],
});
