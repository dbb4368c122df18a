// @ts-check
/**
 * Flight by beats. Quasi-steady: the air's force on a wing goes with the square of its speed through the air, so that a
 * stroke lifts by `lift` times the square of the wing's turning speed about the shoulder. The upstroke gives a share of
 * that: 14 % in slow and 39 % in quick flight, nothing at the turns (cockatiels: Hedrick, Usherwood & Biewener 2004). So
 * the mean lift of equal beats goes with (rate × amplitude)². What the body does up and down follows by integration.
 *
 * A glide is another force: spread wings that hardly move carry what their angle to the air gives. There the climb is
 * given, and the force that it asks for has to stay between nothing and twice the weight.
 */

export const gravity = 9.80665;
const substeps = 16;

/**
 * @typedef {object} Stroke
 * @property {number} from frame @property {number} to @property {number} a angle at the start, degrees @property {number} b
 */

export class Air {
  /** @type {Stroke[]} */
  strokes = [];
  /** @type {{ from: number, in: number, to: number, out: number, speed: (frame: number) => number }[]} */
  glides = [];
  /** @type {number[]} */
  #heights;
  /** @type {number[]} */
  #climbs;

  /**
   * @param {object} about
   * @param {number} about.rate frames per second
   * @param {number} about.sweep degrees of a stroke of level flight, top to bottom
   * @param {number} about.period frames of a beat of level flight @param {number} about.down share of it that is downstroke
   * @param {number} about.up share of lift in the upstroke
   * @param {number} about.from frame at which the air takes over @param {number} about.height @param {number} about.climb
   *   metres and metres per second there
   */
  constructor({ rate, sweep, period, down, up, from, height, climb }) {
    this.rate = rate;
    this.down = down;
    this.up = up;
    this.from = from;
    const seconds = period / rate;
    /** Lift per squared turning speed, m/s² per (rad/s)²: what makes equal beats of level flight carry the weight. */
    this.lift = (gravity * seconds) / this.#work(sweep, seconds * down, sweep, seconds * (1 - down));
    /** How much slower than on average the body climbs at the top of a beat, metres per second. */
    this.dip = 0.5 * gravity * (1 - up) * seconds * (1 - down);
    this.#heights = [height];
    this.#climbs = [climb];
  }

