/** Faults of the timing of whole parts and figures. */
import { shotWith, studyOf } from "../bases/index.mjs";
import { curveAt, rekeyed } from "../keyed.mjs";
import {
  below,
  changes,
  curvesOf,
  facts,
  farReachOf,
  nearImpact,
  ownTurn,
  reachOf,
  stepOf,
  turningNodes,
  worldOf,
} from "./places.mjs";
import { relegged } from "./relegged.mjs";
import { exactly, truthAt, unitOf } from "./spacing.mjs";

const degrees = 180 / Math.PI;

/** The whole body stands elsewhere on the first frame, or on the last. */
export const lonePose = {
  check: "lone-pose",
  strengths: [0.12, 0.2, 0.35, 0.6],
  unit: "body heights by which a pose at one end of the shot is off its place",
  place(base, random) {
    const { rig, stature, first, last, figures } = facts(base);
    const root = rig.ids[figures[0]?.root ?? 0];
    const curve = random.pick(curvesOf(base, root, "translation").concat([null]).slice(0, -1));
    if (curve === undefined || last - first < 20) return null;
    const isFirst = random.next() < 0.5;
    // The half second beside it has to be calm for most of the body.
    const nodes = [...below(base, root)].map((id) => rig.indexOf.get(id));
    const frames = Array.from({ length: 12 }, (_, k) => (isFirst ? first + 2 + k : last - 1 - k));
    const isCalm = (node) =>
      frames.every((frame) => 7 * stepOf(base, node, frame) < this.strengths[0] * stature);
    if (nodes.filter(isCalm).length < 0.7 * nodes.length) return null;
    return { curve, isFirst, sign: random.sign() };
  },
  inject(base, { curve, isFirst, sign }, statures) {
    const { first, last, stature } = facts(base);
    const off = (sign * statures * stature) / unitOf(base);
    const [from, to] = isFirst ? [first, first + 1] : [last - 1, last];
    const frame = isFirst ? first : last;
    const changed = rekeyed(curve, from, to, (f) => curveAt(curve, f) + (f === frame ? off : 0));
    return { curves: [changed], truth: truthAt(base, curve.node, exactly(curve), frame, frame) };
  },
};

/** Limits of the check by part, in degrees per second. */
const limits = { head: 1000, neck: 1000, spine: 1200, chest: 1200 };

export const overSpeed = {
  check: "over-speed",
  strengths: [1.1, 1.4, 2, 3],
  unit: "times the limit of the joint",
  // Only human figures are judged.
  only: ({ shot }) => shot.header.propulsors === undefined,
  place(base, random) {
    const { first, last, figures, rig } = facts(base);
    const part = random.pick(["head", "neck", "spine", "chest"]);
    const node = figures[0]?.parts.get(part)?.[0];
    if (node === undefined) return null;
    const curve = random.pick(curvesOf(base, rig.ids[node], "rotation").concat([null]).slice(0, -1));
    if (curve === undefined) return null;
    return { curve, limit: limits[part], frame: random.whole(first + 6, last - 24), sign: random.sign() };
  },
  inject(base, { curve, limit, frame, sign }, times) {
    const { rate } = facts(base);
    const turn = (sign * times * limit) / rate;
    const back = (f) => {
      const t = Math.max(0, Math.min(1, (f - frame) / 20));
      return 1 - t * t * t * (10 - 15 * t + 6 * t * t);
    };
    const changed = rekeyed(curve, frame, frame + 20, (f) => curveAt(curve, f) + turn * back(f));
    return {
      curves: [changed],
      truth: truthAt(base, curve.node, exactly(curve), frame, frame, frame - 1, frame + 1),
    };
  },
};

export const jitter = {
  check: "jitter",
  strengths: [1.4, 2.5, 5, 10],
  unit: "times the least that the page takes for seen, 0.15 % of the body's height or a tenth of the spacing (root mean square off the middle between the neighbouring frames)",
  place(base, random) {
    const { first, last, rig, study, stature } = facts(base);
    const id = random.pick(turningNodes(base));
    const curve = random.pick(curvesOf(base, id, "rotation").filter(changes));
    const reach = farReachOf(study, rig.indexOf.get(id));
    if (last - first < 40 || !(reach > 0.06 * stature)) return null;
    const frame = random.whole(first + 2, last - 32);
    const { lever, spacing } = farEndOf(base, curve, frame, frame + 27);
    // An axis on which all that hangs on the joint lies moves nothing.
    if (lever < (0.3 * reach) / degrees) return null;
    // Noise is pushed to and fro by turns of uneven size.
    const noise = Array.from({ length: 28 }, (_, i) => (i % 2 === 0 ? 1 : -1) * random.between(0.6, 1.4));
    return { curve, frame, noise, least: Math.max(0.0015 * stature, 0.1 * spacing) / lever };
  },
  inject(base, { curve, frame, noise, least }, times) {
    const off = noise.map((value, i) => value - ((noise[i - 1] ?? 0) + (noise[i + 1] ?? 0)) / 2);
    const rms = Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / off.length);
    const gain = (times * least) / rms;
    const to = frame + noise.length - 1;
    const changed = rekeyed(
      curve,
      frame,
      to,
      (f) => curveAt(curve, f) + gain * (noise[Math.round(f) - frame] ?? 0),
    );
    return {
      curves: [changed],
      truth: truthAt(base, curve.node, exactly(curve), frame, to, frame - 1, to + 1),
    };
  },
};

/**
 * What hangs on a joint and is moved farthest by one of its curves.
 * @returns {{ lever: number, spacing: number }} metres per degree of the curve, and the root mean square of the metres
 *   per frame that it travels anyway
 */
