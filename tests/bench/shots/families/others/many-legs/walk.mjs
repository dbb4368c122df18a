// @ts-check
/**
 * Six legs walk in tripods, eight in alternating fours: neighbours on a side and partners across are half a stride apart,
 * with a small delay from the hind legs forward.
 * @import { Event, Random } from "../../../types.d.ts"
 */
import { manyLegs } from "../../../bodies/many-legs.mjs";
import { laneOf, play } from "../tools/engine.mjs";
import { footfalls, stepEvents, wayOf } from "../tools/gait.mjs";
import { beside, groundPath, softBend } from "../tools/ground-path.mjs";
import { breaths, wandering } from "../tools/lane.mjs";
import { footCourse, legOf } from "../tools/legs.mjs";

const style = { pole: [0, 1, 0], radial: true };

/** @param {"six" | "eight"} count */
export const walkOfManyLegs = (count) => (/** @type {Random} */ random, /** @type {number} */ frames) => {
  const body = manyLegs(
    count,
    random.fork("body"),
    random.chance(0.5) ? "" : count === "six" ? "beetle_" : "spider_",
  );
  const prefix = body.root.slice(0, -"thorax".length);
  const named = (/** @type {string} */ id) => `${prefix}${id}`;
  const id = count === "six" ? "beetle" : "spider";
  const rate = random.pick([24, 24, 25, 30]);
  const first = random.pick([1, 1, 101]);
  const last = first + frames - 1;
  const size = body.stature;
  const lanes = new Map();
  const lane = (/** @type {string} */ joint, /** @type {string} */ axis) => laneOf(lanes, named(joint), axis);
  /** @type {Event[]} */
  const events = [];

  const from = first + Math.round(Math.min(rate * random.between(0.5, 1), frames * 0.15));
  const to = last - Math.round(Math.min(rate * random.between(0.9, 1.6), frames * 0.22));
  // Strides slow down with the root of the size, as pendulums do; from memory, walking arthropods stand for 55 to 70 %.
  const stride = rate * random.between(0.62, 0.8) * Math.sqrt(size / 0.4);
  const duty = random.between(0.57, 0.66);
  const length = random.between(0.3, 0.4) * size;
  const way = wayOf(from, to, stride * 1.1, stride * 1.2, length / stride);
  const path = groundPath({
    start: [random.between(-0.3, 0.3), random.between(-0.3, 0.3)],
    yaw: random.between(-90, 90),
    bend: softBend(
      random.between(-40, 40) * Math.min(1, way.length / (2 * size)),
      Math.max(size, way.length),
    ),
    length: Math.max(size, way.length) * 1.2,
  });

  const legs = body.limbs.flatMap((limb, n) =>
    limb.kind === "leg" ? [{ limb, n, pair: n >> 1, right: n % 2 }] : [],
  );
  const pairs = legs.length / 2;
  const delay = random.between(0.02, count === "six" ? 0.05 : 0.08);
  const at = (/** @type {string} */ joint) => {
    const one = body.joints.find((found) => found.id === joint);
    if (one === undefined) throw new Error(`The body has no joint "${joint}".`);
    return one;
  };
  const homes = legs.map(({ limb }) => {
    const leg = legOf(body, limb);
    const top = at(limb.joints[0]);
    const girdle = top.parent === body.root || top.parent === null ? [0, 0, 0] : at(top.parent).at;
    const wide = random.between(-0.012, 0.012) * size;
    const place = leg.whole.map((value, k) => value + top.at[k] + girdle[k]);
    return { leg, left: place[0] * (1 + wide), ahead: place[2] + wide };
  });
  const falls = footfalls({
    legs: legs.map(({ n, pair, right }, k) => ({
      limb: n,
      phase: (((pair + right) % 2) * 0.5 + delay * (pairs - 1 - pair)) % 1,
      neutral: (along) => ({ at: beside(path(along), homes[k].left, homes[k].ahead), yaw: path(along).yaw }),
    })),
    along: way.along,
    stride,
    duty,
    from,
    to,
    first,
    last,
    least: 0.02 * size,
    foot: { lift: random.between(0.07, 0.1) * size },
  });
  events.push(...stepEvents(id, falls, false, last));
  events.push({
    kind: "gait",
    figure: id,
    name: count === "six" ? "tripod walk" : "walk in fours",
    from,
    to,
  });

  // The trunk: small bob and roll by the stride, the fore part and the abdomen behind it; still wandering at rest.
  const own = random.fork("living");
  const air = (1 - duty) * stride;
  const wave = (/** @type {number} */ times, /** @type {number} */ late) => (/** @type {number} */ frame) =>
    Math.cos(2 * Math.PI * times * ((frame - from - air) / stride - late)) * way.share(frame);
  lane("thorax", "ty")
    .add(wandering(own, rate, 0.004 * size))
    .add((f) => 0.011 * size * wave(2, duty / 2)(f));
  lane("thorax", "tx")
    .add(wandering(own, rate, 0.006 * size))
    .add((f) => 0.012 * size * wave(1, 0.1)(f));
  lane("thorax", "tz").add(wandering(own, rate, 0.006 * size));
  const [roll, yaw] = [own.between(0.8, 1.6), own.between(1, 2)];
  lane("thorax", "z")
    .add(wandering(own, rate, 0.4))
    .add((f) => roll * wave(1, 0.2)(f));
  lane("thorax", "x")
    .add(() => -2)
    .add(wandering(own, rate, 0.4))
    .add((f) => 0.5 * wave(2, 0.35)(f));
  lane("thorax", "y").add((f) => yaw * wave(1, 0.15)(f));
  if (count === "six") {
    lane("fore", "y")
      .add((f) => -0.6 * yaw * wave(1, 0.2)(f))
      .add((f) => path(way.along(f) + 0.16 * size).yaw - path(way.along(f)).yaw);
    lane("fore", "x").add(wandering(own, rate, 0.5));
  }
  const breath = breaths(own, rate, 26, first, last);
  lane("abdomen_a", "x")
    .add(() => 4)
    .add((f) => 1.6 * breath(f))
    .add((f) => 1.1 * wave(2, 0.5)(f));
  lane("abdomen_a", "y")
    .add((f) => -0.8 * yaw * wave(1, 0.3)(f))
    .add((f) => path(way.along(f) - 0.3 * size).yaw - path(way.along(f)).yaw);
  lane("abdomen_b", "x")
    .add(() => 3)
    .add((f) => 1.2 * breath(f - 2))
    .add((f) => 0.9 * wave(2, 0.6)(f));
  lane("head", "x")
    .add(wandering(own, rate, 1.2))
    .add((f) => -0.6 * wave(2, 0.4)(f));
  lane("head", "y")
    .add(wandering(own, rate, 1.5))
    .add((f) => path(way.along(f) + 0.8 * size).yaw - path(way.along(f) + 0.1 * size).yaw);
  // Before the first step the body leans back a little, at the end it comes to rest forward.
  lane("thorax", "tz")
    .bump(from - 8, from, from + stride * 0.7, -0.012 * size)
    .bump(to - stride * 0.4, to + 1, to + stride * 0.7, 0.012 * size);
  feel({ lane, own, rate, first, last });
  lookAbout({ lane, named, events, id, rate, last, random }, Math.round(to + 2));

  const score = {
    body,
    id,
    rate,
    first,
    frames,
    lanes,
    root: (/** @type {number} */ frame) => {
      const now = path(way.along(frame));
      return { position: [now.x, body.joints[0].at[1], now.z], yaw: now.yaw };
    },
    legs: homes.map(({ leg }, k) => ({
      leg,
      style,
      foot: footCourse(falls.get(legs[k].n) ?? []),
      heading: (/** @type {number} */ frame) => path(way.along(frame)).yaw,
    })),
    loose: ["l", "r"].map((s) => ({
      joints: ["a", "b", "c"].map((part) => named(`feeler_${s}_${part}`)),
      frequency: 4.5 * random.between(0.93, 1.07),
      damping: 0.5,
      limit: 0.4,
    })),
    events,
  };
  return play(score).performance;
};

