// @ts-check
/**
 * Fish. Waves run down the body, wider towards the tail; the tail's work drives it, the water slows it: thrust goes with
 * (rate × width)² and drag with the square of the speed, so that steady swimming has one Strouhal number (about 0.3:
 * Triantafyllou et al. 1993, from memory). No fall: the body floats.
 * @import { Event, Performance, Random } from "../../../types.d.ts"
 */
import { fish, fishLinks, rootAt } from "../../../bodies/fish.mjs";
import { plainStage } from "../no-legs/stage.mjs";
import { play } from "../tools/engine.mjs";
import { Lane, wandering } from "../tools/lane.mjs";

const strouhal = 0.3;
const radians = Math.PI / 180;
/** Half of the way that the body goes sideways, in lengths, by the place along it (saithe: Videler & Hess 1984, from memory). */
const width = (/** @type {number} */ x) => 0.02 - 0.08 * x + 0.16 * x * x;
const widthSlope = (/** @type {number} */ x) => -0.08 + 0.32 * x;

/**
 * @typedef {object} Swum
 * @property {Lane} beat beats per second @property {Lane} wide width of the wave, 1 as in steady swimming
 * @property {Lane} heading degrees, 0 is +z, 90 is +x @property {Lane} pitch degrees, nose up above 0
 * @property {Lane} brake drag of spread fins, in units of the body's own
 * @property {Lane} scull how far the pectoral fins scull, 0 to 1
 * @property {Lane} spread how far they stand out, 0 to 1
 */

/** @param {Random} random @param {number} frames */
function pool(random, frames) {
  const stage = plainStage(random, frames, fish, "fish");
  /** @type {Swum} */
  const swum = {
    beat: new Lane(),
    wide: new Lane(),
    heading: new Lane(),
    pitch: new Lane(),
    brake: new Lane(),
    scull: new Lane(),
    spread: new Lane(),
  };
  const big = Math.sqrt(stage.size / 0.5);
  swum.heading.add(() => 0).add(wandering(stage.own, stage.rate, 1.2));
  swum.pitch.add(wandering(stage.own, stage.rate, 1.2));
  return { ...stage, swum, big, limb: { tail: 0, fins: [1, 2] } };
}

/** @typedef {ReturnType<typeof pool>} Pool */

/**
 * Swims what the lanes say.
 * @param {Pool} stage @param {{ speed: number, yaw: number, sculling: number }} start metres per second, degrees; beats of
 *   the pectoral fins per second
 * @returns {Performance}
 */
