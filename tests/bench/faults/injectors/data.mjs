/** Faults of curves and data. */
import { copyOf, curveAt } from "../keyed.mjs";
import { curvesOf, facts, farReachOf, turningNodes } from "./places.mjs";
import { exactly, timeless, truthAt } from "./spacing.mjs";

const anyCurve = (base, random, fits = () => true) => {
  const list = [...base.curves.values()].filter((curve) => curve.interpolation !== "step" && fits(curve));
  return list.length === 0 ? null : random.pick(list);
};

export const rotationFlip = {
  check: "rotation-flip",
  strengths: [1, 1, 2, 3],
  unit: "whole turns too many (one is the smallest there is)",
  place(base, random) {
    const { rig } = facts(base);
    const ids = turningNodes(base).filter(
      (id) => rig.parent[rig.indexOf.get(id)] >= 0 && !/hips|body/.test(id),
    );
    const curve = random.pick(curvesOf(base, random.pick(ids), "rotation"));
    if (curve.keys.length < 4) return null;
    return { curve, index: random.whole(1, curve.keys.length - 2), sign: random.sign() };
  },
  inject(base, { curve, index, sign }, turns) {
    const changed = copyOf(curve);
    for (const key of changed.keys.slice(index)) key.value += sign * 360 * turns;
    const [a, b] = [curve.keys[index - 1].frame, curve.keys[index].frame];
    return { curves: [changed], truth: truthAt(base, curve.node, exactly(curve), a, b) };
  },
};

export const gimbalLock = {
  check: "gimbal-lock",
  strengths: [80, 120, 160, 240],
  unit: "° that the outer axes swing between two keys, the middle one at 65°",
  bases: ["keyed"],
  place(base, random) {
    const { first, last } = facts(base);
    const id = random.pick(turningNodes(base).filter((one) => /hand|forearm|head|neck|wing/.test(one)));
    const start = random.whole(first + 6, last - 24);
    return id === undefined ? null : { id, start, end: start + random.whole(10, 16), sign: random.sign() };
  },
  inject(base, { id, start, end, sign }, swing) {
    const { first, last } = facts(base);
    const spec = base.shot.header.nodes.find((node) => node.id === id);
    const [outer, middle, inner] = spec.rotationOrder ?? "xyz";
    const course = (axis, to) => ({
      node: id,
      channel: `rotation.${axis}`,
      interpolation: "linear",
      keys: [
        { frame: first, value: 0 },
        { frame: start, value: 0 },
        { frame: end, value: to },
        { frame: last, value: to },
      ],
    });
    // At +90° a cyclic order turns by the sum of its outer angles, any other by their difference.
    const against = "xyzx".includes(outer + middle) ? -1 : 1;
    const locked = {
      node: id,
      channel: `rotation.${middle}`,
      interpolation: "linear",
      keys: [
        { frame: first, value: 65 },
        { frame: last, value: 65 },
      ],
    };
    const half = (sign * swing) / 2;
    return {
      curves: [course(outer, half), locked, course(inner, against * half)],
      truth: timeless(truthAt(base, id, new RegExp(`^rotation\\.[${outer}${inner}]$`), first, last)),
    };
  },
};

