// @ts-check
/** Taking things up, carrying them and setting them down, with two hands or with one. */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add, dot, mix, multiply, rotate, scale, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { lasting } from "./sit.mjs";

/** @import { Actor } from "./actor.mjs" @import { Prop, Vector } from "../../types.d.ts" @import { Place } from "./pose.mjs" */

/**
 * A thing that is carried: where it lies, then where hands take it. Its course is known once the body that carries it is solved.
 * @typedef {object} Carried
 * @property {Prop} prop
 * @property {(frame: number, body: Place) => { position: number[], yaw: number }} pose
 * @property {(frame: number) => Actor} by who carries it
 */

/** Share of a lift by which a thing comes to the body later than it goes up: the knees are in its way before. */
const overKnees = 0.2;

/** Where a thing is that lies. @typedef {{ position: number[], yaw: number }} Spot */

/** A crate that fits a figure. @param {Actor} actor @param {string} id @returns {Prop} */
export function crateFor(actor, id = "crate") {
  const { H, random } = actor;
  const half = /** @type {Vector} */ (
    [0.12, 0.09, 0.085].map((size) => size * H * random.between(0.85, 1.15))
  );
  return { id, mass: actor.rig.body.mass * random.between(0.05, 0.18), half };
}

/** A place before a figure's feet for a thing on a support of some height. @param {Actor} actor @param {Prop} prop
 * @param {number} support metres over the ground @param {number} [left] @returns {Spot} */
export function spotBefore(actor, prop, support, left = 0) {
  // The lower it is, the farther the knees come forward, that of the foot in front the farthest.
  const low = 1 - Math.min(1, support / (0.45 * actor.H));
  const ahead = Math.max(
    ...sides.map((side) => dot(add(actor.plant(side).at, scale(actor.middle, -1)), actor.way(1))),
  );
  const away = (0.185 + 0.043 * low) * actor.H + Math.max(0, ahead) + prop.half[2];
  return {
    position: add(actor.middle, add(actor.way(away, left), [0, support + prop.half[1], 0])),
    yaw: actor.heading,
  };
}

/** Where a thing is carried: before the belly. @param {Actor} actor @param {Prop} prop */
const carriedAt =
  (actor, prop) =>
  (/** @type {Place} */ { hips, yaw }) => ({
    position: add(hips, rotate(turn(1, yaw), [0, 0.075 * actor.H, 0.115 * actor.H + prop.half[2]])),
    yaw,
  });

/**
 * Bends to a thing, takes it with both hands, and lifts it; the thing leaves its place some frames after the body has begun to
 * pull. While it is carried the body leans against it.
 * @param {Actor} actor @param {number} from @param {Prop} prop @param {Spot} spot
 * @returns {{ to: number, carried: Carried, putDown: (from: number, spot: Spot) => number }}
 */
export function takeUp(actor, from, prop, spot) {
  const { random, rig } = actor;
  const start = from + 5;
  const reached = start + actor.frames(random.between(0.75, 0.95));
  const grip = reached + actor.frames(random.between(0.14, 0.24));
  const weight = prop.mass / rig.body.mass;
  const up = grip + actor.frames(0.85 + 2.2 * weight);
  const late = Math.max(2, Math.round((2 + 5 * weight) * actor.lag));
  const share = { from: grip + late, to: grip + late + 0.84 * (up - grip) };
  bendTo(actor, start, reached, spot, prop);
  straighten(actor, grip, up, 3 + 25 * weight);

  /** @type {{ from: number, to: number, spot: Spot } | null} */
  let end = null;
  const home = carriedAt(actor, prop);
  const pose = (/** @type {number} */ frame, /** @type {Place} */ body) => {
    // It goes up first, along the shins, and comes to the body when it is over the knees.
    const rise = minimumJerk((frame - share.from) / (share.to - share.from));
    const near = minimumJerk((frame - share.from) / (share.to - share.from) - overKnees);
    const held = home(body);
    let [position, yaw] = [
      mixed(spot.position, held.position, near, rise),
      between(spot.yaw, held.yaw, near),
    ];
    if (end !== null && frame > end.from) {
      // And down again only when it is before them.
      const down = minimumJerk((frame - end.from) / (end.to - end.from));
      const away = minimumJerk((1 + overKnees) * ((frame - end.from) / (end.to - end.from)));
      position = mixed(position, end.spot.position, away, down);
      yaw = between(yaw, end.spot.yaw, away);
    }
    return { position, yaw };
  };
  let until = 1e7;
  const slow = actor.frames(0.8);
  let off = 1e7 + 10;
  /** How high the thing is, 0 low to 1 carried: hands turn from hanging to lying. @param {number} frame @param {Place} body */
  const raised = (frame, body) => {
    const y = pose(frame, body).position[1] - actor.middle[1];
    return Math.max(0, Math.min(1, y / (0.6 * actor.H)));
  };
  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const lag = random.between(0, 2.5);
    const along = random.between(-0.25, 0.15) * prop.half[2];
    actor.grips.push({
      side,
      weight: (frame) => lasting(start + 0.2 * (reached - start) + lag, reached + lag, until, off)(frame),
      at: (frame, body) => {
        const at = pose(frame, body);
        const facing = turn(1, at.yaw);
        const palm = rotate(facing, [out * (prop.half[0] + 0.008 * actor.H), -0.25 * prop.half[1], along]);
        const angle = -38 - 42 * raised(frame, body);
        return { position: add(at.position, palm), orientation: multiply(facing, turn(0, angle)) };
      },
      elbow: [0.7, -0.5, -0.8],
    });
  }
  actor.loads.push({
    // The pressure under the feet takes the weight at once, the body leans against it by and by.
    share: (frame) => weight * lasting(grip, up, until - slow, until)(frame),
    at: (frame, body) => pose(frame, body).position,
  });
  actor.tell("bend to it", start, reached, [rig.hips, ...actor.trunk]);
  actor.tell("lift", grip, up, [rig.hips, ...actor.trunk]);
  actor.events.push({ kind: "push", figure: actor.id, from: grip, to: up });
  const putDown = (/** @type {number} */ begin, /** @type {Spot} */ place) => {
    const lowered = begin + 4 + actor.frames(random.between(0.95, 1.2));
    bendTo(actor, begin + 4, lowered, place, prop);
    end = { from: begin + 6, to: lowered + 3, spot: place };
    until = lowered + actor.frames(0.16);
    const stand = until + actor.frames(random.between(0.8, 1));
    off = until + 0.7 * (stand - until);
    straighten(actor, until - 1, stand, 0);
    actor.tell("set down", begin + 4, lowered, [rig.hips, ...actor.trunk]);
    actor.tell("straighten", until, stand, [rig.hips, ...actor.trunk]);
    actor.events.push({
      kind: "hold-prop",
      prop: prop.id,
      figure: actor.id,
      limbs: sides.map((side) => rig.sides[side].arm),
      from: reached + 3,
      to: Math.floor(until),
    });
    return stand + actor.frames(0.25);
  };
  return { to: up + late + 3, carried: { prop, pose, by: () => actor }, putDown };
}