function swim(stage, { speed, yaw, sculling }) {
  const { body, size, rate, first, frames, swum, lane, own, events, id, limb, random } = stage;
  const drag = 0.3 / size;
  const thrust = drag * ((2 * width(1) * size) / strouhal) ** 2;
  const lead = 40;
  const substeps = 8;
  const h = 1 / (rate * substeps);
  const count = (frames + lead + 4) * substeps;
  const [phases, xs, ys, zs] = [0, 1, 2, 3].map(() => new Float64Array(count));
  let going = speed;
  const sense = random.pick([0, Math.PI]);
  phases[0] = sense;
  for (let n = 1; n < count; n++) {
    const frame = first - lead + n / substeps;
    const [beat, wide] = [swum.beat.at(frame), Math.max(0, swum.wide.at(frame))];
    if (frame > first)
      going +=
        h * (thrust * (beat * wide) ** 2 - drag * (1 + swum.brake.at(frame)) * going * Math.abs(going));
    phases[n] = phases[n - 1] + 2 * Math.PI * beat * h;
    const [heading, pitch] = [(yaw + swum.heading.at(frame)) * radians, swum.pitch.at(frame) * radians];
    xs[n] = xs[n - 1] + h * going * Math.sin(heading) * Math.cos(pitch);
    ys[n] = ys[n - 1] + h * going * Math.sin(pitch);
    zs[n] = zs[n - 1] + h * going * Math.cos(heading) * Math.cos(pitch);
  }
  const at = (/** @type {Float64Array} */ list, /** @type {number} */ frame) => {
    const k = Math.max(0, Math.min(count - 2, (frame - first + lead) * substeps));
    const i = Math.floor(k);
    return list[i] + (list[i + 1] - list[i]) * (k - i);
  };

  // The wave: slope of the body at a place along it, degrees; one wave on the body.
  const slope = (/** @type {number} */ x, /** @type {number} */ frame) => {
    const angle = 2 * Math.PI * x - at(phases, frame);
    const rise = widthSlope(x) * Math.cos(angle) - width(x) * 2 * Math.PI * Math.sin(angle);
    return (Math.atan(swum.wide.at(frame - 2 * x) * rise) / radians) * -1;
  };
  const link = (0.88 - rootAt) / fishLinks;
  const places = [rootAt, ...Array.from({ length: fishLinks }, (_, n) => rootAt + (n + 1) * link)];
  const chain = ["body", ...Array.from({ length: fishLinks - 1 }, (_, n) => `spine_${n + 1}`), "tail_fin"];
  // A turn begins at the head; every link follows the one before it, and so does the wave's slope.
  const late = (/** @type {number} */ n) => n * 0.075 * rate * Math.min(1.2, stage.big) * 0.5;
  const turned = (/** @type {number} */ n, /** @type {number} */ frame) => swum.heading.at(frame - late(n));
  chain.forEach((joint, n) => {
    if (n === 0) {
      lane("body", "y").add((f) => slope(rootAt, f) + turned(0, f));
      return;
    }
    const middle = places[n] + link / 2;
    lane(joint, "y").add((f) => {
      const above = n === 1 ? slope(rootAt, f) : slope(places[n - 1] + link / 2, f);
      return slope(Math.min(1, middle), f) - above + turned(n, f) - turned(n - 1, f);
    });
    lane(joint, "x").add((f) => (swum.pitch.at(f) - swum.pitch.at(f - 2)) * 0.4);
  });
  lane("tail_fin", "y").add((f) => 0.5 * (slope(0.95, f - 1) - slope(0.95, f)));
  // The head turns first, and yaws less than the wave would have it.
  lane("head", "y")
    .add((f) => turned(0, f + 0.09 * rate) - turned(0, f))
    .add((f) => -0.55 * slope(rootAt, f))
    .add(wandering(own, rate, 0.8));
  lane("body", "x").add((f) => -swum.pitch.at(f));
  // Into a turn the body rolls a little.
  lane("body", "z")
    .add((f) => -0.22 * (turned(0, f + 3) - turned(0, f - 3)))
    .add(wandering(own, rate, 0.8));
  const sideways = (/** @type {number} */ f) =>
    swum.wide.at(f) * width(rootAt) * size * Math.cos(2 * Math.PI * rootAt - at(phases, f));
  const float = [0, 1, 2].map(() => wandering(own, rate, 0.008 * size));
  const gill = own.between(1, 1.5);
  lane("jaw", "x")
    .add((f) => 4 + 3 * Math.sin((2 * Math.PI * gill * f) / rate))
    .add(wandering(own, rate, 1));

  // Pectoral fins: folded back, spread to brake and to turn, sculling to hover: a stroke and its twist a quarter later.
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    const shift = s === "l" ? 0 : own.between(0.42, 0.58);
    const wave = (/** @type {number} */ f, /** @type {number} */ lag) =>
      Math.sin(2 * Math.PI * ((sculling * (f - first)) / rate + shift - lag));
    const folded = own.between(34, 42);
    const inner = (/** @type {number} */ f) =>
      Math.max(0, Math.min(1, (sign * (turned(0, f + 4) - turned(0, f - 4))) / 20));
    const out = (/** @type {number} */ f) => Math.min(1, swum.spread.at(f) + 0.8 * soft(inner(f)));
    lane(`fin_${s}`, "y").add((f) => sign * (folded * (1 - out(f)) + 26 * swum.scull.at(f) * wave(f, 0)));
    lane(`fin_${s}`, "z")
      .add((f) => sign * (-12 + 8 * out(f) + 12 * swum.scull.at(f) * wave(f, 0.12)))
      .add(wandering(own, rate, 1.5));
    lane(`fin_${s}`, "x").add((f) => -24 * out(f) + 26 * swum.scull.at(f) * wave(f, 0.25));
  }
  record();
  events.push({ kind: "gait", figure: id, name: "swim", from: first, to: first + frames - 1 });

  /** Beats of the tail while the wave is wide enough to be seen, and of the fins while they scull. */
  function record() {
    let from = null;
    const seen = (/** @type {number} */ f) => swum.wide.at(f) > 0.3;
    let before = 0;
    for (let f = first; f <= first + frames - 1; f++) {
      const turn = Math.floor((at(phases, f) - sense) / (2 * Math.PI));
      if (f > first && turn > before) {
        if (from !== null && f - from >= 4 && seen(from) && seen(f)) {
          events.push({
            kind: "beat",
            figure: id,
            limbs: [limb.tail],
            from,
            top: Math.round((from + f) / 2),
            to: f,
          });
        }
        from = f;
      }
      before = turn;
    }
    const period = rate / sculling;
    for (let f = first + period; f + period < first + frames - 1; f += period) {
      if (swum.scull.at(f) < 0.6 || swum.scull.at(f + period) < 0.6) continue;
      events.push({
        kind: "beat",
        figure: id,
        limbs: limb.fins,
        from: Math.round(f),
        top: Math.round(f + period / 2),
        to: Math.round(f + period),
      });
    }
  }
  return play({
    ...stage,
    medium: "water",
    groundHeight: -2.5 * size - 1,
    root: (frame) => {
      const side = sideways(frame);
      const heading = (yaw + swum.heading.at(frame)) * radians;
      return {
        position: [
          at(xs, frame) + side * Math.cos(heading) + float[0](frame),
          at(ys, frame) + float[1](frame),
          at(zs, frame) - side * Math.sin(heading) + float[2](frame),
        ],
        yaw,
      };
    },
    legs: [],
    loose: [
      {
        joints: [stage.named("back_fin"), stage.named("back_fin_tip")],
        frequency: 3,
        damping: 0.9,
        limit: 0.3,
      },
    ],
    events,
    body,
  }).performance;
}