  /** Integral of the squared turning speed over a beat, upstroke by its share. @param {number} a degrees down
   * @param {number} Ta seconds @param {number} b degrees up @param {number} Tb */
  #work(a, Ta, b, Tb) {
    const rad = Math.PI / 180;
    return (Math.PI ** 2 / 8) * ((a * rad) ** 2 / Ta + (this.up * (b * rad) ** 2) / Tb);
  }

  /** The frame up to which the flight is known. */
  get end() {
    return this.from + (this.#heights.length - 1) / substeps;
  }

  /** The climb at the end, metres per second. */
  get climbing() {
    return this.#climbs[this.#climbs.length - 1];
  }

  /** Adds a stroke behind the last one. @param {number} from @param {number} frames @param {number} a @param {number} b */
  stroke(from, frames, a, b) {
    this.strokes.push({ from, to: from + frames, a, b });
  }

  /**
   * A beat from where the flight has got to: down and up again, as wide as the wanted climb needs.
   * @param {number} frames @param {number} climb wanted on average behind it, metres per second: at its end the wings are at
   *   their top and the body sinks by `dip` more
   * @param {number} top degrees @param {(sweep: number) => number} nextTop where the next beat starts
   * @param {number} [widest] degrees
   * @returns {{ from: number, bottom: number, to: number, sweep: number }}
   */
  beat(frames, climb, top, nextTop, widest = 125) {
    const from = this.end;
    const [Ta, Tb] = [(frames * this.down) / this.rate, (frames * (1 - this.down)) / this.rate];
    const needed = (climb - this.dip - this.climbing + gravity * (Ta + Tb)) / this.lift;
    const sweep = Math.min(widest, Math.sqrt(Math.max(0.04 * gravity, needed) / this.#work(1, Ta, 1, Tb)));
    const bottom = from + frames * this.down;
    this.stroke(from, bottom - from, top, top - sweep);
    this.stroke(bottom, from + frames - bottom, top - sweep, nextTop(sweep));
    this.advance(from + frames);
    return { from, bottom, to: from + frames, sweep };
  }

  /** The wing's angle at the shoulder, degrees. @param {number} frame */
  angle(frame) {
    const { strokes } = this;
    if (strokes.length === 0) return 0;
    let one = strokes[0];
    for (const stroke of strokes) if (stroke.from <= frame) one = stroke;
    const tau = Math.max(0, Math.min(1, (frame - one.from) / (one.to - one.from)));
    return one.a + ((one.b - one.a) * (1 - Math.cos(Math.PI * tau))) / 2;
  }

  /** Lift of the strokes, m/s². @param {number} frame */
  beating(frame) {
    const one = this.strokes.find(({ from, to }) => frame >= from && frame < to);
    if (one === undefined) return 0;
    const T = (one.to - one.from) / this.rate;
    const speed =
      ((((one.b - one.a) * Math.PI) / 180) *
        Math.PI *
        Math.sin((Math.PI * (frame - one.from)) / (one.to - one.from))) /
      (2 * T);
    return this.lift * speed * speed * (one.b < one.a ? 1 : this.up);
  }

  /**
   * A glide: its share of the flight rises over `in` frames from `from`, and goes over `out` frames up to `to`.
   * @param {number} from @param {number} into @param {number} to @param {number} out
   * @param {(frame: number) => number} speed climb while gliding, metres per second
   */
  glide(from, into, to, out, speed) {
    this.glides.push({ from, in: into, to, out, speed });
  }

  /** @param {number} frame */
  #acceleration(frame) {
    let value = this.beating(frame) - gravity;
    for (const { from, in: into, to, out, speed } of this.glides) {
      const share = soft((frame - from) / into) * (1 - soft((frame - to + out) / out));
      if (share <= 0) continue;
      const pull = (speed(frame + 0.5) - speed(frame - 0.5)) * this.rate;
      value = value * (1 - share) + pull * share;
    }
    return value;
  }

  /** Integrates on. @param {number} to frame */
  advance(to) {
    const h = 1 / (substeps * this.rate);
    for (let n = this.#heights.length; this.from + n / substeps <= to + 1e-9; n++) {
      const frame = this.from + (n - 0.5) / substeps;
      const before = this.#climbs[n - 1];
      const climb = before + h * this.#acceleration(frame);
      this.#climbs.push(climb);
      this.#heights.push(this.#heights[n - 1] + (h * (before + climb)) / 2);
    }
  }

  /** Forgets what is behind a frame, strokes and glides apart. @param {number} frame */
  rewind(frame) {
    const kept = Math.round((frame - this.from) * substeps) + 1;
    this.#heights.length = Math.min(this.#heights.length, kept);
    this.#climbs.length = Math.min(this.#climbs.length, kept);
  }

  /** Height of the centre of mass. @param {number} frame */
  height(frame) {
    return sampled(this.#heights, (frame - this.from) * substeps);
  }

  /** Climb, metres per second. @param {number} frame */
  climb(frame) {
    return sampled(this.#climbs, (frame - this.from) * substeps);
  }
}

/** @param {number[]} values @param {number} index */
function sampled(values, index) {
  const i = Math.max(0, Math.min(values.length - 2, Math.floor(index)));
  return values[i] + (values[i + 1] - values[i]) * Math.max(0, Math.min(1, index - i));
}

/** @param {number} tau */
const soft = (tau) => {
  const t = Math.max(0, Math.min(1, tau));
  return t * t * t * (10 + t * (6 * t - 15));
};
