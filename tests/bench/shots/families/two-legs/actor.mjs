// @ts-check
/** A figure that acts: its score, its feet, what it has done so far, and the events that tell of it. */
import { add, mix, rotate, toAngles, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { footCourse } from "./feet.mjs";
import { Score } from "./score.mjs";

/** @import { Event, Random } from "../../types.d.ts" @import { Rig } from "../../bodies/two-legs.mjs" */

/** The far past and the far future. */
const always = 1e7;

export class Actor {
  #home = /** @type {Map<string, number>} */ (new Map());
  /**
   * @param {object} about
   * @param {string} about.id @param {Rig} about.rig @param {number} about.rate @param {Random} about.random
   * @param {number} [about.x] @param {number} [about.z] where it stands @param {number} [about.heading] degrees
   * @param {number} [about.ground] metres
   */
  constructor({ id, rig, rate, random, x = 0, z = 0, heading = 0, ground = 0 }) {
    this.id = id;
    this.rig = rig;
    this.rate = rate;
    this.random = random;
    this.score = new Score();
    this.heading = heading;
    /** Slower and larger bodies keep the same proportions of time and height: Froude's law. */
    this.tempo = Math.sqrt(rig.body.stature / 1.75);
    this.lag = (rate / 24) * this.tempo;
    this.H = rig.body.stature;
    this.foot = rig.toeTip[2] - rig.heel[2];
    /** @type {Event[]} */
    this.events = [];
    /** @type {import("./pose.mjs").Grip[]} */
    this.grips = [];
    /** @type {import("./solve.mjs").Act["seats"]} */
    this.seats = [];
    /** @type {import("./solve.mjs").Act["loads"]} */
    this.loads = [];
    const toes = { l: random.between(5, 10), r: -random.between(4, 9) };
    /** How far each foot is turned out. @type {Record<"l" | "r", number>} */
    this.toeOut = toes;
    const half = rig.hipHalf * random.between(1.05, 1.35);
    this.half = half;
    const stagger = this.H * random.between(-0.018, 0.018);
    /** @type {Record<"l" | "r", import("./feet.mjs").Plant[]>} */
    this.plants = { l: [], r: [] };
    for (const side of sides) {
      const out = side === "l" ? 1 : -1;
      const at = add([x, ground, z], rotate(turn(1, heading), [out * half, 0, out * stagger]));
      this.plants[side].push(standingPlant(at, heading + toes[side]));
    }
    /** Mass towards the left foot: 0.5 is even. */
    this.share = random.between(0.42, 0.58);
    this.standHeight = Math.sqrt((0.968 * (rig.thigh + rig.shank)) ** 2 - (half - rig.hipHalf) ** 2);
    this.standHeight += rig.ankle + rig.hipDrop;
    const { score } = this;
    const [cx, , cz] = this.over(this.share);
    score.set("com.x", cx);
    score.set("com.z", cz);
    score.set("pelvis.h", this.standHeight + ground);
    score.set("pelvis.yaw", heading);
    score.set("look.yaw", heading);
    score.set("look.pitch", random.between(-2, 6));
    score.set("pelvis.pitch", random.between(0, 4));
    score.set("trunk.bend", random.between(1, 5));
    for (const side of sides) {
      score.set(`arm.out.${side}`, random.between(7, 12));
      score.set(`arm.flex.${side}`, random.between(-2, 5));
      score.set(`arm.turn.${side}`, random.between(0, 10));
      score.set(`elbow.${side}`, random.between(12, 24));
      score.set(`pron.${side}`, random.between(10, 30));
      score.set(`curl.${side}`, random.between(14, 26));
      score.set(`wrist.bend.${side}`, random.between(2, 8));
      score.set(`knee.out.${side}`, random.between(2, 8));
      score.set(`clavicle.lift.${side}`, random.between(0, 3));
    }
    /** Where carried things went along, once the shot was solved. @type {import("./pose.mjs").Place[]} */
    this.places = [];
    this.first = 0;
    for (const side of sides) {
      for (const channel of [
        "arm.flex",
        "arm.out",
        "arm.turn",
        "elbow",
        "pron",
        "wrist.bend",
        "curl",
        "clavicle.lift",
        "knee.out",
      ]) {
        this.#home.set(`${channel}.${side}`, score.end(`${channel}.${side}`));
      }
    }
    for (const channel of ["look.pitch", "pelvis.pitch", "trunk.bend"])
      this.#home.set(channel, score.end(channel));
    this.#breathe();
    this.feet = this.#courses();
  }

  #courses() {
    return { l: footCourse(this.rig, this.plants.l), r: footCourse(this.rig, this.plants.r) };
  }

  /** Forgets swings that were worked out from plants or flights which have changed since. */
  replanFeet() {
    this.feet = this.#courses();
  }

  /** What a channel is when the figure just stands. @param {string} channel */
  home(channel) {
    return this.#home.get(channel) ?? 0;
  }

  /** Frames of a time that is right for a grown person. @param {number} seconds */
  frames(seconds) {
    return Math.max(2, Math.round(seconds * this.rate * this.tempo));
  }

  /** The last plant planned for a foot. @param {"l" | "r"} side */
  plant(side) {
    return this.plants[side][this.plants[side].length - 1];
  }

  /** Middle between the feet, on the ground. */
  get middle() {
    return mix(this.plant("l").at, this.plant("r").at, 0.5);
  }

  /** Where the mass lies over the feet: `share` of the way from the right to the left one, a little before the ankles.
   * @param {number} share */
  over(share) {
    return add(
      mix(this.plant("r").at, this.plant("l").at, share),
      rotate(turn(1, this.heading), [0, 0, 0.19 * this.foot]),
    );
  }

  /** A direction of the figure on the ground. @param {number} ahead @param {number} [left] metres */
  way(ahead, left = 0) {
    return rotate(turn(1, this.heading), [left, 0, ahead]);
  }

  /** Shifts the mass over the feet. @param {number} from @param {number} to @param {number} share towards the left foot */
  shift(from, to, share) {
    const { score } = this;
    const [x, , z] = this.over(share);
    score.to("com.x", from, to, x);
    score.to("com.z", from, to, z);
    // The unloaded side's hip sinks; the trunk rights itself. Near the middle nothing is seen.
    const lean = 9 * (share - 0.5);
    score.to("pelvis.roll", from, to, lean);
    score.to("trunk.side", from + this.lag, to + 2 * this.lag, -0.9 * lean);
    this.share = share;
  }

  /** Plans a foot's next place. @param {import("./steps.mjs").Step} step */
  plantFoot(step) {
    const old = this.plant(step.side);
    const T = step.land - step.lift;
    old.to = step.lift;
    old.push = step.push ?? 0;
    old.heelOff = Math.max(old.flat, step.lift - (step.heel ?? 0.6 * T));
    this.plants[step.side].push({
      ...standingPlant(step.at, step.heading + this.toeOut[step.side]),
      from: step.land,
      strike: step.strike ?? 0,
      flat: step.land + (step.give ?? Math.max(2, 0.25 * T)),
      lift: step.raise ?? 0.02 * this.H,
      drop: (0.1 * (step.raise ?? 0.03 * this.H)) / this.lag,
      carry: step.carry ?? 0.2,
    });
  }

  /** Records a move of some joints. @param {string} name @param {number} from @param {number} to
   * @param {readonly string[]} joints @param {number} [limb] */
  tell(name, from, to, joints, limb) {
    this.events.push({
      kind: "move",
      name,
      figure: this.id,
      joints,
      ...(limb === undefined ? {} : { limb }),
      from: Math.round(from),
      peak: Math.round((from + to) / 2),
      to: Math.round(to),
    });
  }

  /** Records a moving hold. @param {number} from @param {number} to @param {readonly string[]} joints */
  rest(from, to, joints) {
    if (to - from >= 4) {
      this.events.push({
        kind: "hold",
        figure: this.id,
        joints,
        from: Math.ceil(from),
        to: Math.floor(to),
        moving: true,
      });
    }
  }

  /** Joints of the trunk above the root. */
  get trunk() {
    return this.rig.spine;
  }

  /** Joints of an arm with its shoulder; the shoulder alone where there is no arm. @param {"l" | "r"} side */
  arm(side) {
    const { arm, clavicle, upper, fore, hand } = this.rig.sides[side];
    return arm < 0 ? [clavicle] : [clavicle, upper, fore, hand];
  }

  /** Neck and head. */
  get headJoints() {
    return [...this.rig.necks, this.rig.head];
  }

  /** Breath, and the small wandering of a body that stands or holds: nothing alive is frozen. */
  #breathe() {
    const { score, random, rate, tempo, H } = this;
    const slow = random.fork("idle");
    const period = rate * tempo * slow.between(3.2, 4.6);
    const start = slow.between(0, 1);
    const breath = (/** @type {number} */ frame, late = 0) => {
      const turns = (frame - late) / period + start;
      const a = 2 * Math.PI * turns;
      // In quicker than out.
      return 0.5 - 0.5 * Math.cos(a + 0.45 * Math.sin(a));
    };
    score.addIdle("trunk.bend", (frame) => -0.9 * breath(frame));
    score.addIdle("clavicle.lift.l", (frame) => 0.9 * breath(frame, 2));
    score.addIdle("clavicle.lift.r", (frame) => 0.8 * breath(frame, 3));
    score.addIdle("look.pitch", (frame) => 0.4 * breath(frame, 4));
    /** @type {(channel: string, size: number) => void} */
    const wander = (channel, size) => {
      const waves = [0.11, 0.19, 0.31].map((hertz) => ({
        pace: (2 * Math.PI * hertz * slow.between(0.8, 1.25)) / (rate * tempo),
        phase: slow.between(0, 2 * Math.PI),
        size: size * slow.between(0.5, 1) * (0.13 / hertz),
      }));
      score.addIdle(channel, (frame) =>
        waves.reduce((sum, wave) => sum + wave.size * Math.sin(wave.pace * frame + wave.phase), 0),
      );
    };
    wander("com.x", 0.004 * H);
    wander("com.z", 0.0035 * H);
    wander("pelvis.h", 0.0006 * H);
    wander("pelvis.yaw", 0.5);
    wander("pelvis.roll", 0.35);
    wander("trunk.side", 0.4);
    wander("trunk.twist", 0.5);
    wander("look.yaw", 1.6);
    wander("look.pitch", 1.1);
    wander("look.roll", 0.5);
    for (const side of sides) {
      wander(`arm.flex.${side}`, 1.2);
      wander(`arm.out.${side}`, 0.8);
      wander(`elbow.${side}`, 1.6);
      wander(`wrist.bend.${side}`, 1.5);
      wander(`curl.${side}`, 2);
    }
  }
}

/** A foot that has stood for ever. @param {number[]} at @param {number} yaw @returns {import("./feet.mjs").Plant} */
export const standingPlant = (at, yaw) => ({
  from: -always,
  to: always,
  at,
  yaw,
  strike: 0,
  flat: -always,
  heelOff: always,
  push: 0,
  lift: 0,
  drop: 0,
  carry: 0,
});

/** Angles of a series of turns, near to each other. @param {string} order @param {number[][]} turns */
export function anglesOf(order, turns) {
  let near = [0, 0, 0];
  return turns.map((q) => {
    near = toAngles(order, q, near);
    return near;
  });
}