function farEndOf(base, curve, from, to) {
  const { study, rig, first } = facts(base);
  const keys = curve.keys.map((key) => ({ ...key, value: key.value + 1 }));
  const turned = studyOf(shotWith(base.shot, [{ ...curve, keys }]));
  let best = { lever: 0, spacing: 0 };
  for (const id of below(base, curve.node)) {
    const node = rig.indexOf.get(id);
    const [a, b] = [worldOf(study, node).position, worldOf(turned, node).position];
    let [lever, squares] = [0, 0];
    for (let f = from; f <= to; f++) {
      const k = 3 * (f - first);
      lever += Math.hypot(a[k] - b[k], a[k + 1] - b[k + 1], a[k + 2] - b[k + 2]) / (to - from + 1);
      squares += stepOf(base, node, f) ** 2 / (to - from + 1);
    }
    if (lever > best.lever) best = { lever, spacing: Math.sqrt(squares) };
  }
  return best;
}

export const frozenHold = {
  check: "frozen-hold",
  strengths: [5, 6, 9, 14],
  unit: "frames in which nothing moves",
  only: ({ name }) => !/pair/.test(name),
  place(base, random) {
    const { first, last, figures, stature } = facts(base);
    const frame = random.whole(first + 10, last - 16);
    const { nodes } = figures[0];
    const moves = nodes.some((node) => stepOf(base, node, frame) > 0.006 * stature);
    return moves && !nearImpact(base, base.shot.header.nodes[0].id, frame, 8) ? { frame } : null;
  },
  inject(base, { frame }, length) {
    const { last, rig } = facts(base);
    const to = frame + length;
    const curves = [...base.curves.values()].map((curve) => {
      const moved = {
        ...curve,
        keys: curve.keys.map((key) => (key.frame > frame ? { ...key, frame: key.frame + length } : key)),
      };
      if (curve.interpolation === "step" || !changes(curve)) return moved;
      const after = (f) => curveAt(curve, f <= frame ? f : f <= to ? frame : f - length);
      return rekeyed(moved, frame - 1, Math.min(last + length, to + 14), after);
    });
    const [from, end] = base.shot.range;
    const { contacts = [] } = base.shot.header;
    const later = (f) => (f > frame ? f + length : f);
    const header = {
      ...base.shot.header,
      contacts: contacts.map((one) => ({ ...one, frames: one.frames?.map(later) })),
    };
    const nodes = new Set(rig.ids);
    return {
      curves,
      shot: {
        ...base.shot,
        header: contacts.length > 0 ? header : base.shot.header,
        range: [from, end + length],
      },
      truth: { from: frame, to, nodes, keys: { nodes, from: frame - 1, to: to + 1 } },
    };
  },
};

export const sameFrame = {
  check: "same-frame",
  strengths: [1, 0.7, 0.3, 0],
  unit: "frames over which the parts' starts are spread",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^gestures/.test(name),
  place(base, random) {
    const [start, length] = [random.whole(12, 60), random.whole(12, 16)];
    const until = start + length + 6;
    // The page judges five parts and more that each move by 0.02 body heights at their end; a quarter more is clear.
    const least = 1.25 * 0.02 * facts(base).stature;
    if (parts.filter((id) => posedTravel(base, id, until) > least).length < 5) return null;
    const spread = Object.fromEntries(parts.map((id) => [id, random.between(-0.5, 0.5)]));
    return { start, length, until, spread };
  },
  inject(base, { start, length, until, spread }, over) {
    const end = until + 16;
    const eased = (t) => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 - 15 * t + 6 * t * t));
    // From the first pose to a wider one than the motion has by then, a rest there, and back to the motion.
    const pose = (curve) =>
      rekeyed(curve, 1, end, (f) => {
        const [a, b] = [curveAt(curve, 1), curveAt(curve, until)];
        const posed =
          a + wider * (b - a) * eased((f - start - 2 * over * (spread[curve.node] ?? 0)) / length);
        const back = eased((f - until) / 16);
        return posed + (curveAt(curve, f) - posed) * back;
      });
    const above = [...base.curves.values()].filter(
      ({ node, channel }) => parts.includes(node) && (node !== "hips" || channel.startsWith("rotation")),
    );
    const changed = above.filter(changes).map(pose);
    const hips = ["x", "y", "z"].map((axis) => {
      const curve = base.curves.get(`hips translation.${axis}`);
      return rekeyed(
        curve,
        1,
        end,
        (f) => curveAt(curve, 1) + (curveAt(curve, f) - curveAt(curve, 1)) * eased((f - start) / length),
      );
    });
    return {
      curves: relegged(base, [...changed, ...hips], { from: 1, to: end }),
      truth: {
        // The first frame that differs from the one before.
        from: start + 1,
        to: start + 1,
        nodes: below(base, "hips"),
        keys: { nodes: below(base, "hips"), from: 1, to: end },
      },
    };
  },
};

/** How much wider the pose is into which the parts go together than the one that the motion has by then. */
const wider = 2;

/** How far a joint that goes into that pose moves the end of its bone, in metres. */
function posedTravel(base, id, until) {
  const { study, rig } = facts(base);
  const turn = ownTurn(curvesOf(base, id, "rotation"), 1, until) / degrees;
  return wider * turn * reachOf(study, rig.indexOf.get(id));
}

const parts = [
  "hips",
  "spine",
  "chest",
  "neck",
  "head",
  ...["l", "r"].flatMap((side) =>
    ["shoulder", "upper_arm", "forearm", "hand", "fingers"].map((part) => `${part}_${side}`),
  ),
];
