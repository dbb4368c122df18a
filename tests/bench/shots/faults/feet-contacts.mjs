// @ts-check
/**
 * Feet, paws and hands that do not stand where they stand: they slide, float or sink.
 * @import { FaultKind, KeyedShot, Limb, Place, Poses, Vector } from "../types.d.ts"
 */
import { addTrack, copy, minimumJerk } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import {
  bodyOf,
  contactPoints,
  endOf,
  eventsOf,
  isBlocked,
  isPosedIn,
  keepEnds,
  limbAt,
  lowest,
  meets,
  swingBeside,
} from "./tools/limbs.mjs";
import { at24, median, over, within } from "./tools/windows.mjs";
import { moveEnds } from "./weight-loads.mjs";

/** @typedef {Place & { limb: number, start: number, end: number }} PlantPlace `start`, `end`: where the fault opens and has closed */

/**
 * Plants that last, each with the swings beside it, in which a foot that is displaced comes and goes.
 * @param {KeyedShot} clean @param {number} least frames at 24 per second
 * @returns {(PlantPlace & { kind: Limb["kind"] })[]}
 */
function plantsIn(clean, least) {
  const { performance } = clean;
  const places = [];
  for (const plant of eventsOf(performance, "plant")) {
    const body = bodyOf(performance, plant.figure);
    const limb = body.limbs[plant.limb];
    if (plant.to - plant.from < at24(performance, least)) continue;
    if (isBlocked(clean) && !isPosedIn(clean, limb.joints[0], plant.from, (plant.from + plant.to) / 2))
      continue;
    const before = swingBeside(performance, plant, "before");
    const after = swingBeside(performance, plant, "after");
    const room = at24(performance, 6);
    const first = plant.from <= performance.first + 1;
    const last = plant.to >= performance.last - 1;
    places.push({
      figure: plant.figure,
      joint: endOf(limb),
      also: limb.joints,
      from: plant.from,
      to: plant.to,
      limb: plant.limb,
      kind: limb.kind,
      freed: [plant.limb],
      // Half of the swing is enough to come and go; without one, a few frames.
      start: first
        ? performance.first - 1
        : Math.ceil(plant.from - (before === undefined ? room : (before.to - before.from) * 0.6)),
      end: last
        ? performance.last + 1
        : Math.floor(plant.to + (after === undefined ? room : (after.to - after.from) * 0.6)),
    });
  }
  return places;
}

/** First and last frame of the middle of a plant. @param {Place} place @returns {[number, number]} */
const middleOf = ({ from, to }) => [
  Math.round(from + (to - from) * 0.15),
  Math.round(to - (to - from) * 0.15),
];

/** @type {FaultKind} */
export const contactSlide = {
  name: "contact slide",
  checks: ["contact-slide"],
  unit: "statures that a planted end travels",
  sizes: [
    {
      value: 0.009,
      reason:
        "16 mm on a grown person: slides are seen below 21 mm in most conditions (Pražák, Hoyet and O'Sullivan 2011).",
    },
    { value: 0.022, reason: "4 cm, twice the travel at which most conditions are found out." },
    { value: 0.055, reason: "10 cm, two thirds of the foot's own length: the figure skates." },
  ],
  layer: "motion",
  places(clean, random) {
    if (isBlocked(clean)) return [];
    const places = random.shuffled(plantsIn(clean, 7)).map((place) => {
      const turn = random.between(0, 2 * Math.PI);
      const span = place.to - place.from;
      // The whole plant, or a part of it that lasts long enough to be seen.
      const part = random.chance(0.5) ? 1 : random.between(0.5, 0.8);
      const from = Math.round(place.from + random.next() * (1 - part) * span);
      return {
        ...place,
        from,
        to: Math.round(from + part * span),
        plantEnd: place.to,
        toward: [Math.sin(turn), 0, Math.cos(turn)],
      };
    });
    return fitting(clean.performance, places, contactSlide, random);
  },
  perform(performance, place, size) {
    const { figure, limb, from, to, plantEnd, end, toward } =
      /** @type {PlantPlace & { plantEnd: number, toward: Vector }} */ (place);
    const { stature } = bodyOf(performance, figure);
    const way = (/** @type {number} */ frame) =>
      size *
      stature *
      minimumJerk((frame - from) / (to - from)) *
      within(frame, from - 1, from, plantEnd, Math.max(end, plantEnd + 1));
    const last = Math.min(end, performance.last);
    moveEnds(performance, figure, [limb], from, last, (frame) => [
      toward[0] * way(frame),
      0,
      toward[2] * way(frame),
    ]);
  },
  measure(poses, place, twin) {
    const { body, limb } = limbAt(poses, place);
    // Against the twin, so that what a foot rolls or pivots is not taken for a slide.
    const off = (/** @type {number} */ frame) => {
      const [here, there] = [contactPoints(poses, limb, frame), contactPoints(twin, limb, frame)];
      return here.map((point, n) => [point[0] - there[n][0], point[2] - there[n][2]]);
    };
    const start = off(place.from);
    const slid = over(place.from, place.to, (frame) =>
      Math.min(...off(frame).map((point, n) => Math.hypot(point[0] - start[n][0], point[1] - start[n][1]))),
    );
    return Math.max(...slid) / body.stature;
  },
};

