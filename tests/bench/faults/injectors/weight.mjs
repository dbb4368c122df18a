/** Faults of the body's weight: falls, flights, lifts, balance. */
import { massCentre } from "../../../../demo/motion/biped.mjs";
import { down, off } from "../bases/jump.mjs";
import { curveAt, rekeyed } from "../keyed.mjs";
import { below, changes, facts, flightsOf, worldOf } from "./places.mjs";
import { centimetres, eased, hipsOrLegs, relegged, withHips } from "./relegged.mjs";
import { heldOutside, posesWith, soleOver, stretchAround } from "./seen.mjs";

export const offBalance = {
  check: "off-balance",
  strengths: [6.5, 8, 11, 14],
  unit: "% of the body's height outside of the feet",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^gestures/.test(name),
  place(base, random) {
    const { last } = facts(base);
    const start = random.whole(8, last - 70);
    return { start, length: random.whole(20, 30), sign: random.sign() };
  },
  inject(base, { start, length, sign }, percent) {
    // Feet stand 10 cm to either side.
    const far = 10 + centimetres(base, percent);
    const share = (f) => eased((f - start) / 16) - eased((f - start - 16 - length) / 16);
    const curves = withHips(base, start, start + 32 + length, (f) => [
      sign * far * share(f),
      -0.16 * far * share(f),
      0,
    ]);
    // The fault's frames: those in which the body is farther outside its feet than the check's page lets it be. Its
    // own sway may bring it back for some frames: then the part in which it is farthest out.
    const poses = posesWith(base, curves);
    const outside = (f) => heldOutside(poses, f, facts(base).rate, sign);
    const held = Array.from({ length: length + 1 }, (_, i) => start + 16 + i);
    const middle = held.reduce((out, f) => (outside(f) > outside(out) ? f : out));
    return {
      curves,
      truth: {
        ...stretchAround(middle, [start, start + 32 + length], (f) => outside(f) > centimetres(base, 5)),
        nodes: below(base, "hips"),
        keys: { nodes: hipsOrLegs, from: start - 1, to: start + length + 33 },
      },
    };
  },
};

export const earlyStop = {
  check: "early-stop",
  strengths: [0.5, 0.9, 1.4, 2],
  unit: "m/s of falling speed lost before the feet touch",
  bases: ["keyed", "dense"],
  only: ({ name }) => name === "jump",
  place(base, random) {
    const [flight] = flightsOf(facts(base).study, 0);
    const lands = facts(base).first + Math.round(flight.to);
    return { lands, frames: random.whole(4, 6), rest: random.between(10, 16) };
  },
  inject(base, { lands, frames, rest }, lost) {
    const { rate, last } = facts(base);
    const begin = lands - frames;
    // The body brakes evenly from `begin` until it lands, and comes back to its course in the crouch.
    const high = (f) => {
      const t = Math.min(f - begin, frames) / rate;
      const up = t <= 0 ? 0 : 0.5 * ((lost * 100) / (frames / rate)) * t * t;
      const after = f > lands ? (lost * 100 * (f - lands)) / rate : 0;
      return (up + after) * (1 - eased((f - lands) / rest));
    };
    const curves = withHips(base, begin, Math.min(last, Math.ceil(lands + rest)), (f) => [0, high(f), 0]);
    // The fault's frames: from where the body brakes, or from where it falls as fast as the check's page asks for if that
    // comes later, to the first on which a foot is within a centimetre of the ground. Under a body that is held up the
    // legs reach it later than they did.
    const poses = posesWith(base, curves);
    const height = (f) => massCentre(poses(f))[1];
    const falls = (f) => ((height(f - 1) - height(f + 1)) * rate) / 2 >= 30;
    const standing = posesWith(base, [])(base.shot.range[0]);
    const soles = ["l", "r"].map((side) => soleOver(standing, side));
    const isDown = (f) => soles.some((sole) => sole(poses(f)) <= centimetres(base, 0.6));
    const firstFrom = (frame, holds) => (holds(frame) ? frame : firstFrom(frame + 1, holds));
    const from = firstFrom(begin, falls);
    return {
      curves,
      truth: {
        from,
        to: firstFrom(from, isDown),
        nodes: below(base, "hips"),
        keys: { nodes: new Set(["hips"]), channels: /^translation\.y/, from: begin - 1, to: lands + 1 },
      },
    };
  },
};

