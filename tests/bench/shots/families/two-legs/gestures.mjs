// @ts-check
/** Gestures on the spot: hands, head, shoulders, a shift of weight. Each one prepares, goes, settles, holds and returns. */
import { sides } from "../../bodies/two-legs.mjs";

/** @import { Actor } from "./actor.mjs" @import { Random } from "../../types.d.ts" */

/**
 * A stroke: channels go by amounts together, after a small move the other way, a little too far, and back from there.
 * @param {Actor} actor @param {number} from @param {number} to frames of the stroke itself
 * @param {Record<string, number>} amounts @param {{ prepare?: number, over?: number }} [how] shares of the amounts
 */
export function stroke(actor, from, to, amounts, { prepare = 0.07, over = 0.05 } = {}) {
  const { score } = actor;
  const span = to - from;
  for (const [channel, amount] of Object.entries(amounts)) {
    const early = 0.45 * span;
    score.by(channel, from - early, from + 0.25 * span, -prepare * amount);
    score.by(channel, from, to, amount * (1 + prepare + over));
    score.by(channel, to - 0.25 * span, to + 0.6 * span, -over * amount);
  }
}

/** Amounts for one side or mirrored. @param {"l" | "r"} side @param {Record<string, number>} list */
const on = (side, list) =>
  Object.fromEntries(Object.entries(list).map(([channel, amount]) => [`${channel}.${side}`, amount]));

/**
 * The shapes of gestures for one arm: where channels go from a hanging arm.
 * @type {Record<string, (random: Random) => Record<string, number>>}
 */
const arms = {
  "point ahead": (random) => ({
    "arm.flex": random.between(62, 78),
    "arm.out": random.between(2, 12),
    elbow: random.between(-6, 8),
    "clavicle.fore": 6,
    "clavicle.lift": 3,
    "wrist.bend": -4,
  }),
  "open the hand": (random) => ({
    "arm.flex": random.between(20, 32),
    "arm.out": random.between(12, 22),
    elbow: random.between(48, 66),
    pron: -random.between(55, 80),
    "wrist.bend": -10,
    curl: -8,
  }),
  "hand to the chest": (random) => ({
    "arm.flex": random.between(26, 36),
    "arm.turn": random.between(38, 50),
    elbow: random.between(84, 96),
    pron: random.between(8, 20),
    "clavicle.fore": 4,
  }),
  "raise the hand": (random) => ({
    "arm.flex": random.between(48, 66),
    "arm.out": random.between(10, 18),
    elbow: random.between(82, 98),
    "clavicle.lift": 6,
    pron: 20,
    curl: -10,
  }),
  "weigh it": (random) => ({
    "arm.flex": random.between(14, 24),
    "arm.out": random.between(4, 10),
    elbow: random.between(60, 75),
    pron: -random.between(50, 70),
  }),
};

/**
 * One arm's gesture and its return.
 * @param {Actor} actor @param {number} from @param {"l" | "r"} side @param {string} name
 * @returns {number} frame at which all rests
 */
