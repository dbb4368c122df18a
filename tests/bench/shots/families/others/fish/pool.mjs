// @ts-check
/**
 * Fish. Waves run down the body, wider towards the tail; the tail's work drives it, the water slows it: thrust goes with
 * (rate × width)² and drag with the square of the speed, so that steady swimming has one Strouhal number (about 0.3:
 * Triantafyllou et al. 1993, from memory). No fall: the body floats.
 * @import { Performance, Random } from "../../../types.d.ts"
 */
import { fish, fishLinks, rootAt } from "../../../bodies/fish.mjs";
import { plainStage } from "../no-legs/stage.mjs";
import { play } from "../tools/engine.mjs";
import { Lane, wandering } from "../tools/lane.mjs";

export const strouhal = 0.3;
const radians = Math.PI / 180;
/** Half of the way that the body goes sideways, in lengths, by the place along it (saithe: Videler & Hess 1984, from memory). */
export const width = (/** @type {number} */ x) => 0.02 - 0.08 * x + 0.16 * x * x;
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
export function pool(random, frames) {
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
export function swim(stage, { speed, yaw, sculling }) {
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
