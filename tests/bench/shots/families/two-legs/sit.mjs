// @ts-check
/** Sitting down on a seat and getting up again. */

import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add, mix, multiply, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";

/** @import { Actor } from "./actor.mjs" @import { StagedProp } from "./shot.mjs" */

/** A weight that goes up and down again, eased. @param {number} from @param {number} full @param {number} until
 * @param {number} to */
export const lasting = (from, full, until, to) => (/** @type {number} */ frame) =>
  minimumJerk((frame - from) / (full - from)) * (1 - minimumJerk((frame - until) / (to - until)));

/**
 * A seat that fits a figure, behind its feet.
 * @param {Actor} actor @returns {{ root: number[], staged: StagedProp }} where the root is when it sits
 */
export function seatBehind(actor) {
  const { rig, H } = actor;
  const height = rig.ankle + 0.93 * rig.shank;
  const back = 0.9 * rig.thigh - 0.06 * rig.shank;
  const ground = actor.middle[1];
  const root = add(actor.middle, add(actor.way(-back), [0, height + rig.hipDrop + 0.045 * H, 0]));
  const top = height - 0.01 * H;
  const half = /** @type {[number, number, number]} */ ([0.1 * H, top / 2, 0.12 * H]);
  const position = [root[0], ground + top / 2, root[2]];
  const yaw = actor.heading;
  return { root, staged: { prop: { id: "seat", mass: 14, half }, at: () => ({ position, yaw }) } };
}

/**
 * Sits down: bends forward, goes down behind its feet, meets the seat, straightens; the hands come to lie on the thighs. Then
 * sits for a while and gets up: bends forward until the mass is over the feet, and rises (1.7 to 2.3 s for a grown person).
 * @param {Actor} actor @param {number} from @param {number[]} root where it sits @param {number} seconds for which it sits
 * @returns {number} frame at which it stands at rest
 */
export function sitAndRise(actor, from, root, seconds) {
  const { score, random, rig, H } = actor;
  const down = actor.frames(random.between(1.2, 1.5));
  const start = from + 4;
  const seated = start + down;
  const upright = seated + actor.frames(random.between(0.6, 0.8));
  const lean = upright + actor.frames(seconds);
  const off = lean + actor.frames(random.between(0.65, 0.8));
  const stand = off + actor.frames(random.between(1, 1.2));
  const ground = actor.middle[1];

  // The root: over the feet as long as they carry, then on the seat.
  actor.seats.push({
    weight: lasting(start + 0.34 * down, seated, off - 2, off + 0.62 * (stand - off)),
    at: () => root,
  });
  const high = score.end("pelvis.h");
  score.to("pelvis.h", start, seated, root[1]);
  score.to(
    "pelvis.h",
    off - 2,
    stand,
    actor.standHeight + ground + (high - actor.standHeight - ground) * 0.5,
  );

  const home = actor.home("trunk.bend");
  const bend = random.between(26, 34);
  score.to("trunk.bend", start - 2, start + 0.62 * down, home + bend);
  score.to("trunk.bend", start + 0.7 * down, upright, home + random.between(1, 7));
  score.to("trunk.bend", lean - 1, off + 2, home + bend + 3);
  score.to("trunk.bend", off + 1, stand, home);
  const tilt = actor.home("pelvis.pitch");
  score.to("pelvis.pitch", start, start + 0.7 * down, tilt + 20);
  score.to("pelvis.pitch", start + 0.72 * down, upright + 2, tilt - 7);
  score.to("pelvis.pitch", lean - 3, off, tilt + 23);
  score.to("pelvis.pitch", off, stand - 2, tilt);
  const gaze = actor.home("look.pitch");
  score.to("look.pitch", start - 5, start + 0.4 * down, gaze + 12);
  score.to("look.pitch", start + 0.7 * down, upright, gaze);
  score.to("look.pitch", lean - 2, off, gaze + 11);
  score.to("look.pitch", off + 2, stand, gaze);
  score.bump("trunk.side", start, start + 0.6 * down, upright, random.between(-3, 3));

  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const late = random.between(0, 4);
    const knee = add(
      actor.plant(side).at,
      add(actor.way(0.04 * rig.shank, out * 0.02 * H), [0, rig.ankle + 0.97 * rig.shank, 0]),
    );
    const hip = add(root, actor.way(0, out * rig.hipHalf));
    const along = random.between(0.5, 0.68);
    const lap = add(mix(hip, knee, along), [0, 0.052 * H, 0]);
    const facing = multiply(turn(1, actor.heading + out * -12), multiply(turn(0, -84), turn(1, out * 82)));
    actor.grips.push({
      side,
      weight: lasting(
        start + 0.6 * down + late,
        upright + 2 + late,
        lean + 0.45 * (off - lean) + late,
        off + 0.5 * (stand - off) + late,
      ),
      at: (frame) => ({
        position: add(lap, [0, 0.0016 * H * Math.sin((frame + 9 * out) / (7 * actor.lag)), 0]),
        orientation: facing,
      }),
      elbow: [0.75, -0.2, -0.7],
    });
    const own = (/** @type {string} */ channel) => `${channel}.${side}`;
    const flex = actor.home(own("arm.flex"));
    score.to(own("arm.flex"), start + 1, start + 0.7 * down, flex + 26 * random.between(0.8, 1.2));
    score.to(own("arm.flex"), off, stand + 3, flex);
    const elbow = actor.home(own("elbow"));
    score.to(own("elbow"), start + 2, start + 0.75 * down, elbow + 18);
    score.to(own("elbow"), off + 2, stand + 5, elbow);
    score.bump(own("knee.out"), start, upright, stand + 2, random.between(3, 9));
    const { arm } = rig.sides[side];
    actor.tell(
      "hand to the lap",
      Math.round(start + 0.6 * down + late),
      Math.round(upright + 2 + late),
      actor.arm(side),
      arm,
    );
  }
  actor.tell("sit down", start, upright, [rig.hips, ...actor.trunk]);
  actor.rest(upright + 3, lean - 3, [rig.hips, ...actor.trunk]);
  actor.tell("get up", lean, stand, [rig.hips, ...actor.trunk]);
  actor.events.push({ kind: "push", figure: actor.id, from: off, to: stand });
  return stand + actor.frames(0.25);
}