/** Feelers stroke the air, each in its own time. @param {any} about */
function feel({ lane, own, rate, first, last }) {
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    for (const part of ["a", "b"]) lane(`feeler_${s}_${part}`, "x").add(wandering(own, rate, 5));
    lane(`feeler_${s}_a`, "y").add(wandering(own, rate, 6));
    for (let at = first + own.integer(4, 20); at < last - 12; ) {
      const span = Math.round(rate * own.between(0.26, 0.4));
      const [by, turn] = [own.between(9, 18), own.between(4, 11) * sign];
      lane(`feeler_${s}_a`, "x").bump(at, at + span, at + Math.round(2.3 * span), by);
      lane(`feeler_${s}_b`, "x").bump(at + 1, at + span + 2, at + Math.round(2.3 * span) + 3, 0.5 * by);
      lane(`feeler_${s}_a`, "y").bump(at, at + span, at + Math.round(2.3 * span), turn);
      at += Math.round(2.3 * span) + own.integer(4, 22);
    }
  }
}

/** Head and fore part turn, dip in between and come back. @param {any} about @param {number} from */
function lookAbout({ lane, named, events, id, rate, last, random }, from) {
  const span = Math.round(rate * random.between(0.4, 0.6));
  const yaw = random.between(14, 26) * random.pick([-1, 1]);
  const rise = random.between(2, 5);
  const joints = ["head", "thorax"];
  let at = from;
  for (const by of [1, -1]) {
    if (at + span + 4 > last) return;
    lane("head", "y").move(at, at + span, yaw * by);
    lane("head", "x").bump(at, at + span * 0.5, at + span, 3);
    lane("thorax", "y").move(at + 2, at + span + 4, 0.28 * yaw * by);
    lane("thorax", "x").move(at + 2, at + span + 4, -rise * by);
    events.push({
      kind: "move",
      name: "look round",
      figure: id,
      joints: joints.map(named),
      from: at,
      peak: Math.round(at + span / 2),
      to: at + span + 4,
    });
    const rest = Math.round(rate * random.between(0.4, 0.8));
    const until = Math.min(last, at + span + 4 + rest);
    events.push({
      kind: "hold",
      figure: id,
      joints: joints.map(named),
      from: at + span + 4,
      to: until,
      moving: true,
    });
    at = until;
  }
}
