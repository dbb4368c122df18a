/** Faults of feet and legs on the ground. */
import { placeLegs, stateAt } from "../../../../demo/motion/biped.mjs";
import { turnedAboutBall } from "../bases/roll.mjs";
import { facts } from "./places.mjs";
import { centimetres, eased, hipsOrLegs, leg, plantsOf, relegged, withHips } from "./relegged.mjs";
import { leanOver, posesWith, soleOver, stretchAround } from "./seen.mjs";

const hasAct = (base) => base.act !== null;

export const contactSlide = {
  check: "contact-slide",
  strengths: [1.5, 2, 3.5, 6],
  unit: "% of the body's height that a planted foot travels",
  bases: ["keyed", "dense"],
  only: hasAct,
  place(base, random) {
    const plants = [...plantsOf(base, "l"), ...plantsOf(base, "r")].filter(({ flat }) => flat.length >= 15);
    if (plants.length === 0) return null;
    const plant = random.pick(plants);
    const room = plant.flat.length - 3;
    // Slow enough for a slide: a foot that goes as fast as one that is swung is taken for one.
    const length = Math.min(room, random.whole(12, 18));
    const start = plant.flat[0] + 1 + random.whole(0, room - length);
    const angle = random.between(0, 2 * Math.PI);
    return { plant, start, length, way: [Math.cos(angle), Math.sin(angle)] };
  },
  inject(base, { plant, start, length, way }, percent) {
    const { last } = facts(base);
    const far = centimetres(base, percent);
    const by = (f) =>
      far * (eased((f - start) / length) - (plant.to < last ? eased((f - plant.to - 1) / 9) : 0));
    const foot = (side, f, step) => {
      if (side !== plant.side || f > plant.to + 11) return step;
      const [x, y, z] = step.place;
      return { ...step, place: [x + by(f) * way[0], y, z + by(f) * way[1]] };
    };
    // The fault's frames: those between which the foot goes all but 3 % of its way at either end, 2 mm of 6 cm. What
    // an eased slide does before and after is not seen.
    const frames = Array.from({ length: length + 1 }, (_, i) => start + i);
    const gone = (f) => eased((f - start) / length);
    return {
      curves: relegged(base, [], { from: start - 1, to: Math.min(last, plant.to + 11), foot }),
      truth: {
        from: frames.findLast((f) => gone(f) <= 0.03),
        to: frames.find((f) => gone(f) >= 0.97),
        nodes: leg(plant.side),
        keys: { nodes: leg(plant.side), channels: /^rotation/, from: start - 1, to: start + length + 1 },
      },
    };
  },
};

/** @param {(base: object, plant: object, changed: object[]) => { from: number, to: number }} frames the fault's */
const heightFault = (check, sign, strengths, unit, frames) => ({
  check,
  strengths,
  unit,
  bases: ["keyed", "dense"],
  only: ({ name }) => name === "walk",
  place(base, random) {
    const { first, last } = facts(base);
    const plants = [...plantsOf(base, "l"), ...plantsOf(base, "r")].filter(
      ({ from, to }) => from > first + 10 && to < last,
    );
    return { plant: random.pick(plants), late: random.between(0, 2) };
  },
  inject(base, { plant, late }, percent) {
    const high = sign * centimetres(base, percent);
    const by = (f) => high * (eased((f - plant.from + 8 + late) / 8) - eased((f - plant.to) / (8 - late)));
    const foot = (side, f, step) => {
      const [x, y, z] = step.place;
      return side === plant.side ? { ...step, place: [x, y + by(f), z] } : step;
    };
    const curves = relegged(base, [], { from: plant.from - 12, to: plant.to + 10, foot });
    return {
      curves,
      truth: {
        ...frames(base, plant, curves),
        nodes: leg(plant.side),
        keys: { nodes: hipsOrLegs, from: plant.from - 11, to: plant.to + 9 },
      },
    };
  },
});
export const offGround = heightFault(
  "off-ground",
  1,
  [1.5, 1.8, 2.3, 2.8],
  "% of the body's height over the ground",
  // A foot that stands over the ground does so for as long as it stands.
  (_base, { from, to }) => ({ from, to }),
);
export const throughGround = heightFault(
  "through-ground",
  -1,
  [1.5, 2, 3, 5],
  "% of the body's height under the ground",
  // A foot is through the ground while its lowest point is deeper than the check's page lets it be: it is pressed down
  // before it lands, and comes up after it leaves.
  (base, plant, changed) => {
    const poses = posesWith(base, changed);
    const middle = Math.round((plant.from + plant.to) / 2);
    const sole = soleOver(posesWith(base, [])(middle), plant.side);
    return stretchAround(middle, base.shot.range, (f) => sole(poses(f)) < -centimetres(base, 1.25));
  },
);

