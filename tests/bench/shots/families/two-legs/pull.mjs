// @ts-check
/** Pushing a cart, pulling a rope: bodies that lean against what does not give at once. */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add, multiply, rotate, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { lasting } from "./sit.mjs";
import { smallSteps } from "./steps.mjs";
import { walkOn } from "./walk.mjs";

/** @import { Actor } from "./actor.mjs" @import { StagedProp } from "./shot.mjs" @import { Vector } from "../../types.d.ts" */

/**
 * Takes a cart's bar, leans into it, pushes it along, lets it stand.
 * @param {Actor} actor @param {number} from @param {import("./walk.mjs").Gait} gait @param {number} steps
 * @param {StagedProp[]} props the cart is added
 * @returns {number} frame at which it rests
 */
export function pushCart(actor, from, gait, steps, props) {
  const { score, random, rig, H } = actor;
  const half = /** @type {Vector} */ ([0.2 * H, 0.24 * H, 0.3 * H]);
  const prop = { id: "cart", mass: rig.body.mass * random.between(0.6, 1.4), half };
  const bar = 0.56 * H;
  const away = 0.33 * H;
  const start = add(actor.middle, [0, 0, 0]);
  const heading = actor.heading;
  const facing = turn(1, heading);
  const taken = from + actor.frames(0.8);
  const lean = taken + actor.frames(0.7);
  const bend = actor.home("trunk.bend");

  // Hands to the bar, then the body leans before anything rolls.
  score.to("trunk.bend", from, taken, bend + 8);
  score.to("trunk.bend", taken, lean, bend + 15);
  score.to("pelvis.pitch", taken, lean, actor.home("pelvis.pitch") + 6);
  score.to("pelvis.h", taken, lean, actor.standHeight + start[1] - 0.022 * H);
  score.to("look.pitch", from, taken, 10);
  const ahead = actor.way(0.035 * H);
  score.by("com.x", taken, lean + 4, ahead[0]);
  score.by("com.z", taken, lean + 4, ahead[2]);
  const x0 = score.end("com.x");
  const z0 = score.end("com.z");
  const walked = walkOn(actor, { from: lean - 4, steps, gait, arms: 0 });

  // The cart goes as the body does, its unevenness taken out, a little late.
  const late = Math.max(2, 3 * actor.lag);
  const reach = actor.frames(0.75);
  const dir = rotate(facing, [0, 0, 1]);
  /** @type {Map<number, number>} */
  const known = new Map();
  const along = (/** @type {number} */ frame) =>
    (score.at("com.x", frame) - x0) * dir[0] + (score.at("com.z", frame) - z0) * dir[2];
  const rolled = (/** @type {number} */ frame) => {
    let value = known.get(frame);
    if (value !== undefined) return value;
    let [sum, total] = [0, 0];
    for (let k = -12; k <= 12; k++) {
      const weight = Math.cos((k / 13) * (Math.PI / 2)) ** 2;
      sum += weight * along(frame - late + (k / 12) * reach);
      total += weight;
    }
    value = (sum / total) * minimumJerk((frame - lean - 2) / (1.4 * reach));
    known.set(frame, value);
    return value;
  };
  const cartAt = (/** @type {number} */ frame) =>
    add(start, rotate(facing, [0, half[1] + 0.03 * H, away + 0.09 * H + half[2] + rolled(frame)]));
  props.push({ prop, at: (frame) => ({ position: cartAt(frame), yaw: heading }) });
  const off = walked.to + actor.frames(0.25);
  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const lag = random.between(0, 2);
    actor.grips.push({
      side,
      weight: lasting(from + 2 + lag, taken + lag, off + lag, off + actor.frames(0.75) + lag),
      at: (frame) => ({
        position: add(start, rotate(facing, [out * 0.12 * H, bar, away - 0.035 * H + rolled(frame)])),
        // Palms down and forward on the bar.
        orientation: multiply(facing, multiply(turn(0, -72), turn(1, out * 70))),
      }),
      elbow: [0.8, -0.7, -0.4],
    });
    const own = (/** @type {string} */ channel) => `${channel}.${side}`;
    score.to(own("arm.flex"), from, taken, 32);
    score.to(own("elbow"), from, taken, 50);
    score.to(own("arm.flex"), off, off + actor.frames(0.8), actor.home(own("arm.flex")));
    score.to(own("elbow"), off, off + actor.frames(0.85), actor.home(own("elbow")));
    const { arm } = rig.sides[side];
    actor.tell("hand to the bar", Math.round(from + 2 + lag), Math.round(taken + lag), actor.arm(side), arm);
  }
  score.to("trunk.bend", walked.stop, off + actor.frames(0.8), bend);
  score.to("pelvis.pitch", walked.stop, off + actor.frames(0.6), actor.home("pelvis.pitch"));
  score.to("pelvis.h", walked.stop, walked.to, actor.standHeight + start[1]);
  score.to("look.pitch", walked.stop, off + actor.frames(0.6), actor.home("look.pitch"));
  actor.events.push({
    kind: "hold-prop",
    prop: prop.id,
    figure: actor.id,
    limbs: sides.map((side) => rig.sides[side].arm),
    from: taken + 4,
    to: off - 1,
  });
  return off + actor.frames(1);
}

/** Degrees by which a rope is slanted, so that it does not go through who pulls it. */
const slant = 32;

/**
 * Pulls at a rope, heave after heave: the body leans back as the rope comes, then the hands go forward along it.
 * @param {Actor} actor @param {number} from @param {number} heaves @param {StagedProp[]} props the rope is added
 * @returns {number}
 */
