// @ts-check
/**
 * A caterpillar that inches: the rear stands while the front reaches out, then the front stands while the body arches and
 * draws the rear up. Between its steps it stops, lifts its front, feels about and sets it down again.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { add, multiply, rotate, subtract, turn } from "../../../../../../demo/motion/vector.mjs";
import { caterpillar, inchLinks } from "../../../bodies/no-legs.mjs";
import { play } from "../tools/engine.mjs";
import { stepEvents } from "../tools/gait.mjs";
import { wandering } from "../tools/lane.mjs";
import { footCourse } from "../tools/legs.mjs";
import { plainStage } from "./stage.mjs";

const radians = Math.PI / 180;

/** Slopes of the links from the middle to the foot, as shares of the steepest; the foot itself lies flat. */
const slopes = Array.from({ length: inchLinks }, (_, n) => Math.sin((Math.PI * n) / inchLinks));

/** Half of the way between the feet for a steepest slope, in links. @param {number} steep radians */
const half = (steep) => slopes.reduce((sum, share) => sum + Math.cos(steep * share), 0);

/** The steepest slope at which half of the way between the feet is so many links. @param {number} wanted */
function steepFor(wanted) {
  let [flat, high] = [0, 100 * radians];
  for (let n = 0; n < 50; n++) {
    const middle = (flat + high) / 2;
    if (half(middle) > wanted) flat = middle;
    else high = middle;
  }
  return (flat + high) / 2;
}

