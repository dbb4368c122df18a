/** Faults of parts against each other. */
import { down } from "../bases/jump.mjs";
import { apart } from "../bases/pair.mjs";
import { curveAt, rekeyed } from "../keyed.mjs";
import { below, contactsOf, curvesOf, facts, ownMoves, ownTurn, turnOf } from "./places.mjs";
import { centimetres } from "./relegged.mjs";
import { handStep, posesWith, stepsAround } from "./seen.mjs";
import { timeless, truthAt } from "./spacing.mjs";

const degrees = 180 / Math.PI;
const rotations = /^rotation/;
const standing = (base) => /^gestures/.test(base.name);

/** A curve with its changes made smaller or larger about what it starts with. */
const scaledAbout = (curve, by) => {
  const start = curve.keys[0].value;
  return {
    ...curve,
    keys: curve.keys.map((key) => ({
      ...key,
      value: start + by * (key.value - start),
      ...(key.slope === undefined ? {} : { slope: by * key.slope }),
    })),
  };
};

/**
 * First and last frame of the turning of a node in the world, faster than some degrees a second, around a frame. What
 * stops for two frames goes on: no hold is seen in them.
 */
function turningAround(base, id, frame, least) {
  const { rig, first, last, rate } = facts(base);
  const node = rig.indexOf.get(id);
  return stepsAround(frame, [first, last], (f) => turnOf(base, node, f) * degrees * rate > least, 2);
}

/** Largest turn of a node by its own keys against where it stands at a frame, in degrees. */
function largestTurn(curves, from, to) {
  let largest = 0;
  for (let f = from; f <= to; f++) largest = Math.max(largest, ownTurn(curves, from, f));
  return largest;
}

export const twinning = {
  check: "twinning",
  strengths: [1, 0.5, 0, 0],
  unit: "frames by which one arm is late, and as many tenths smaller (the last: for the whole shot)",
  bases: ["keyed", "dense"],
  only: standing,
  place(base, random) {
    const moves = ownMoves(base, "upper_arm_l", 0.4).filter(
      ({ to, from, travel }) => to - from >= 10 && travel > 30,
    );
    return moves.length === 0 ? null : { move: random.pick(moves), other: random.next() };
  },
  inject(base, { move }, late) {
    const { first, last } = facts(base);
    const [from, to] = [first, last];
    const curves = ["shoulder", "upper_arm", "forearm", "hand"].flatMap((part) =>
      ["x", "y", "z"].flatMap((axis) => {
        const left = base.curves.get(`${part}_l rotation.${axis}`);
        const right = base.curves.get(`${part}_r rotation.${axis}`);
        const sign = axis === "x" ? 1 : -1;
        const of = left ?? right;
        if (of === undefined) return [];
        const spec = base.shot.header.nodes.find(({ id }) => id === `${part}_l`);
        const rest = spec.rotation?.["xyz".indexOf(axis)] ?? 0;
        const value = (f) => (left === undefined ? rest : curveAt(left, f - late));
        const start = value(from);
        const target = right ?? { ...of, node: `${part}_r` };
        return [rekeyed(target, from, to, (f) => sign * (start + (1 - 0.1 * late) * (value(f) - start)))];
      }),
    );
    // The fault's frames: those of the move in which both hands go faster against the chest than the check's page takes
    // for a hand at rest, with the stop at a turning point that it gives to the move.
    const poses = posesWith(base, curves);
    const least = centimetres(base, 10) / facts(base).rate;
    const both = (f) => handStep(poses, f, "l") > least && handStep(poses, f, "r") > least;
    return {
      curves,
      truth: {
        ...stepsAround(move.peak, [first, last], both, 3),
        nodes: below(base, "shoulder_r"),
        keys: {
          nodes: new Set([...below(base, "shoulder_r"), ...below(base, "shoulder_l")]),
          from: first,
          to: last,
        },
      },
    };
  },
};