export function pullRope(actor, from, heaves, props) {
  const { score, random, rig, H } = actor;
  const heading = actor.heading;
  const facing = turn(1, heading);
  const front = random.pick(sides);
  const out = front === "l" ? 1 : -1;
  const back = front === "l" ? /** @type {const} */ ("r") : /** @type {const} */ ("l");
  // One foot goes forward, the other back: that is what a pull stands on.
  const stood = smallSteps(actor, from, [
    { side: front, ahead: 0.11 * H, left: out * 0.02 * H },
    { side: back, ahead: -0.1 * H, left: -out * 0.02 * H },
  ]);
  const height = 0.6 * H;
  const base = actor.middle;
  const length = 1.6 * H;
  const prop = { id: "rope", mass: 6, half: /** @type {Vector} */ ([0.012 * H, 0.012 * H, length / 2]) };
  const taken = stood + actor.frames(0.75);
  /** @type {{ from: number, to: number, by: number }[]} */
  const pulls = [];
  /** @type {{ from: number, to: number, by: number }[]} */
  const reaches = [];
  const bend = actor.home("trunk.bend");
  score.to("trunk.bend", stood, taken, bend + 12);
  score.to("pelvis.h", stood, taken, actor.standHeight + base[1] - 0.04 * H);
  const forward = actor.way(0.045 * H);
  let at = taken + 2;
  const [cx, cz] = [score.end("com.x"), score.end("com.z")];
  score.by("com.x", stood, taken, forward[0]);
  score.by("com.z", stood, taken, forward[2]);
  for (let n = 0; n < heaves; n++) {
    const lean = at + actor.frames(0.1);
    const pulled = lean + actor.frames(random.between(0.75, 0.95));
    const by = H * random.between(0.11, 0.15);
    pulls.push({ from: lean + 2, to: pulled + 2, by });
    const away = actor.way(-0.05 * H);
    // Trunk and legs start, the rope gives a little later.
    score.to("com.x", at, pulled, cx + away[0]);
    score.to("com.z", at, pulled, cz + away[2]);
    score.to("trunk.bend", at, pulled, bend - 7 * random.between(0.8, 1.2));
    score.to("pelvis.h", at, pulled - 2, actor.standHeight + base[1] - 0.06 * H * random.between(0.85, 1.15));
    score.bump("trunk.twist", at, pulled, pulled + actor.frames(0.6), 4 * out);
    actor.tell("heave", at, pulled, [rig.hips, ...actor.trunk]);
    const again = pulled + actor.frames(random.between(0.2, 0.35));
    const reach = again + actor.frames(random.between(0.6, 0.8));
    if (n < heaves - 1) {
      reaches.push({ from: again, to: reach, by });
      score.to("com.x", again, reach, cx + forward[0]);
      score.to("com.z", again, reach, cz + forward[2]);
      score.to("trunk.bend", again, reach, bend + 12);
      score.to("pelvis.h", again, reach, actor.standHeight + base[1] - 0.04 * H);
      actor.tell("reach for the rope", again, reach, [rig.hips, ...actor.trunk]);
    }
    const limbs = sides.map((side) => rig.sides[side].arm);
    actor.events.push({
      kind: "hold-prop",
      prop: prop.id,
      figure: actor.id,
      limbs,
      from: Math.round(at),
      to: Math.round(again),
    });
    at = n < heaves - 1 ? reach : again;
  }
  const sum = (/** @type {typeof pulls} */ list, /** @type {number} */ frame) =>
    list.reduce((total, one) => total + one.by * minimumJerk((frame - one.from) / (one.to - one.from)), 0);
  const rope = (/** @type {number} */ frame) => sum(pulls, frame);
  const hands = (/** @type {number} */ frame) => sum(pulls, frame) - sum(reaches, frame);
  // What has been pulled goes past the hip of the back foot: the rope is slanted about where the hands take it.
  const along = (/** @type {number} */ from) =>
    add([-out * 0.02 * H, height, 0.225 * H], rotate(turn(1, out * slant), [0, 0, from]));
  const off = at + 3;
  const ground = 0.012 * H - height;
  // Let go of, it comes down: nothing holds it in the way of the arms.
  const dropped = (/** @type {number} */ frame) => ground * minimumJerk((frame - off) / actor.frames(0.6));
  props.push({
    prop,
    at: (frame) => ({
      position: add(
        base,
        add(rotate(facing, along(length / 2 - 0.025 * H - rope(frame))), [0, dropped(frame), 0]),
      ),
      yaw: heading + out * slant,
    }),
  });
  const free = off + actor.frames(0.8);
  for (const side of sides) {
    const own = side === front ? 0.06 * H : -0.025 * H;
    const lag = side === front ? 0 : 4;
    actor.grips.push({
      side,
      weight: lasting(stood + 2 + lag, taken + lag, off + lag, free + lag),
      at: (frame) => ({
        position: add(base, add(rotate(facing, along(own - hands(frame))), [0, 0.01 * H, 0])),
        orientation: multiply(facing, multiply(turn(0, -80), turn(1, (side === "l" ? 1 : -1) * 30))),
      }),
      elbow: [0.8, -0.6, -0.5],
    });
    for (const [channel, value] of /** @type {const} */ ([
      ["arm.flex", 30],
      ["elbow", 60],
    ])) {
      score.to(`${channel}.${side}`, stood, taken, value);
      score.to(`${channel}.${side}`, off, free + 2, actor.home(`${channel}.${side}`));
    }
  }
  score.to("com.x", off, free, actor.over(actor.share)[0]);
  score.to("com.z", off, free, actor.over(actor.share)[2]);
  score.to("trunk.bend", off, free, bend);
  score.to("pelvis.h", off, free, actor.standHeight + base[1] - 0.035 * H);
  return free + 4;
}
