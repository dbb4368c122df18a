/** Faults of wings that carry a body. */
import { curveAt, rekeyed } from "../keyed.mjs";
import { below, changes, facts, worldOf } from "./places.mjs";

const standardGravity = 9.80665;
/**
 * Way of a flight over the height that its energy falls by, from which on no glide explains it: herons and gulls need
 * 1 m for 12 m, the best sailplanes 1 m for 50 m (from memory).
 */
const level = 50;

export const beatMismatch = {
  check: "beat-mismatch",
  // The page forgives 1.8 times.
  strengths: [2, 2.7, 4, 7],
  unit: "times less lift of the beat than the body's course needs",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^(level flight|climbing turn)/.test(name),
  place(base, random) {
    const turns = turnsOf(base, base.curves.get("wing_l rotation.z"));
    const strokes = 2 * random.whole(2, 3);
    const first = random.whole(2, turns.length - 3 - strokes);
    const [from, to] = [turns[first], turns[first + strokes]];
    return glides(base, "body", from, to) ? null : { from, to, strokes };
  },
  inject(base, { from, to, strokes }, ratio) {
    // Lift goes with the square of the swing. The wing turns back early from where it turned last, so that every stroke
    // between the two turns is weak from end to end, and none beside them.
    const weak = 1 / Math.sqrt(ratio);
    const wings = [...base.curves.values()].filter(
      (curve) => /^wing/.test(curve.node) && curve.channel.startsWith("rotation") && changes(curve),
    );
    const curves = wings.map((curve) => {
      const [start, end] = turnsNear(base, curve, from, strokes) ?? [from, to];
      const [a, b] = [curveAt(curve, start), curveAt(curve, end)];
      return rekeyed(curve, start, end, (f) => {
        const still = a + ((b - a) * (f - start)) / (end - start);
        return still + weak * (curveAt(curve, f) - still);
      });
    });
    return {
      curves,
      truth: {
        from,
        to,
        nodes: below(base, "body"),
        keys: {
          nodes: new Set(wings.map(({ node }) => node)),
          channels: /^rotation/,
          from: from - 4,
          to: to + 4,
        },
      },
    };
  },
};

export const outOfStep = {
  check: "out-of-step",
  // The page forgives a twelfth of a beat; these beats last about ten frames.
  strengths: [1, 1.5, 2, 3],
  unit: "frames by which one wing is behind the other",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^level flight/.test(name),
  place(base, random) {
    const turns = turnsOf(base, base.curves.get("wing_l rotation.z"));
    const strokes = random.whole(6, 8);
    const first = random.whole(1, Math.max(1, turns.length - 2 - strokes));
    if (first + strokes >= turns.length) return null;
    return { from: turns[first], to: turns[first + strokes], side: random.pick(["l", "r"]) };
  },
  inject(base, { from, to, side }, late) {
    const wing = below(base, `wing_${side}`);
    const curves = [...base.curves.values()].filter(
      (curve) => wing.has(curve.node) && curve.channel.startsWith("rotation") && changes(curve),
    );
    const ramp = 6;
    const share = (f) => Math.max(0, Math.min(1, (f - from) / ramp + 1, (to - f) / ramp + 1));
    return {
      curves: curves.map((curve) =>
        rekeyed(curve, from - ramp, to + ramp, (f) => curveAt(curve, f - late * share(f))),
      ),
      truth: {
        from,
        to,
        nodes: new Set([...wing, ...below(base, `wing_${side === "l" ? "r" : "l"}`)]),
        keys: { nodes: wing, channels: /^rotation/, from: from - ramp - 2, to: to + ramp + 2 },
      },
    };
  },
};

/** Parts of a wing follow each other: a curve's own turn next to a frame, and the one so many strokes later. */
function turnsNear(base, curve, frame, strokes) {
  const turns = turnsOf(base, curve);
  const next = turns.findIndex((turn) => turn >= frame - 1);
  return next < 0 || next + strokes >= turns.length ? null : [turns[next], turns[next + strokes]];
}

/** Frames on which a curve turns back. */
function turnsOf(base, curve) {
  const { first, last } = facts(base);
  const turns = [];
  let rises = null;
  for (let f = first; f < last; f++) {
    const change = curveAt(curve, f + 1) - curveAt(curve, f);
    if (Math.abs(change) < 1e-3) continue;
    if (rises !== null && change > 0 !== rises) turns.push(f);
    rises = change > 0;
  }
  return turns;
}

/** Whether a body pays, in height or in speed, for beating less. */
function glides(base, id, from, to) {
  const { study, rig, rate, first } = facts(base);
  const { position } = worldOf(study, rig.indexOf.get(id));
  const step = (f) =>
    Math.hypot(...[0, 1, 2].map((k) => position[3 * (f - first) + k] - position[3 * (f - first) + k - 3]));
  const height = (f) => {
    const speed = (rate * (step(f) + step(f + 1))) / 2;
    return position[3 * (f - first) + 1] + speed ** 2 / (2 * standardGravity);
  };
  let way = 0;
  for (let f = from + 1; f <= to; f++) way += step(f);
  return height(from) - height(to) > way / level;
}