export const overshoot = {
  check: "overshoot",
  strengths: [0.8, 1.4, 2, 4],
  unit: "% of the body's height past the keys",
  bases: ["keyed"],
  place(base, random) {
    const { first, last, rig, study, stature } = facts(base);
    const curve = anyCurve(
      base,
      random,
      (one) => one.channel.startsWith("rotation") && one.interpolation === "bezier",
    );
    if (curve === null) return null;
    const metres = (farReachOf(study, rig.indexOf.get(curve.node)) * Math.PI) / 180;
    if (!(metres > 0.02 * (Math.PI / 180))) return null;
    const holds = curve.keys.flatMap((key, index) => {
      const next = curve.keys[index + 1];
      const fits =
        next !== undefined && next.frame - key.frame >= 4 && key.frame > first && next.frame < last;
      return fits && Math.abs(next.value - key.value) * metres < 0.01 * stature ? [index] : [];
    });
    return holds.length === 0 ? null : { curve, index: random.pick(holds), metres, sign: random.sign() };
  },
  inject(base, { curve, index, metres, sign }, percent) {
    const { stature } = facts(base);
    const [a, b] = [curve.keys[index], curve.keys[index + 1]];
    const span = b.frame - a.frame;
    const past = (percent * 0.01 * stature) / metres;
    const wanted = (sign > 0 ? Math.max(a.value, b.value) : Math.min(a.value, b.value)) + sign * past;
    const peak = (slope) => {
      let best = sign > 0 ? -Infinity : Infinity;
      let at = 0;
      for (let t = 0; t <= 1; t += 1 / 128) {
        const m = slope * span;
        const d = b.value - a.value;
        const value = a.value + t * (m + t * (3 * d - 2 * m + m + t * (m - m - 2 * d)));
        if (sign * value > sign * best) [best, at] = [value, t];
      }
      return [best, at];
    };
    let [low, high] = [0, sign * (Math.abs(wanted - a.value) + Math.abs(b.value - a.value)) * 16];
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (sign * peak(middle)[0] < sign * wanted) low = middle;
      else high = middle;
    }
    const changed = copyOf(curve);
    const third = span / 3;
    const handles = (i) => {
      const before = curve.keys[i - 1];
      const after = curve.keys[i + 1];
      const key = curve.keys[i];
      const slope = key.slope ?? 0;
      const [inSpan, outSpan] = [
        ((before?.frame ?? key.frame) - key.frame) / 3,
        ((after?.frame ?? key.frame) - key.frame) / 3,
      ];
      return [inSpan, slope * inSpan, outSpan, slope * outSpan];
    };
    const out = handles(index);
    out.splice(2, 2, third, low * third);
    const back = handles(index + 1);
    back.splice(0, 2, -third, low * third);
    changed.keys[index].handles = out;
    changed.keys[index + 1].handles = back;
    const at = Math.round(a.frame + peak(low)[1] * span);
    return { curves: [changed], truth: truthAt(base, curve.node, exactly(curve), at, at, a.frame, b.frame) };
  },
};

export const keyOffFrame = {
  check: "key-off-frame",
  strengths: [0.02, 0.1, 0.25, 0.45],
  unit: "frames beside a whole one",
  place(base, random) {
    const { first, last } = facts(base);
    const curve = anyCurve(base, random, ({ keys }) => keys.length > 4);
    const index = random.whole(1, curve.keys.length - 2);
    const { frame } = curve.keys[index];
    return frame <= first || frame >= last ? null : { curve, index, sign: random.sign() };
  },
  inject(base, { curve, index, sign }, off) {
    const changed = copyOf(curve);
    changed.keys[index].frame += sign * off;
    const { frame } = changed.keys[index];
    const near = Math.round(frame);
    return { curves: [changed], truth: truthAt(base, curve.node, exactly(curve), near, near, frame, frame) };
  },
};

export const keyCrowding = {
  check: "key-crowding",
  strengths: [0.9, 0.7, 0.4, 0.1],
  unit: "frames between two keys",
  place(base, random) {
    const { first, last } = facts(base);
    const curve = anyCurve(base, random, ({ keys }) => keys.length > 8);
    if (curve === null) return null;
    const index = random.whole(2, curve.keys.length - 3);
    const { frame } = curve.keys[index];
    return frame <= first + 2 || frame >= last - 2 ? null : { curve, index };
  },
  inject(base, { curve, index }, gap) {
    const changed = copyOf(curve);
    const { frame } = curve.keys[index];
    const extra = { ...changed.keys[index], frame: frame + gap, value: curveAt(curve, frame + gap) };
    changed.keys.splice(index + 1, 0, extra);
    return {
      curves: [changed],
      truth: truthAt(base, curve.node, exactly(curve), frame, Math.round(frame + gap), frame, frame + gap),
    };
  },
};

export const idleCurve = {
  check: "idle-curve",
  strengths: [3, 4, 8, 20],
  unit: "keys that do nothing",
  place(base, random) {
    const { rig } = facts(base);
    const id = random.pick([...rig.ids]);
    const free = ["scale.x", "scale.y", "rotation.x", "rotation.z"].filter(
      (channel) => !base.curves.has(`${id} ${channel}`),
    );
    return free.length === 0 ? null : { id, channel: random.pick(free) };
  },
  inject(base, { id, channel }, count) {
    const { first, last } = facts(base);
    const spec = base.shot.header.nodes.find((node) => node.id === id);
    const value = channel.startsWith("scale") ? 1 : (spec.rotation?.["xyz".indexOf(channel.slice(-1))] ?? 0);
    const frames = new Set(
      Array.from({ length: count }, (_, i) => Math.round(first + ((last - first) * i) / (count - 1))),
    );
    const keys = [...frames].map((frame) => ({ frame, value }));
    const curve = { node: id, channel, interpolation: "linear", keys };
    return {
      curves: [curve],
      truth: timeless(truthAt(base, id, exactly(curve), first, last)),
    };
  },
};