/** @param {Random} random @param {number} frames @returns {Performance} */
export function inchingOfCaterpillar(random, frames) {
  const stage = plainStage(random, frames, caterpillar, "caterpillar");
  const { body, rate, first, last, size, lane, lanes, events, own, named, moved, held, id } = stage;
  const link = body.joints.find((one) => one.id === named("front_1"))?.at[2] ?? 0;
  const thick = body.joints[0].at[1];
  const [long, short] = [2 * link * inchLinks * 0.985, 2 * link * half(random.between(62, 74) * radians)];

  // Steps: the front by as much as the body is stretched, then the rear.
  const start = first + Math.round(Math.min(rate * random.between(0.3, 0.8), frames * 0.1));
  const reachTime = Math.round(rate * random.between(0.5, 0.65));
  const drawTime = Math.round(rate * random.between(0.5, 0.65));
  const rest = Math.round(rate * random.between(0.14, 0.24));
  let yaw = random.between(-60, 60);
  const ahead = (/** @type {number} */ degrees, /** @type {number} */ far) => [
    far * Math.sin(degrees * radians),
    0,
    far * Math.cos(degrees * radians),
  ];
  let rear = [random.between(-0.1, 0.1), 0, -size];
  let front = add(rear, ahead(yaw, short));
  /** @type {Plant[]} */
  const fronts = [{ from: first, to: last, at: front, yaw }];
  /** @type {Plant[]} */
  const rears = [{ from: first, to: last, at: rear, yaw }];
  let at = start;
  let steps = 0;
  const searches = frames > 4.5 * rate ? random.integer(1, 2) : -1;
  while (at + reachTime + rest + drawTime + 2 <= last - 0.2 * rate) {
    if (steps === searches) {
      // Feels about before it reaches on: the head and the fore links lift and swing.
      const span = Math.round(rate * 0.5);
      feel(at, span);
      at += 3 * span;
      steps++;
      continue;
    }
    yaw += random.between(-14, 14);
    front = add(rear, ahead(yaw, long));
    Object.assign(fronts[fronts.length - 1], { to: at, lift: random.between(0.09, 0.13) * size });
    fronts.push({ from: at + reachTime, to: last, at: front, yaw });
    moved("reach", ["front_4", "front_5", "front_6", "head"], at, at + reachTime);
    const draws = at + reachTime + rest;
    rear = subtract(front, ahead(yaw, short * random.between(0.97, 1.04)));
    Object.assign(rears[rears.length - 1], { to: draws, lift: random.between(0.03, 0.05) * size });
    rears.push({ from: draws + drawTime, to: last, at: rear, yaw });
    moved("draw up", ["middle", "front_1", "front_2", "rear_1", "rear_2", "rear_6"], draws, draws + drawTime);
    at = draws + drawTime + rest;
    steps++;
  }
  held(["middle", "front_6", "rear_6"], at + 2, last);
  const falls = new Map([
    [0, fronts],
    [1, rears],
  ]);
  events.push(...stepEvents(id, falls, false), {
    kind: "gait",
    figure: id,
    name: "inch",
    from: start,
    to: Math.min(last, at),
  });
  const [frontFoot, rearFoot] = [footCourse(fronts), footCourse(rears)];

  /** @param {number} from @param {number} span */
  function feel(from, span) {
    const side = random.between(16, 28) * random.pick([-1, 1]);
    lane("head", "x")
      .move(from, from + span, -26)
      .move(from + 2 * span, from + 3 * span - 2, 26);
    lane("head", "y")
      .move(from + 3, from + span + 3, side)
      .move(from + span + 4, from + 2 * span, -1.7 * side)
      .move(from + 2 * span + 1, from + 3 * span - 1, 0.7 * side);
    moved("feel about", ["head"], from, from + 2 * span);
  }
  lane("head", "x")
    .add(() => 6)
    .add(wandering(own, rate, 2));
  lane("head", "y").add(wandering(own, rate, 2.5));
  for (const side of ["l", "r"]) lane(`horn_${side}`, "x").add(wandering(own, rate, 2));
  // The arch is never quite still: it breathes, and so do the feet's neighbours.
  const swell = wandering(own, rate, 1.2);
  // A foot that lifts tips: heel first at leaving, and the head dips as it comes down.
  const pitch = (/** @type {{ place: number[] }} */ foot, /** @type {number} */ by) =>
    (foot.place[1] / size) * by;

  return play({
    ...stage,
    lanes,
    root: () => ({ position: [0, 0, 0], yaw: 0 }),
    legs: [],
    loose: ["l", "r"].map((side) => ({
      joints: [named(`horn_${side}`), named(`horn_${side}_tip`)],
      frequency: 4.5 * random.between(0.95, 1.05),
      damping: 0.45,
    })),
    solved: [...Array(inchLinks).keys()].flatMap((n) => [named(`front_${n + 1}`), named(`rear_${n + 1}`)]),
    fill(frame, pose) {
      const [f, r] = [frontFoot(frame), rearFoot(frame)];
      const way = subtract(f.place, r.place);
      const level = Math.hypot(way[0], way[2]);
      const heading = Math.atan2(way[0], way[2]) / radians;
      const tilt = Math.atan2(way[1], level) / radians;
      const steep = steepFor(Math.hypot(level, way[1]) / (2 * link)) / radians;
      const whole = multiply(turn(1, heading), turn(0, -tilt));
      // Rear foot, flat; then up the rear chain to the middle. The middle lies along the line between the feet.
      const rise = slopes.reduce((sum, share) => sum + Math.sin(steep * share * radians), 0) * link;
      const middle = add(add(r.place, [0, thick, 0]), rotate(whole, [0, rise, link * half(steep * radians)]));
      pose.moveTo(middle);
      pose.face(named("middle"), whole);
      for (let n = 1; n < inchLinks; n++) {
        const slope = steep * slopes[n];
        pose.face(named(`front_${n}`), multiply(whole, turn(0, slope)));
        pose.face(named(`rear_${n}`), multiply(whole, turn(0, -slope)));
      }
      pose.face(named(`front_${inchLinks}`), multiply(turn(1, f.yaw), turn(0, -pitch(f, 260))));
      pose.face(named(`rear_${inchLinks}`), multiply(turn(1, r.yaw), turn(0, pitch(r, 180))));
      const head = named("head");
      pose.turn(head, [
        lane("head", "x").at(frame) + pitch(f, 160) + swell(frame),
        lane("head", "y").at(frame),
        0,
      ]);
    },
  }).performance;
}