/** @param {number[]} a @param {number[]} b @param {number} flat share over the ground @param {number} up */
const mixed = (a, b, flat, up) => {
  const at = mix(a, b, flat);
  return [at[0], a[1] + (b[1] - a[1]) * up, at[2]];
};

/** @param {number} a @param {number} b degrees @param {number} share */
const between = (a, b, share) => a + (b - a) * share;

/** Bends knees and trunk so far that the hands reach a thing. @param {Actor} actor @param {number} from @param {number} to
 * @param {Spot} spot @param {Prop} prop */
function bendTo(actor, from, to, spot, prop) {
  const { score, random, rig, H } = actor;
  const ground = actor.middle[1];
  const hands = spot.position[1] - ground - 0.25 * prop.half[1];
  // What a standing figure's hands reach with bent elbows needs no bending; the rest is shared by legs and back.
  const missing = Math.max(0, rig.hipDrop + 0.56 * H - hands);
  const knees = Math.min(missing * 0.74, 0.64 * (rig.thigh + rig.shank));
  const back = Math.min(88, 8 + (missing / H) * 128);
  score.to("pelvis.h", from, to, actor.standHeight + ground - knees);
  score.to("trunk.bend", from - 1, to + 1, actor.home("trunk.bend") + back * 0.72);
  score.to("pelvis.pitch", from, to, actor.home("pelvis.pitch") + back * 0.42);
  score.to("look.pitch", from - 5, to - 4, 14 + back * 0.6);
  score.to("trunk.side", from, to, random.between(-2, 2));
  for (const side of sides) {
    score.to(`knee.out.${side}`, from, to, 8 + 28 * (knees / H));
    score.to(`arm.flex.${side}`, from + 1, to, 35 + 20 * (missing / H));
    score.to(`elbow.${side}`, from + 1, to, 24);
    score.to(`clavicle.fore.${side}`, from + 2, to, 5);
  }
}

/** Stands up again; with a load the trunk leans back. @param {Actor} actor @param {number} from @param {number} to
 * @param {number} against degrees */
function straighten(actor, from, to, against) {
  const { score } = actor;
  score.to("pelvis.h", from, to, actor.standHeight + actor.middle[1] - 0.003 * actor.H);
  // The back comes up after the legs: till then the arms reach over the knees.
  const late = Math.max(4 * actor.lag, 0.5 * (to - from));
  score.to("trunk.bend", from + late, to + late, actor.home("trunk.bend") - against);
  score.to(
    "pelvis.pitch",
    from + 2 * actor.lag,
    to + 2 * actor.lag,
    actor.home("pelvis.pitch") - 0.3 * against,
  );
  score.to("look.pitch", from + 0.3 * (to - from), to + 3, actor.home("look.pitch"));
  score.to("trunk.side", from, to, 0);
  for (const side of sides) {
    score.to(`knee.out.${side}`, from, to, actor.home(`knee.out.${side}`));
    score.to(`arm.flex.${side}`, from, to, against > 0 ? 22 : actor.home(`arm.flex.${side}`));
    score.to(`elbow.${side}`, from, to + 2, against > 0 ? 80 : actor.home(`elbow.${side}`));
    score.to(`clavicle.fore.${side}`, from, to, 0);
  }
}
