// @ts-check
/**
 * Jumps: the body gathers itself, pushes off, flies as a thrown body does, and gives as it lands. The course of the centre of
 * mass is planned; the root follows from it.
 */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { standingPlant } from "./actor.mjs";
import { quintic } from "./score.mjs";
import { massCentreWith, reachingUp } from "./solve.mjs";

/** @import { Actor } from "./actor.mjs" */

/** Standard gravity (CGPM 1901), metres per second squared. */
const g = 9.80665;

/**
 * @typedef {object} Jump
 * @property {number} height by which the mass rises after take-off, metres
 * @property {number} [ahead] metres @property {number} [left] metres @property {number} [down] how much lower it lands, metres
 * @property {number} [depth] of the crouch before, as a share of the stature
 */

/**
 * @param {Actor} actor @param {number} from @param {Jump} jump
 * @returns {number} frame at which it rests
 */
export function jump(actor, from, { height, ahead = 0, left = 0, down = 0, depth = 0.13 }) {
  const { rig, rate, score, random, H } = actor;
  const leg = rig.thigh + rig.shank;
  const ground = actor.middle[1];
  const perFrame = g / rate ** 2;

  // Frames: the crouch takes the time that its depth asks for (0.7 to 0.9 s with the push; force-plate literature, memory).
  const start = from + 8;
  const speedUp = Math.sqrt(2 * g * height);
  const pushTime = (depth * H + 0.06 * leg) / (0.42 * speedUp);
  const low = start + actor.frames(random.between(0.44, 0.56));
  const off = low + Math.max(4, Math.round(pushTime * rate));
  // Bodies land with knees bent, a little lower than they left.
  const sink = 0.045 * leg;
  const air = (speedUp + Math.sqrt(speedUp ** 2 + 2 * g * (down + sink))) / g;
  const land = off + Math.max(4, Math.round(air * rate));
  const speedDown = g * air - speedUp;
  const give = Math.max(
    actor.frames(0.2),
    Math.min(actor.frames(0.36), Math.round(((0.34 * leg) / (0.5 * speedDown)) * rate)),
  );
  const lowest = land + give;
  const rest = lowest + actor.frames(random.between(0.6, 0.8));

  // Feet.
  const shift = add(actor.way(ahead, left), [0, -down, 0]);
  // No two feet do the same: one leaves two frames (at 24 per second) sooner, and one comes down as much later.
  const apart = Math.max(1, Math.round((2.1 * rate) / 24));
  const late = { l: 0, r: 0 };
  const early = { l: 0, r: 0 };
  late[random.pick(sides)] = apart;
  early[random.pick(sides)] = Math.min(apart, off - low - 2);
  const heights = { start: actor.standHeight + ground, end: actor.standHeight + ground - down };
  /** @type {(frame: number) => number} */
  let rise = () => 0;
  for (const side of sides) {
    const old = actor.plant(side);
    old.to = off - early[side];
    old.push = random.between(44, 54);
    old.heelOff = old.to - Math.max(3, Math.round(0.75 * (old.to - low)));
    const wide = actor.way(0, (side === "l" ? 1 : -1) * 0.012 * H * random.between(0.5, 1.5));
    actor.plants[side].push({
      ...standingPlant(add(add(old.at, shift), wide), old.yaw + random.between(-2, 2)),
      from: land + late[side],
      strike: 15,
      flat: land + late[side] + Math.max(2, Math.round(2.6 * actor.lag)),
      lift: 0.035 * H * random.between(0.6, 1.4) + 0.06 * height,
      drop: (speedDown / rate) * 0.5,
      carry: 1,
      air: (frame) =>
        rise(off + ((frame - off) * (land - off)) / (land + late[side] - off)) +
        (early[side] > 0 ? 0.05 * H * drawnUp((frame - old.to) / (land + late[side] - old.to)) : 0),
    });
  }

  poseForJump(actor, { start, low, off, land, lowest, rest, height, ahead, down });

  // Over the ground: it leaves with the speed that carries it, and is taken up after landing.
  const [pushFrames, flight, stop] = [off - low, land - off, rest - land - 0.25 * (rest - lowest)];
  const goal = actor.over(actor.share);
  ["x", "z"].forEach((axis, n) => {
    const k = n === 0 ? 0 : 2;
    const channel = `com.${axis}`;
    const [begin, end] = [score.end(channel), goal[k]];
    const speed = (end - begin) / (0.42 * pushFrames + flight + 0.42 * stop);
    const left_ = begin + 0.42 * pushFrames * speed;
    const course = chain(
      [
        quintic(low, off, [begin, 0], [left_, speed]),
        (frame) => left_ + speed * (frame - off),
        quintic(land, land + stop, [left_ + speed * flight, speed], [end, 0]),
      ],
      [off, land],
    );
    score.add(channel, (frame) => course(frame) - begin);
  });

  // Heights of the mass in the poses that it goes through.
  const y0 = massCentreWith(actor, start, heights.start)[1];
  const yLow = massCentreWith(actor, low, heights.start - depth * H)[1];
  const yOff = reachingUp(actor, off, 0.95).massCentre[1];
  const yLand = reachingUp(actor, land, 0.92).massCentre[1];
  const v0 = (yLand - yOff) / flight + (perFrame * flight) / 2;
  const v1 = v0 - perFrame * flight;
  const depthDown = Math.min((-v1 * give) / 2.3, 0.3 * leg);
  const power = (-v1 * give) / depthDown;
  const yEnd = massCentreWith(actor, rest, heights.end)[1];
  const turnUp = (depthDown / give ** 2) * 1.6;
  const course = chain(
    [
      quintic(start, low, [y0, 0], [yLow, 0, (v0 / pushFrames) * 0.9]),
      quintic(low, off, [yLow, 0, (v0 / pushFrames) * 0.9], [yOff, v0, -perFrame]),
      (frame) => yOff + v0 * (frame - off) - (perFrame / 2) * (frame - off) ** 2,
      // The legs take the fall up, most of it at once.
      (frame) => yLand - depthDown * (1 - (1 - (frame - land) / give) ** power),
      quintic(lowest, rest, [yLand - depthDown, 0, turnUp], [yEnd, 0]),
    ],
    [low, off, land, lowest],
  );
  rise = (frame) => course(Math.max(off, Math.min(land, frame))) - yOff;
  actor.replanFeet();
  const begin = score.end("com.y");
  score.add("com.y", (frame) => course(frame) - begin);
  score.by("com.y.weight", start - 6, start, 1);
  score.by("com.y.weight", rest, rest + 8, -1);
  score.by("pelvis.h", off, land, -down);

  actor.events.push(
    { kind: "push", figure: actor.id, from: low, to: off },
    { kind: "flight", figure: actor.id, from: off + 1, to: land - 1 },
    { kind: "landing", figure: actor.id, at: land, low: lowest },
  );
  actor.tell("gather", start, low, [rig.hips, ...actor.trunk]);
  return rest + 8;
}

