/** Faults of paths. */
import { reach } from "../../../../demo/motion/two-bone.mjs";
import { add, inverse, multiply, scale, subtract, toAngles } from "../../../../demo/motion/vector.mjs";
import { shotWith, studyOf } from "../bases/index.mjs";
import { curveAt, rekeyed } from "../keyed.mjs";
import { below, curvesOf, facts, worldOf } from "./places.mjs";
import { inMove, truthAt } from "./spacing.mjs";

const eased = (t) => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 - 15 * t + 6 * t * t));
const rotations = /^rotation/;
const gesturing = ({ name }) => /^gestures/.test(name);

export const kinkedPath = {
  check: "kinked-path",
  strengths: [65, 75, 95, 125],
  unit: "° of the path's turn in one frame",
  place(base, random) {
    const place = inMove(base, random, 2, 0.005, 2.5);
    if (place === null) return null;
    const pairs = curvesOf(base, place.id, "rotation").filter(({ channel }) => channel !== "rotation.y");
    return pairs.length === 2 ? { ...place, pair: pairs, sign: random.sign() } : null;
  },
  inject(base, { id, frame, child, pair, sign }, turn) {
    const [a, b] = pair;
    const end = Math.min(facts(base).last, frame + 40);
    const kinked = (angle, gain) => {
      // The joint's course turns at the frame and bends back into its own direction over ten frames; what is left of
      // the way between the two fades.
      const course = [[curveAt(a, frame), curveAt(b, frame)]];
      for (let f = frame + 1; f <= end; f++) {
        const left = 1 - eased((f - frame - 2) / 10);
        const [cos, sin] = [Math.cos(angle * left), Math.sin(angle * left) * sign];
        const size = 1 + (gain - 1) * left;
        const [da, db] = [curveAt(a, f) - curveAt(a, f - 1), curveAt(b, f) - curveAt(b, f - 1)];
        const [x, y] = course[course.length - 1];
        course.push([x + size * (cos * da - sin * db), y + size * (sin * da + cos * db)]);
      }
      const fade = (f) => 1 - eased((f - frame - 8) / (end - frame - 8));
      return pair.map((curve, n) =>
        rekeyed(curve, frame, end, (f) => {
          const own = curveAt(curve, f);
          const at = Math.max(0, Math.min(course.length - 1, Math.round(f) - frame));
          return own + (course[at][n] - own) * fade(f);
        }),
      );
    };
    // Axes of a joint move its end by different amounts: angle and gain are set so that the path turns as asked and
    // keeps its speed.
    let [low, high, gain] = [0, Math.PI, 1];
    let made = null;
    for (let i = 0; i < 12; i++) {
      const middle = (low + high) / 2;
      made = { curves: kinked(middle, gain), ...cornerIn(base, kinked(middle, gain), child, frame) };
      if (made.turn < turn) low = middle;
      else high = middle;
      gain = Math.max(0.3, Math.min(6, gain / made.pace));
    }
    if (Math.abs(made.turn - turn) > 6 || made.pace < 0.7 || made.pace > 1.4) return null;
    return { curves: made.curves, truth: truthAt(base, id, rotations, frame, frame, frame - 1, frame + 1) };
  },
};

/** Turn of a node's path at a frame, in degrees, and the step behind it as a share of the one before. */
function cornerIn(base, curves, node, frame) {
  const { position } = worldOf(studyOf(shotWith(base.shot, curves)), node);
  const k = 3 * (frame - base.shot.range[0]);
  const step = (at) => [0, 1, 2].map((axis) => position[at + axis] - position[at + axis - 3]);
  const [u, v] = [step(k), step(k + 3)];
  const [before, after] = [Math.hypot(...u), Math.hypot(...v)];
  const cosine = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (before * after);
  return { turn: (Math.acos(Math.max(-1, Math.min(1, cosine))) * 180) / Math.PI, pace: after / before };
}

/** Where the right arm of the gesturing figures has come to rest, up to the end. */
const quiet = (base, random, length) => {
  const { last } = facts(base);
  return { side: "r", start: random.whole(122, last - length - 2) };
};