const soft = (/** @type {number} */ t) => t * t * (3 - 2 * t);

/** Beats per second of steady swimming: slower in longer fish (from memory). @param {Pool} stage */
const pace = ({ random, big }) => random.between(1.7, 2.3) / big;

/** Cruises, turns, bursts and glides. @param {Random} random @param {number} frames @returns {Performance} */
export function swimOfFish(random, frames) {
  const stage = pool(random, frames);
  const { swum, rate, first, last, moved, big, size } = stage;
  const usual = pace(stage);
  const start = random.between(0.75, 0.95);
  swum.beat.add(() => usual);
  swum.wide.add(() => start);
  swum.spread.add(() => 0.05);
  let at = first + Math.round(rate * random.between(0.5, 1));
  let level = start;
  let acts = random.shuffled(["turn", "burst", "glide", "turn"]);
  while (at < last - rate * 0.8) {
    if (acts.length === 0) acts = random.shuffled(["turn", "burst", "glide"]);
    const act = acts.pop();
    const span = rate * big * random.between(0.6, 0.9);
    if (act === "turn") {
      const by = random.between(35, 75) * random.pick([-1, 1]);
      swum.heading.move(at, at + span, by);
      swum.wide.bump(at, at + 0.5 * span, at + span, -0.25);
      moved("turn", ["head", "body", "spine_1", "spine_2", "spine_3"], at, at + span);
      at += Math.round(span + rate * random.between(0.2, 0.5));
    } else if (act === "burst") {
      // A few quick wide beats, then straight and still while the water slows it, then on.
      const beats = random.between(0.9, 1.3) * rate * Math.min(1.3, big);
      const still = rate * big * random.between(0.9, 1.3);
      swum.beat
        .move(at, at + 0.3 * beats, 0.6 * usual)
        .move(at + beats, at + beats + 0.4 * still, -0.6 * usual);
      swum.wide
        .move(at, at + 0.35 * beats, 1.25 - level)
        .move(at + beats, at + beats + 0.3 * still, -1.2)
        .move(at + beats + still, at + beats + still + 0.4 * rate * big, start - 0.05);
      swum.pitch.bump(at, at + beats, at + beats + still, random.between(-9, 9));
      moved("burst", ["spine_3", "spine_4", "spine_5", "spine_6", "tail_fin"], at, at + beats);
      level = start;
      at += Math.round(beats + still + 0.5 * rate * big);
    } else {
      const still = rate * big * random.between(0.9, 1.3);
      swum.wide.move(at, at + 0.35 * still, 0.05 - level).move(at + still, at + 1.35 * still, start - 0.05);
      swum.spread.bump(at + 4, at + 0.5 * still, at + 1.2 * still, 0.3);
      level = start;
      at += Math.round(1.45 * still);
    }
  }
  const steady = (2 * width(1) * size) / strouhal;
  return swim(stage, { speed: steady * usual * start, yaw: random.between(-90, 90), sculling: 1.6 });
}

