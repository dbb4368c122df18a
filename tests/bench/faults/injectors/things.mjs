/** Faults of things: one that stands in the air, and one that sets out before the hand that takes it. */
import { facts, worldOf } from "./places.mjs";

/** Centimetres in a metre: the unit of these motions. */
const unit = 100;

/** A clean motion with a thing in it. */
function withThing({ shot }, node, contacts) {
  const { header } = shot;
  return {
    ...shot,
    header: {
      ...header,
      nodes: [...header.nodes, node],
      contacts: [...(header.contacts ?? []), ...contacts],
    },
  };
}

const curve = (node, channel, values, first) => ({
  node,
  channel,
  interpolation: "linear",
  keys: values.map((value, i) => ({ frame: first + i, value })),
});

export const missedContact = {
  check: "missed-contact",
  strengths: [2.6, 4, 8, 20],
  unit: "cm by which a pail that is to stand on the ground is over it",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^gestures/.test(name),
  place(base, random) {
    const { first, last } = facts(base);
    const from = random.whole(first, last - 30);
    return {
      at: [random.between(-90, 90), random.between(40, 90)],
      from,
      to: random.whole(from + 14, last),
    };
  },
  inject(base, { at, from, to }, up) {
    const node = {
      id: "pail",
      translation: [at[0], 12, at[1]],
      shapes: [{ kind: "box", size: [24, 24, 24] }],
    };
    const key = { node: "pail", channel: "translation.y", interpolation: "linear" };
    return {
      curves: [{ ...key, keys: [{ frame: facts(base).first, value: 12 + up }] }],
      shot: withThing(base, node, [{ node: "pail", with: "ground", frames: [from, to] }]),
      truth: {
        from,
        to,
        nodes: new Set(["pail"]),
        keys: { nodes: new Set(["pail"]), channels: /^translation/, from: -1e6, to: 1e6 },
      },
    };
  },
};

export const movesByItself = {
  check: "moves-by-itself",
  strengths: [4, 6, 9, 14],
  unit: "frames by which a ball sets out before the hand that takes it along is there",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^gestures/.test(name),
  place(base, random) {
    const { first, last } = facts(base);
    const side = random.pick(["l", "r"]);
    const at = random.whole(first + 24, last - 26);
    const hand = handOf(base, side);
    // The hand is under way there, and goes on; before, it has not been near.
    const far = (f, g) => Math.hypot(...[0, 1, 2].map((k) => hand(f)[k] - hand(g)[k]));
    const goes = far(at, at + 1) > 1.2 && far(at, at + 12) > 18;
    // What goes down may fall or roll there by itself.
    for (let f = at; f <= at + 12; f++) if (hand(f)[1] < hand(at)[1]) return null;
    for (let f = first; f < at - 8; f++) if (far(f, at) < 14) return null;
    return goes && far(at - 14, at) > 20 ? { side, at } : null;
  },
  inject(base, { side, at }, ahead) {
    const { first, last } = facts(base);
    const hand = handOf(base, side);
    const until = Math.min(last, at + 20);
    const early = (f) => ahead * Math.max(0, Math.min(1, (until - f) / (until - at)));
    const course = [];
    for (let f = first; f <= last; f++)
      course.push(hand(Math.min(last, Math.max(at, Math.min(until, f + early(f))))));
    const node = { id: "ball", translation: hand(at), shapes: [{ kind: "sphere", radius: 5 }] };
    return {
      curves: ["x", "y", "z"].map((axis, k) =>
        curve(
          "ball",
          `translation.${axis}`,
          course.map((point) => point[k]),
          first,
        ),
      ),
      shot: withThing(base, node, []),
      truth: {
        from: at - ahead,
        to: at,
        nodes: new Set(["ball"]),
        keys: { nodes: new Set(["ball"]), channels: /^translation/, from: at - ahead - 4, to: until },
      },
    };
  },
};

/** Where a hand is at a frame, between two judged ones too, cm. */
function handOf(base, side) {
  const { study, rig, first, last } = facts(base);
  const { position } = worldOf(study, rig.indexOf.get(`hand_${side}`));
  return (frame) => {
    const at = Math.min(last - first, Math.max(0, frame - first));
    const i = Math.min(last - first - 1, Math.floor(at));
    return [0, 1, 2].map(
      (k) => unit * (position[3 * i + k] + (at - i) * (position[3 * i + 3 + k] - position[3 * i + k])),
    );
  };
}