export function armGesture(actor, from, side, name) {
  const { random, score } = actor;
  const span = actor.frames(random.between(0.5, 0.72));
  const hold = actor.frames(random.between(0.5, 1.1));
  const out = side === "l" ? 1 : -1;
  const shape = arms[name](random);
  const start = from + Math.round(0.45 * span);
  const up = start + span;
  const down = up + hold;
  const back = actor.frames(random.between(0.65, 0.9));
  stroke(actor, start, up, on(side, shape));
  // The trunk goes along: it opens a little for the arm, and the mass shifts to the other side before.
  const size = (shape["arm.flex"] ?? 0) / 60;
  stroke(actor, start - 1, up - 2, {
    "trunk.twist": -out * 5 * size,
    "trunk.side": -out * 2 * size,
    "trunk.bend": -1.5 * size,
    "look.roll": -out * 2.5,
  });
  const share = actor.share;
  actor.shift(start - 2, up + 2, share - out * 0.1);
  // Within the hold the hand still drifts on.
  score.by(`arm.flex.${side}`, up, down + 2, 0.05 * (shape["arm.flex"] ?? 10));
  score.by(`elbow.${side}`, up + 1, down + 3, -0.045 * (shape.elbow ?? 10) - 1);
  score.by(`wrist.bend.${side}`, up, down, 3);
  const other = side === "l" ? "r" : "l";
  stroke(
    actor,
    start + 2,
    up + 3,
    on(other, { elbow: 6 * size, "arm.flex": -3 * size, "arm.out": 2 * size }),
  );
  if (name === "raise the hand") wave(actor, up - 2, down, side);
  const home = [
    "arm.flex",
    "arm.out",
    "arm.turn",
    "elbow",
    "pron",
    "wrist.bend",
    "curl",
    "clavicle.lift",
    "clavicle.fore",
  ];
  for (const channel of home) {
    const key = `${channel}.${side}`;
    const rest = actor.home(key);
    score.to(key, down + 1, down + back, rest + (score.end(key) - rest) * 0.06);
    score.to(key, down + 0.85 * back, down + 1.5 * back, rest);
  }
  for (const channel of ["elbow", "arm.flex", "arm.out"]) {
    score.to(`${channel}.${other}`, down + 3, down + back + 4, actor.home(`${channel}.${other}`));
  }
  for (const channel of ["trunk.twist", "trunk.bend", "look.roll"]) {
    score.to(channel, down - 1, down + back - 2, actor.home(channel));
  }
  actor.shift(down, down + back + 3, share);
  const { arm } = actor.rig.sides[side];
  actor.tell(name, start - Math.round(0.4 * span), up + Math.round(0.3 * span), actor.arm(side), arm);
  actor.tell(`${name}, back`, down, down + back + 4, actor.arm(side), arm);
  return down + Math.round(1.3 * back);
}

/** Waves with a raised hand: the forearm swings, the hand follows. @param {Actor} actor @param {number} from
 * @param {number} to @param {"l" | "r"} side */
function wave(actor, from, to, side) {
  const { score } = actor;
  const period = actor.frames(0.52);
  const size = (/** @type {number} */ frame) => {
    const u = Math.max(0, Math.min(1, (frame - from) / (to - from)));
    return 16 * (u * (1 - u)) ** 2;
  };
  const beat = (/** @type {number} */ frame) => Math.sin((2 * Math.PI * (frame - from)) / period);
  score.add(`arm.turn.${side}`, (frame) => 9 * size(frame) * beat(frame));
  score.add(`elbow.${side}`, (frame) => 5 * size(frame) * beat(frame - 0.2 * period));
  score.add(`wrist.side.${side}`, (frame) => 11 * size(frame) * beat(frame - 0.12 * period));
}

/** Lifts both shoulders and opens the hands, one side a little later. @param {Actor} actor @param {number} from
 * @returns {number} */
export function shrug(actor, from) {
  const { random, score } = actor;
  const span = actor.frames(0.42);
  const hold = actor.frames(random.between(0.35, 0.6));
  const back = actor.frames(0.7);
  const start = from + 4;
  sides.forEach((side, n) => {
    const later = n * random.between(1, 2.5) * actor.lag;
    const size = random.between(0.85, 1.1);
    stroke(
      actor,
      start + later,
      start + later + span,
      on(side, {
        "clavicle.lift": 12 * size,
        "arm.out": 10 * size,
        "arm.flex": 10 * size,
        elbow: 46 * size,
        pron: -70 * size,
        curl: -8,
      }),
    );
    const up = start + later + span + hold;
    for (const channel of ["clavicle.lift", "arm.out", "arm.flex", "elbow", "pron", "curl"]) {
      const key = `${channel}.${side}`;
      score.to(key, up, up + back, actor.home(key));
    }
    const { arm } = actor.rig.sides[side];
    actor.tell("shrug", start + later - 3, start + later + 1.3 * span, actor.arm(side), arm);
    actor.tell("shrug, back", up, up + back + 4, actor.arm(side), arm);
  });
  stroke(actor, start, start + span, {
    "look.roll": random.pick([-7, 7]),
    "look.pitch": -3,
    "trunk.bend": -2,
  });
  const end = start + span + hold;
  for (const channel of ["look.roll", "look.pitch", "trunk.bend"]) {
    score.to(channel, end + 1, end + back, actor.home(channel));
  }
  return end + back + 6;
}