export const blockMove = {
  check: "block-move",
  strengths: [0.04, 0.03, 0.015, 0],
  unit: "of the turning that is left within the body",
  bases: ["keyed", "dense"],
  only: standing,
  place(base, random) {
    const moves = ownMoves(base, "hips", 0.1).filter(({ travel, from, to }) => travel > 5 && to - from > 8);
    return moves.length === 0 ? null : { move: random.pick(moves), turn: random.between(1, 1.3) };
  },
  inject(base, { move, turn }, share) {
    const { first, last } = facts(base);
    const ids = ["spine", "chest", "neck", "head"];
    const curves = ids.flatMap((id) =>
      curvesOf(base, id, "rotation").map((curve) => scaledAbout(curve, share)),
    );
    const yaw = (f) => ids.slice(0, 2).reduce((sum, id) => sum + valueIn(base, id, "rotation.y", f), 0);
    const hips = base.curves.get("hips rotation.y");
    const start = yaw(first);
    curves.push(rekeyed(hips, first, last, (f) => turn * (curveAt(hips, f) + yaw(f) - start)));
    return {
      curves,
      truth: {
        ...turningAround(base, "chest", move.peak, 12),
        nodes: below(base, "hips"),
        keys: { nodes: new Set(["hips", ...ids]), channels: rotations, from: first, to: last },
      },
    };
  },
};

function valueIn(base, id, channel, frame) {
  const curve = base.curves.get(`${id} ${channel}`);
  return curve === undefined ? 0 : curveAt(curve, frame);
}

export const loneJoint = {
  check: "lone-joint",
  strengths: [17, 25, 40, 60],
  unit: "° that the head turns alone",
  bases: ["keyed", "dense"],
  place(base, random) {
    const { first, last, figures } = facts(base);
    const head = figures[0]?.parts.get("head")?.[0];
    if (head === undefined) return null;
    const { rig } = facts(base);
    const length = random.whole(8, 12);
    const from = random.whole(first + 8, last - length - 2);
    // Only where nothing under the head turns by itself (the answer would be there already).
    const spine = figures[0].nodes.filter((node) => node !== head && isAbove(rig, node, head));
    for (let f = Math.max(first + 1, from - 7); f <= Math.min(last, from + length + 7); f++) {
      if (spine.some((node) => turnOf(base, node, f) * degrees > 0.05)) return null;
    }
    return { id: rig.ids[head], from, to: from + length, sign: random.sign() };
  },
  inject(base, { id, from, to, sign }, turn) {
    const { last } = facts(base);
    const curve = base.curves.get(`${id} rotation.y`);
    if (curve === undefined) return null;
    const eased = (f) => {
      const t = Math.max(0, Math.min(1, (f - from) / (to - from)));
      return t * t * t * (10 - 15 * t + 6 * t * t);
    };
    return {
      curves: [rekeyed(curve, from, last, (f) => curveAt(curve, f) + sign * turn * eased(f))],
      truth: truthAt(base, id, rotations, from, to, from - 2, to + 2),
    };
  },
};

function isAbove(rig, node, other) {
  for (let at = rig.parent[other]; at >= 0; at = rig.parent[at]) if (at === node) return true;
  return false;
}

export const noDrag = {
  check: "no-drag",
  strengths: [1.8, 1.2, 0.5, 0],
  unit: "° that the chain turns against what carries it",
  bases: ["keyed", "dense"],
  place(base, random) {
    const chains = [...base.curves.keys()].filter((name) => /^(hair|tail)_1 /.test(name));
    return chains.length === 0 ? null : { part: chains[0].slice(0, 4), gain: random.between(0.9, 1) };
  },
  inject(base, { part, gain }, response) {
    const { first, last } = facts(base);
    const links = [
      ...new Set(
        [...base.curves.values()].filter(({ node }) => node.startsWith(`${part}_`)).map((c) => c.node),
      ),
    ];
    const curves = links.flatMap((id) => {
      const own = curvesOf(base, id, "rotation");
      const turn = largestTurn(own, first, last);
      return own.map((curve) => scaledAbout(curve, turn > 0 ? (gain * response) / turn / 2 : 0));
    });
    return {
      curves,
      truth: timeless({
        from: first,
        to: last,
        nodes: new Set(links),
        keys: { nodes: new Set(links), channels: rotations, from: first, to: last },
      }),
    };
  },
};

export const stillWrist = {
  check: "still-wrist",
  strengths: [1.8, 1.2, 0.5, 0],
  unit: "° that the wrist turns",
  bases: ["keyed", "dense"],
  only: (base) => /^(gestures|walk|jump|crouch)/.test(base.name),
  place(base, random) {
    const side = random.pick(["l", "r"]);
    const { study, first, rig } = facts(base);
    const held = contactsOf(study, 0).filter(
      ({ node, declared }) => declared && rig.ids[node] === `hand_${side}`,
    );
    const moves = ownMoves(base, `upper_arm_${side}`, 0.6).filter(
      ({ from, to, travel }) =>
        travel > 40 &&
        to - from >= 8 &&
        !held.some((contact) => contact.from + first <= to + 4 && contact.to + first >= from - 4),
    );
    return moves.length === 0 ? null : { side, move: random.pick(moves) };
  },
  inject(base, { side, move }, degreesLeft) {
    const { first, last } = facts(base);
    const id = `hand_${side}`;
    const own = curvesOf(base, id, "rotation");
    if (own.length === 0) return null;
    const turn = largestTurn(own, first, last);
    return {
      curves: own.map((curve) => scaledAbout(curve, degreesLeft / 2 / Math.max(turn, 1e-6))),
      truth: {
        ...turningAround(base, `forearm_${side}`, move.peak, 15),
        nodes: below(base, id),
        keys: { nodes: new Set([id]), channels: rotations, from: first, to: last },
      },
    };
  },
};