export const flatFoot = {
  check: "flat-foot",
  strengths: [8, 6, 3, 0],
  unit: "° of roll that are left as the foot leaves",
  bases: ["keyed", "dense"],
  only: ({ name }) => name === "walk",
  place(base, random) {
    const { first, last } = facts(base);
    const plants = [...plantsOf(base, "l"), ...plantsOf(base, "r")].filter(
      ({ from, to }) => from > first && to < last,
    );
    return { plant: random.pick(plants), soon: random.between(0.5, 0.7) };
  },
  inject(base, { plant, soon }, left) {
    const push = base.act.feet[plant.side](plant.to).pitch;
    const foot = (side, f, step) => {
      if (side !== plant.side || f < plant.from + soon * 10 || step.pitch <= 0 || f > plant.to + 11)
        return step;
      const back = eased((f - plant.to) / 10);
      return { ...step, pitch: step.pitch * (left / push + (1 - left / push) * back) };
    };
    const curves = relegged(base, [], { from: plant.from, to: plant.to + 11, foot });
    // The fault's frames: those at the plant's end in which the leg leans over the flat foot by more than the check's
    // page lets it with the heel down.
    const poses = posesWith(base, curves);
    return {
      curves,
      truth: {
        ...stretchAround(plant.to, [plant.from, plant.to], (f) => leanOver(poses(f), plant.side) > 18),
        nodes: leg(plant.side),
        keys: { nodes: hipsOrLegs, from: plant.from, to: plant.to + 11 },
      },
    };
  },
};

export const oneAxisRoll = {
  check: "one-axis-roll",
  // The check's page takes a roll for a hinge's from 0.06 down.
  strengths: [0.05, 0.035, 0.015, 0],
  unit: "of the roll that is left about the other axes",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^side steps/.test(name),
  place(base, random) {
    const { last } = facts(base);
    const plants = [...plantsOf(base, "l"), ...plantsOf(base, "r")].filter(({ to }) => to < last);
    return { plant: random.pick(plants), less: random.between(0.9, 1) };
  },
  inject(base, { plant, less }, share) {
    const { side, to } = plant;
    const track = base.act.feet[side];
    const most = track(to);
    // The turn about the other axes, as a share of the one across the foot, is about that of the two angles.
    const kept = Math.min(1, (less * share * most.pitch) / most.outward);
    const rolls = (f) => f >= plant.from && f <= to + 14;
    const foot = (one, f, step) =>
      one === side && rolls(f)
        ? turnedAboutBall(step, (side === "l" ? 1 : -1) * (1 - kept) * step.outward)
        : step;
    const heelUp = plant.flat.at(-1);
    return {
      curves: relegged(base, [], { from: heelUp, to: to + 14, foot }),
      truth: {
        from: heelUp,
        to,
        nodes: leg(side),
        keys: { nodes: leg(side), channels: /^rotation/, from: heelUp, to: to + 14 },
      },
    };
  },
};

export const legSnap = {
  check: "leg-snap",
  strengths: [10, 13, 17, 21],
  unit: "° by which the knee jumps straight on one frame",
  bases: ["keyed", "dense"],
  only: ({ name }) => /^gestures/.test(name),
  place: (base, random) => ({ frame: random.whole(20, facts(base).last - 20), bent: random.between(22, 25) }),
  inject(base, { frame, bent }, jump) {
    const [from, to] = [frame - 10, frame + 10];
    const curves = [...base.curves.values()];
    const high = new Map();
    for (let f = from; f <= to; f++) {
      const share = eased((f - from) / 8) - eased((f - frame - 2) / 8);
      const { angles, places } = stateAt(base.act.nodes, curves, f);
      const [x, y, z] = places.hips;
      const bend = (by) => {
        const posed = { ...angles };
        placeLegs(base.act, f, [x, y + by, z], posed, angles);
        return posed.shin_l[0];
      };
      const wanted = bend(0) + share * ((f === frame ? bent - jump : bent) - bend(0));
      let [low, top] = [-12, 12];
      for (let i = 0; i < 24; i++) {
        const middle = (low + top) / 2;
        if (bend(middle) > wanted) low = middle;
        else top = middle;
      }
      high.set(f, low);
    }
    return {
      curves: withHips(base, from, to, (f) => [0, high.get(Math.round(f)) ?? 0, 0]),
      truth: {
        from: frame,
        to: frame,
        nodes: hipsOrLegs,
        keys: { nodes: hipsOrLegs, from: frame - 1, to: frame + 1 },
      },
    };
  },
};