export const retracedPath = {
  check: "retraced-path",
  strengths: [5, 3.5, 1.5, 0],
  unit: "% of their length between the ways out and back",
  bases: ["keyed", "dense"],
  only: gesturing,
  place: (base, random) => ({ ...quiet(base, random, 22), raise: random.between(45, 65) }),
  inject(base, { side, start, raise }, percent) {
    const id = `upper_arm_${side}`;
    const out = side === "l" ? 1 : -1;
    const up = base.curves.get(`${id} rotation.z`);
    const ahead = base.curves.get(`${id} rotation.x`);
    const go = (f) => eased((f - start) / 10) - eased((f - start - 10) / 10);
    // A loop: the way out passes before the way back, half of their distance to either side.
    const beside = (f) => {
      const t = Math.max(0, Math.min(1, (f - start) / 20));
      return Math.sin(2 * Math.PI * t) * (t > 0 && t < 1 ? 1 : 0);
    };
    const wide = (percent / 200) * raise;
    const end = Math.min(facts(base).last, start + 21);
    return {
      curves: [
        rekeyed(up, start, end, (f) => curveAt(up, f) + out * raise * go(f)),
        rekeyed(ahead, start, end, (f) => curveAt(ahead, f) + wide * beside(f)),
      ],
      truth: truthAt(base, id, rotations, start, start + 20, start - 1, start + 21),
    };
  },
};

export const straightPath = {
  check: "straight-path",
  strengths: [1.7, 1.2, 0.5, 0],
  unit: "% of its length that the way bows",
  bases: ["keyed", "dense"],
  only: gesturing,
  place(base, random) {
    const way = [random.between(-0.1, 0.25), random.between(0.1, 0.3), random.between(0.15, 0.35)];
    // Shorter lines than 0.15 body heights are not judged.
    return Math.hypot(...way) < 0.18 * facts(base).stature ? null : { ...quiet(base, random, 18), way };
  },
  inject(base, { side, start, way }, percent) {
    const { study, rig, first, last } = facts(base);
    const [upper, lower, hand, shoulder] = ["upper_arm", "forearm", "hand", "shoulder"].map((part) =>
      rig.indexOf.get(`${part}_${side}`),
    );
    const at = (node, f) =>
      Array.from(worldOf(study, node).position.subarray(3 * (f - first), 3 * (f - first) + 3));
    const turned = (node, f) =>
      Array.from(worldOf(study, node).orientation.subarray(4 * (f - first), 4 * (f - first) + 4));
    const line = [side === "l" ? way[0] : -way[0], way[1], way[2]];
    const length = Math.hypot(...line);
    // Square to the line, and level.
    const aside = scale([line[2], 0, -line[0]], 1 / Math.hypot(line[0], line[2]));
    const go = (f) => eased((f - start) / 14);
    const series = { x: [], y: [], z: [], bend: [] };
    let near = ["x", "y", "z"].map((axis) => angleIn(base, `upper_arm_${side}`, axis, start));
    for (let f = start; f <= last; f++) {
      const from = at(upper, f);
      const bow = scale(aside, (percent / 100) * length * Math.sin(Math.PI * go(f)));
      const target = add(add(at(hand, f), scale(line, go(f))), bow);
      const pole = subtract(at(lower, f), from);
      const arm = reach({ start: from, target, pole, upper: 0.29, lower: 0.26, bend: -1 });
      if (arm.stretch > 0.9995) return null;
      near = toAngles("zxy", multiply(inverse(turned(shoulder, f)), arm.upper), near);
      for (const n of [0, 1, 2]) series["xyz"[n]].push(near[n]);
      series.bend.push(arm.angle);
    }
    const curves = [
      ["upper_arm", "x", series.x],
      ["upper_arm", "y", series.y],
      ["upper_arm", "z", series.z],
      ["forearm", "x", series.bend],
    ].map(([part, axis, values]) => {
      const name = `${part}_${side}`;
      const own = base.curves.get(`${name} rotation.${axis}`);
      const keys = [...values.keys()].map((i) => ({ frame: start + i, value: values[i], slope: 0 }));
      return own === undefined
        ? {
            node: name,
            channel: `rotation.${axis}`,
            interpolation: "linear",
            keys: [{ frame: first, value: angleIn(base, name, axis, first) }, ...keys],
          }
        : rekeyed(
            own,
            start,
            last,
            (f) => values[Math.max(0, Math.min(values.length - 1, Math.round(f) - start))],
          );
    });
    const nodes = new Set([`upper_arm_${side}`, `forearm_${side}`]);
    return {
      curves,
      truth: {
        from: start,
        to: start + 14,
        nodes: below(base, `upper_arm_${side}`),
        keys: { nodes, channels: rotations, from: start - 1, to: start + 15 },
      },
    };
  },
};

function angleIn(base, id, axis, frame) {
  const curve = base.curves.get(`${id} rotation.${axis}`);
  if (curve !== undefined) return curveAt(curve, frame);
  const spec = base.shot.header.nodes.find((node) => node.id === id);
  return spec.rotation?.["xyz".indexOf(axis)] ?? 0;
}