export const stillFingers = {
  check: "still-fingers",
  strengths: [2.7, 2, 1, 0],
  unit: "° that the fingers turn",
  bases: ["keyed", "dense"],
  only: (base) => base.name === "crouch",
  place(base, random) {
    const { study, first, rig } = facts(base);
    const contact = contactsOf(study, 0).find(({ node, declared }) => declared && rig.ids[node] === "hand_r");
    return { frame: first + random.pick([contact.from, contact.to]), late: random.whole(-1, 1) };
  },
  inject(base, { frame, late }, curl) {
    const { first, last } = facts(base);
    const [curve] = curvesOf(base, "fingers_r", "rotation");
    const [from, to] = [frame - 9 + late, frame + 10 + late];
    const start = curveAt(curve, from);
    const turn = largestTurn([curve], from, to);
    const end = start + (curl / turn) * (curveAt(curve, to) - start);
    const back = (f) => Math.max(0, Math.min(1, (f - to) / 8));
    const changed = rekeyed(curve, from, Math.min(last, to + 8), (f) =>
      f <= to
        ? start + (curl / turn) * (curveAt(curve, f) - start)
        : end + (curveAt(curve, f) - end) * back(f) ** 2 * (3 - 2 * back(f)),
    );
    return {
      curves: [changed],
      truth: {
        ...truthAt(base, "hand_r", rotations, frame - 8, frame + 8),
        keys: { nodes: new Set(["fingers_r"]), channels: rotations, from: first, to: last },
      },
    };
  },
};

export const competingMoves = {
  check: "competing-moves",
  strengths: [3, 2, 1, 0],
  unit: "frames between the two peaks",
  bases: ["keyed", "dense"],
  only: (base) => base.name === "pair",
  place: (_base, random) => ({ sign: random.sign(), later: random.between(0.9, 1) }),
  inject(base, { sign }, between) {
    const { first, last } = facts(base);
    const by = apart - sign * between;
    const curves = [...base.curves.values()]
      .filter(({ node }) => node.startsWith("b_"))
      .map((curve) => ({ ...curve, keys: curve.keys.map((key) => ({ ...key, frame: key.frame - by })) }));
    const nodes = new Set(curves.map(({ node }) => node));
    // Both bodies are fastest a frame before they land: speed is taken over two frames.
    const lands = down - 1;
    return {
      curves,
      truth: {
        from: Math.min(lands, lands + sign * between),
        to: Math.max(lands, lands + sign * between),
        nodes: new Set([...nodes, "hips"]),
        keys: { nodes: new Set([...nodes, "hips"]), from: first - 60, to: last },
      },
    };
  },
};

export const raisedShoulders = {
  check: "raised-shoulders",
  strengths: [1.4, 2, 3, 4.5],
  unit: "% of the body's height over rest",
  bases: ["keyed", "dense"],
  only: (base) => /^(gestures|walk|crouch)/.test(base.name),
  place: (_base, random) => ({ side: random.pick(["l", "r"]), more: random.between(1, 1.1) }),
  inject(base, { side, more }, percent) {
    const { first, last } = facts(base);
    const id = `shoulder_${side}`;
    const out = side === "l" ? 1 : -1;
    // The arm's joint sits 14 cm out on the shoulder; bases stand 175 cm tall and hold it two degrees low.
    const raise = Math.asin((more * percent * 1.75) / 14) * degrees;
    const own = base.curves.get(`${id} rotation.z`);
    const keys = own?.keys.map((key) => ({ ...key, value: key.value + out * (raise + 2) })) ?? [
      { frame: first, value: out * raise },
      { frame: last, value: out * (raise + 0.5) },
    ];
    const curve =
      own === undefined
        ? { node: id, channel: "rotation.z", interpolation: "linear", keys }
        : { ...own, keys };
    return { curves: [curve], truth: timeless(truthAt(base, id, rotations, first, last)) };
  },
};