/** How high a planted end is over where it stands in the twin, the median over the plant's middle.
 * @param {Poses} poses @param {Place} place @param {Poses} twin */
function raised(poses, place, twin) {
  const { body, limb } = limbAt(poses, place);
  const [from, to] = middleOf(place);
  return (
    median(over(from, to, (frame) => lowest(poses, limb, frame) - lowest(twin, limb, frame))) / body.stature
  );
}

/** @type {FaultKind} */
export const offGround = {
  name: "off ground",
  checks: ["off-ground"],
  unit: "statures by which a planted end floats",
  sizes: [
    {
      value: 0.007,
      reason:
        "12 mm under a grown person's foot: eight lines of a full figure in a picture of 1080, and the shadow comes apart.",
    },
    { value: 0.016, reason: "28 mm, the thickness of a thick sole." },
    { value: 0.035, reason: "6 cm, a stair's tread: one sees beneath the foot." },
  ],
  layer: "motion",
  places: (clean, random) =>
    fitting(clean.performance, random.shuffled(plantsIn(clean, 7)), offGround, random),
  perform(performance, place, size) {
    const { figure, limb, from, to, start, end } = /** @type {PlantPlace} */ (place);
    const height = size * bodyOf(performance, figure).stature;
    const [first, last] = [Math.max(start, performance.first), Math.min(end, performance.last)];
    const up = (/** @type {number} */ frame) => height * within(frame, start, from, to, end);
    moveEnds(performance, figure, [limb], first, last, (frame) => [0, up(frame), 0]);
  },
  measure: (poses, place, twin) => Math.max(0, raised(poses, place, twin)),
};

/** @type {FaultKind} */
export const throughGround = {
  name: "through ground",
  checks: ["through-ground"],
  unit: "statures by which a planted end sinks in",
  sizes: [
    {
      value: 0.007,
      reason:
        "12 mm on a grown person: the sole's edge is gone, which is seen where the foot meets the floor.",
    },
    { value: 0.016, reason: "28 mm: the whole sole and the toes are under the floor." },
    {
      value: 0.035,
      reason: "6 cm: up to the ankle, which lies 0.039 of the stature high (Drillis and Contini 1966).",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const places = random.shuffled(plantsIn(clean, 7)).filter(({ kind, figure, start, end }) => {
      // The body comes down with the foot, which a body in the air does not.
      const flies = eventsOf(performance, "flight", figure).some((flight) => meets(flight, start, end));
      return kind === "leg" && !flies;
    });
    return fitting(performance, places, throughGround, random);
  },
  perform(performance, place, size) {
    const { figure, limb, from, to, start, end } = /** @type {PlantPlace} */ (place);
    const body = bodyOf(performance, figure);
    const before = copy(performance);
    const depth = size * body.stature;
    const edge = Math.ceil(at24(performance, 12));
    const [early, late] = [Math.min(start, from - edge), Math.max(end, to + edge)];
    // A body that stands too low takes this foot with it; the others are kept where they are. It comes and goes slower
    // than the foot, which is in place for its next step.
    const low = (/** @type {number} */ frame) => -depth * within(frame, early, from, to, late);
    const sunk = (/** @type {number} */ frame) => -depth * within(frame, start, from, to, end);
    addTrack(performance, body.root, "translation.y", low, early, late);
    keepEnds(performance, before, figure, early, late, [limb]);
    moveEnds(performance, figure, [limb], early, late, (frame) => [0, sunk(frame), 0], before);
  },
  measure: (poses, place, twin) => Math.max(0, -raised(poses, place, twin)),
};