export const hangTime = {
  check: "hang-time",
  strengths: [2, 3, 5, 8],
  unit: "frames too many in the air",
  only: (base) => /^jump|^quay/.test(base.name),
  place(base, random) {
    const { study, first } = facts(base);
    const [flight] = flightsOf(study, 0);
    return {
      from: first + Math.round(flight.from) - random.whole(0, 1),
      to: first + Math.round(flight.to) + random.whole(0, 1),
    };
  },
  inject(base, { from, to }, more) {
    const [first, last] = base.shot.range;
    const air = to - from;
    const at = (f) => (f <= from ? f : f >= to + more ? f - more : from + ((f - from) * air) / (air + more));
    const curves = [...base.curves.values()].map((curve) => {
      const moved = {
        ...curve,
        keys: curve.keys.map((key) => (key.frame >= to ? { ...key, frame: key.frame + more } : key)),
      };
      if (curve.interpolation === "step" || !changes(curve)) return moved;
      return rekeyed(moved, from, to + more, (f) => curveAt(curve, at(f)));
    });
    const { contacts, ...header } = base.shot.header;
    const later = (f) => (f >= to ? f + more : f);
    const moved =
      contacts === undefined
        ? header
        : { ...header, contacts: contacts.map((one) => ({ ...one, frames: one.frames.map(later) })) };
    return {
      curves,
      shot: { ...base.shot, header: moved, range: [first, last + more] },
      truth: {
        from,
        to: to + more,
        nodes: below(base, "hips"),
        keys: { nodes: new Set(["hips"]), channels: /^translation/, from: from - 1, to: to + more + 1 },
      },
    };
  },
};

export const liftBeforePush = {
  check: "lift-before-push",
  strengths: [3, 4, 5, 6],
  unit: "frames for which the body goes on gaining speed (0.9 m/s) after its feet have left",
  bases: ["keyed", "dense"],
  only: ({ name }) => name === "jump",
  place: (_base, random) => ({ gain: random.between(0.9, 1.1), fades: random.between(0.9, 1) }),
  inject(base, { gain, fades }, frames) {
    const { rate } = facts(base);
    const speed = 90 * gain;
    const high = (f) => {
      const t = f - off;
      if (t <= 0 || f >= down) return 0;
      const up = t <= frames ? (speed * t * t) / (2 * frames * rate) : (speed * (t - frames / 2)) / rate;
      return up * (1 - eased((t - frames) / ((down - off - frames) * fades)));
    };
    const foot = (_side, f, step) => {
      const [x, y, z] = step.place;
      return { ...step, place: [x, y + high(f), z] };
    };
    return {
      curves: withHips(base, off - 1, down, (f) => [0, high(f), 0], { foot }),
      truth: {
        from: off,
        to: off + frames,
        nodes: below(base, "hips"),
        keys: { nodes: new Set(["hips"]), channels: /^translation\.y/, from: off - 1, to: down },
      },
    };
  },
};

export const bodyTiedToSteps = {
  check: "body-tied-to-steps",
  strengths: [0.45, 0.3, 0.1, 0],
  unit: "frames by which the body is behind the feet",
  bases: ["keyed", "dense"],
  only: ({ name }) => name === "walk",
  place: (_base, random) => ({ size: random.between(0.16, 0.26) }),
  inject(base, { size }, late) {
    const { study, rig, first, last } = facts(base);
    const feet = ["foot_l", "foot_r"].map((id) => worldOf(study, rig.indexOf.get(id)).position);
    const height = (f) => {
      const i = Math.min(last - first - 1, Math.floor(f - first));
      const at = (k) => feet.reduce((sum, path) => sum + 100 * path[3 * k + 1], 0);
      return at(i) + (at(i + 1) - at(i)) * (f - first - i);
    };
    const level = height(first);
    const hips = base.curves.get("hips translation.y");
    // Low enough for the legs to reach at the top.
    const rests = curveAt(hips, first) - 3;
    const curve = rekeyed(
      hips,
      first,
      last,
      (f) => rests + size * (height(Math.max(first, f - late)) - level),
    );
    return {
      curves: relegged(base, [curve], { from: first, to: last }),
      truth: {
        from: first,
        to: last,
        timeless: true,
        nodes: below(base, "hips"),
        keys: { nodes: new Set(["hips"]), channels: /^translation\.y/, from: first, to: last },
      },
    };
  },
};