/** Hovers with its fins, looks, turns on the spot and darts off. @param {Random} random @param {number} frames
 * @returns {Performance} */
export function hoverOfFish(random, frames) {
  const stage = pool(random, frames);
  const { swum, rate, first, last, moved, held, big } = stage;
  const usual = pace(stage);
  swum.beat.add(() => 0.6 * usual);
  swum.wide.add(() => 0.12);
  swum.scull.add(() => 1);
  swum.spread.add(() => 0.9);
  swum.brake.add(() => 6);
  const dart = first + Math.round(frames * random.between(0.5, 0.6));
  let at = first + Math.round(rate * random.between(0.5, 0.9));
  held(["body", "head"], first, at - 1);
  while (at + rate * 0.7 * big < dart - 0.2 * rate) {
    const span = rate * big * random.between(0.55, 0.75);
    const by = random.between(18, 45) * random.pick([-1, 1]);
    swum.heading.move(at, at + span, by);
    swum.pitch.bump(at, at + span * 0.6, at + 1.6 * span, random.between(-7, 7));
    moved("turn on the spot", ["head", "body", "spine_1", "spine_2"], at, at + span);
    const rest = rate * random.between(0.4, 0.9);
    held(["body", "head"], at + span + 4, Math.min(dart - 2, at + span + rest));
    at += Math.round(span + rest);
  }
  // The dart: the body bends to one side, opens, and beats.
  const bend = Math.round(0.3 * rate * big);
  swum.heading.move(dart, dart + bend * 1.5, random.between(45, 80) * random.pick([-1, 1]));
  swum.scull.move(dart - 2, dart + 0.5 * bend, -1);
  swum.spread.move(dart, dart + bend, -0.85);
  swum.brake.move(dart, dart + bend, -6);
  swum.beat
    .move(dart + 0.5 * bend, dart + 1.6 * bend, 1.1 * usual)
    .move(dart + 4 * bend, dart + 8 * bend, -0.7 * usual);
  swum.wide.move(dart + 0.7 * bend, dart + 1.8 * bend, 1.1).move(dart + 4 * bend, dart + 6 * bend, -0.45);
  swum.pitch.move(dart, dart + 2 * bend, random.between(-8, 8));
  moved(
    "dart",
    ["head", "body", "spine_1", "spine_2", "spine_3", "spine_4"],
    dart,
    Math.min(last, dart + 2 * bend),
  );
  return swim(stage, {
    speed: 0,
    yaw: random.between(-90, 90),
    sculling: random.between(1.5, 2.1) / Math.sqrt(big),
  });
}