/** Nods. @param {Actor} actor @param {number} from @param {number} [count] */
export function nod(actor, from, count = 2) {
  const { score } = actor;
  const half = actor.frames(0.26);
  let at = from + 2;
  for (let n = 0; n < count; n++) {
    const size = 11 - 3.5 * n;
    score.by("look.pitch", at, at + half, size);
    score.by("look.pitch", at + 0.9 * half, at + 2.1 * half, -size);
    score.bump("trunk.bend", at - 1, at + half - 1, at + 2.2 * half, 1.2);
    at += Math.round(1.9 * half);
  }
  actor.tell("nod", from + 2, at + 3, actor.headJoints);
  return at + 4;
}

/**
 * Looks to a side: the head goes on an arc, dipping on the way; the trunk follows later and less, more for far looks.
 * @param {Actor} actor @param {number} from @param {number} yaw degrees from the heading @param {number} pitch
 * @returns {number} frame of arrival
 */
export function lookTo(actor, from, yaw, pitch) {
  const { score } = actor;
  const way = actor.heading + yaw - score.end("look.yaw");
  // Head turns peak near 100°/s in daily life and about twice that for a quick look (preprint of 2025; from memory).
  const span = actor.frames(0.22 + Math.abs(way) / 150);
  score.by("look.yaw", from, from + span, way * 1.03);
  score.by("look.yaw", from + 0.8 * span, from + 1.6 * span, -0.03 * way);
  score.to("look.pitch", from, from + span, pitch);
  score.bump("look.pitch", from, from + 0.5 * span, from + span, Math.min(7, Math.abs(way) / 9));
  score.bump("look.roll", from, from + 0.4 * span, from + 1.1 * span, way * 0.05);
  const trunk = Math.max(-24, Math.min(24, yaw * 0.33));
  score.to("trunk.twist", from + 2 * actor.lag, from + 1.35 * span + 2, trunk);
  score.to("pelvis.yaw", from + 3 * actor.lag, from + 1.5 * span + 3, actor.heading + trunk * 0.3);
  actor.tell("look", from, from + Math.round(1.2 * span), actor.headJoints);
  return from + span;
}

/** Looks here and there and back ahead. @param {Actor} actor @param {number} from @param {number} count @returns {number} */
export function lookRound(actor, from, count) {
  const { random } = actor;
  let at = from;
  let side = random.pick([-1, 1]);
  for (let n = 0; n < count; n++) {
    const arrived = lookTo(actor, at, side * random.between(28, 62), random.between(-12, 14));
    const hold = actor.frames(random.between(0.5, 1.1));
    actor.rest(arrived + 0.6 * (arrived - at), arrived + hold, actor.headJoints);
    at = arrived + hold;
    side = random.chance(0.75) ? -side : side * random.between(0.3, 0.6);
    if (Math.abs(side) < 0.9) side = Math.sign(side);
  }
  const arrived = lookTo(actor, at, 0, actor.home("look.pitch"));
  return arrived + actor.frames(0.3);
}

/** Shifts the weight to a foot, the free knee lets go. @param {Actor} actor @param {number} from @param {number} [share]
 * @returns {number} */
export function shiftWeight(actor, from, share) {
  const { random, score } = actor;
  const to = from + actor.frames(random.between(0.8, 1.2));
  const goal = share ?? (actor.share > 0.5 ? random.between(0.2, 0.34) : random.between(0.66, 0.8));
  actor.shift(from, to, goal);
  score.to(
    "pelvis.h",
    from,
    to,
    actor.standHeight + actor.middle[1] - random.between(0.001, 0.006) * actor.H,
  );
  actor.tell("shift of weight", from, to, [actor.rig.hips, ...actor.trunk]);
  return to;
}

/** Names of arms' gestures. */
export const armGestures = Object.keys(arms);
