// @ts-check
/**
 * A snake that crawls in bends, each joint on the path of the one before it, stops, raises its head, looks and goes on.
 * @import { Performance, Random } from "../../../types.d.ts"
 */
import { subtract, unit } from "../../../../../../demo/motion/vector.mjs";
import { snake } from "../../../bodies/no-legs.mjs";
import { play } from "../tools/engine.mjs";
import { wayOf } from "../tools/gait.mjs";
import { groundPath } from "../tools/ground-path.mjs";
import { Lane, wandering } from "../tools/lane.mjs";
import { plainStage } from "./stage.mjs";

/** @param {Random} random @param {number} frames @returns {Performance} */
export function crawlOfSnake(random, frames) {
  const stage = plainStage(random, frames, snake, "snake");
  const { body, rate, first, last, size, lane, lanes, events, own, named, moved, held } = stage;
  const links = body.joints.filter(({ id }) => /body_\d+$/.test(id)).map(({ id }) => id);
  const link = Math.hypot(...(body.joints.find(({ id }) => id === links[1])?.at ?? [0, 0, 1]));
  // The axis of a thinner part lies lower.
  const thick = body.joints[0].at[1];
  const radii = links.map((_, n) => thick * (1 - 0.75 * (n / links.length) ** 2));

  // Two bouts of crawling around a stop; a short shot has one.
  const start = first + Math.round(Math.min(rate * random.between(0.4, 0.9), frames * 0.12));
  const pause = Math.round(rate * random.between(1.5, 2));
  const two = frames > 4.6 * rate;
  const stop = two
    ? Math.round(start + (last - start - pause) * random.between(0.5, 0.62))
    : last - Math.round(Math.min(pause, frames * 0.3));
  const pace = (random.between(0.32, 0.5) * size) / rate;
  const ramp = (/** @type {number} */ span) => Math.min(rate * random.between(0.5, 0.8), 0.4 * span);
  const bouts = [wayOf(start, stop, ramp(stop - start), ramp(stop - start), pace)];
  if (two) {
    const again = stop + pause;
    const end = last - Math.round(rate * 0.3);
    bouts.push(wayOf(again, end, ramp(end - again), ramp(end - again), pace * random.between(0.8, 1.1)));
    events.push({ kind: "gait", figure: stage.id, name: "crawl", from: again, to: end });
  }
  events.push({ kind: "gait", figure: stage.id, name: "crawl", from: start, to: stop });
  const travel = bouts.reduce((sum, { length }) => sum + length, 0);
  const along = (/** @type {number} */ frame) =>
    size + bouts.reduce((sum, bout) => sum + bout.along(frame), 0);

  // The path bends from side to side, by 30 to 48 degrees off its course, no two bends alike, as a sum of two waves.
  const wave = random.between(0.5, 0.66) * size;
  const swing = random.between(30, 48);
  const [phase, other, drift] = [
    random.between(0, 6.28),
    random.between(0, 6.28),
    random.between(-14, 14) / size,
  ];
  const k = (2 * Math.PI) / wave;
  const bend = (/** @type {number} */ s) =>
    swing * k * (Math.cos(k * s + phase) + 0.2 * Math.cos(0.62 * k * s + other)) +
    drift * Math.sin((2 * Math.PI * s) / (3 * size));
  const path = groundPath({
    start: [random.between(-0.5, 0.5), -0.5 * size],
    yaw: random.between(-60, 60) + swing * Math.sin(phase),
    bend,
    length: size + travel + 0.3 * size,
  });

  // At the stop the fore part rises off the ground, sways, and sinks again.
  const raise = new Lane();
  const look = new Lane();
  const rise = Math.round(rate * random.between(0.55, 0.8));
  const up = stop - Math.round(0.25 * rise);
  const sink = Math.min(stop + pause - Math.round(0.6 * rise), last + 200);
  raise.move(up, up + rise, random.between(0.07, 0.1) * size);
  if (two || sink + rise < last) raise.move(sink, sink + rise, -raise.at(up + rise + 1));
  moved("raise the head", ["body_1", "body_2", "body_3", "head"], up, up + rise);
  const [side, span] = [
    random.between(24, 42) * random.pick([-1, 1]),
    Math.round(rate * random.between(0.5, 0.7)),
  ];
  const glance = up + rise + Math.round(rate * 0.15);
  look.move(glance, glance + span, side);
  if (two) look.move(sink - 2, sink + rise, -side);
  moved("look", ["head"], glance, glance + span);
  held(["body_1", "body_2", "head"], glance + span + 1, two ? sink - 3 : last);
  if (two) moved("lower the head", ["body_1", "body_2", "body_3", "head"], sink, sink + rise);

  const reach = 5;
  const drifting = [wandering(own, rate, 0.006 * size), wandering(own, rate, 0.008 * size)];
  /** Where the joints are. @param {number} frame */
  const placed = (frame) => {
    let s = along(frame);
    const lift = raise.at(frame);
    /** @type {number[][]} */
    const points = [];
    links.forEach((_, n) => {
      const share = n < reach ? (1 + Math.cos((Math.PI * n) / reach)) / 2 : 0;
      const y = radii[n] + lift * share * (1 + 0.08 * drifting[0](frame));
      if (n > 0) s = behind(path, points[n - 1], s, y, link);
      const { x, z } = path(s);
      points.push([x, y, z]);
    });
    return points;
  };
  const steady = (/** @type {number} */ frame) => {
    // The head looks along the course that the next bends make.
    let sum = 0;
    for (let n = 0; n <= 8; n++) sum += path(along(frame) + ((n - 3) / 8) * wave).yaw / 9;
    return sum;
  };
  lane("head", "x")
    .add((f) => ((1.2 * drifting[1](f)) / (0.008 * size)) * 0.5 + 2)
    .add((f) => (raise.at(f) / (0.1 * size)) * 14);
  lane("jaw", "x")
    .add(() => 2)
    .bump(glance + span + 4, glance + span + 8, glance + span + 20, 5);

  const performance = play({
    ...stage,
    lanes,
    root: (frame) => ({ position: [0, 0, 0], yaw: path(along(frame)).yaw }),
    legs: [],
    loose: [],
    solved: links,
    fill(frame, pose) {
      const points = placed(frame);
      pose.moveTo(points[0]);
      links.forEach((id, n) => {
        const [a, b] = n + 1 < links.length ? [points[n], points[n + 1]] : [points[n - 1], points[n]];
        pose.face(id, facing(subtract(a, b)));
      });
      const ahead = subtract(points[0], points[1]);
      const yaw = (Math.atan2(ahead[0], ahead[2]) * 180) / Math.PI;
      const turned = steady(frame) - yaw;
      const own =
        0.7 * (turned - 360 * Math.round(turned / 360)) +
        look.at(frame) +
        drifting[0](frame) / (0.006 * size);
      pose.turn(named("head"), [lane("head", "x").at(frame), own, -0.15 * own]);
    },
  }).performance;
  return performance;
}

/** The turn that points z along a direction, upright. @param {number[]} way */
function facing(way) {
  const z = unit(way);
  const yaw = Math.atan2(z[0], z[2]) / 2;
  const pitch = -Math.asin(Math.max(-1, Math.min(1, z[1]))) / 2;
  const [sy, cy, sx, cx] = [Math.sin(yaw), Math.cos(yaw), Math.sin(pitch), Math.cos(pitch)];
  return [cy * sx, sy * cx, -sy * sx, cy * cx];
}

/**
 * The length along a path at which a joint is that lies a link behind another.
 * @param {(along: number) => { x: number, z: number }} path @param {number[]} from @param {number} s the other's length
 * @param {number} y its height @param {number} link
 */
function behind(path, from, s, y, link) {
  const off = (/** @type {number} */ t) => {
    const { x, z } = path(t);
    return Math.hypot(x - from[0], y - from[1], z - from[2]) - link;
  };
  let [near, far] = [s, s - 1.6 * link];
  for (let n = 0; n < 48; n++) {
    const middle = (near + far) / 2;
    if (off(middle) < 0) near = middle;
    else far = middle;
  }
  return (near + far) / 2;
}