/** A foot that leaves first is drawn up first: 0 to 1 to 0 over its way. @param {number} tau */
const drawnUp = (tau) =>
  tau <= 0 || tau >= 1 ? 0 : minimumJerk(Math.min(1, tau / 0.3)) * minimumJerk((1 - tau) / 0.7);

/** One course after another. @param {((frame: number) => number)[]} parts @param {number[]} seams */
function chain(parts, seams) {
  return (/** @type {number} */ frame) => {
    let n = 0;
    while (n < seams.length && frame > seams[n]) n++;
    return parts[n](frame);
  };
}

/** Trunk, arms and head of a jump. @param {Actor} actor
 * @param {Record<"start" | "low" | "off" | "land" | "lowest" | "rest" | "height" | "ahead" | "down", number>} at */
function poseForJump(actor, { start, low, off, land, lowest, rest, height, ahead, down }) {
  const { score, random, H } = actor;
  const size = Math.min(1, 0.55 + height / (0.35 * H));
  const lean = 22 * size + (ahead / H) * 14;
  const home = actor.home("trunk.bend");
  score.to("trunk.bend", start, low + 1, home + lean);
  score.to("trunk.bend", low + 1, off + 1, home - 3 + (ahead / H) * 10);
  score.to("trunk.bend", off + 1, land, home + 8);
  score.to("trunk.bend", land, lowest + 2, home + 20 * size);
  score.to("trunk.bend", lowest + 1, rest + 2, home);
  const tilt = actor.home("pelvis.pitch");
  score.to("pelvis.pitch", start - 1, low, tilt + 13 * size);
  score.to("pelvis.pitch", low, off, tilt + (ahead / H) * 8);
  score.to("pelvis.pitch", off, land, tilt + 5);
  score.to("pelvis.pitch", land - 1, lowest, tilt + 14 * size);
  score.to("pelvis.pitch", lowest, rest, tilt);
  const gaze = actor.home("look.pitch");
  score.to("look.pitch", start - 3, low, gaze + 5 + (down / H) * 25);
  score.to("look.pitch", low, off + 2, gaze - 6 + (down / H) * 25);
  score.to("look.pitch", off + 3, land, gaze + 14);
  score.to("look.pitch", lowest, rest, gaze);
  for (const side of sides) {
    const own = (/** @type {string} */ channel) => `${channel}.${side}`;
    const uneven = random.between(0.88, 1.12);
    const later = random.between(0, 1.5) * actor.lag;
    const back = actor.home(own("arm.flex")) - 42 * size * uneven;
    const top = Math.min(125, 85 * size * uneven + 22);
    const early = Math.round(0.3 * (low - start));
    score.to(own("arm.flex"), start - 3 + later, low - early + later, back);
    score.to(own("arm.flex"), low - early - 1 + later, off + 3 + later, top);
    score.to(own("arm.flex"), off + 3 + later, land + 3 + later, 46 * uneven);
    score.to(own("arm.flex"), land + 1 + later, lowest + 5 + later, 16);
    score.to(own("arm.flex"), lowest + 3 + later, rest + 4 + later, actor.home(own("arm.flex")));
    const elbow = actor.home(own("elbow"));
    score.to(own("elbow"), start + later, low + later, elbow + 10);
    score.to(own("elbow"), low + 1 + later, off + later, elbow + 26);
    score.to(own("elbow"), off + 2 + later, land + 3 + later, elbow + 34 * uneven);
    score.to(own("elbow"), lowest + 2 + later, rest + 6 + later, elbow);
    const out = actor.home(own("arm.out"));
    score.to(own("arm.out"), low + later, off + 3 + later, out + 12);
    score.to(own("arm.out"), off + 3 + later, lowest + later, out + 20 * uneven);
    score.to(own("arm.out"), lowest + later, rest + 4 + later, out);
    score.bump(own("knee.out"), off, lowest, rest, 9);
    score.bump(own("clavicle.lift"), low + 2, off + 2, lowest, 8);
  }
}
