import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { load, smallBody } from "../bodies-for-tests.ts";
import type { Body, Joint, Performance, Vector } from "../types.d.ts";

const motion = await load("motion/index.mjs");
const { chainMotion } = await load("motion/chain.mjs");
const { densePosesOf } = await load("poses.mjs");
const { randomOf } = await load("random.mjs");
const { minimumJerk, eased } = motion;

const distance = (a: readonly number[], b: readonly number[]) =>
  Math.hypot(...a.map((part, k) => part - b[k]));

describe("eased moves", () => {
  // Flash & Hogan 1985: x = 10τ³ − 15τ⁴ + 6τ⁵, its speed peaks at 1.875 of the mean in the middle.
  test.each([
    [0.1, 0.00856],
    [0.25, 53 / 512],
    [0.5, 0.5],
    [0.75, 459 / 512],
  ])("have gone %d of their time: %d of their way", (tau, share) => {
    expect(eased(tau)).toBeCloseTo(share, 12);
  });

  test("are 1.875 times as quick as on average at their peak", () => {
    const h = 1e-5;
    expect((eased(0.5 + h) - eased(0.5 - h)) / (2 * h)).toBeCloseTo(1.875, 6);
    expect(minimumJerk(0.5)).toBe(0.5);
  });

  test("have done half of their way when they are told, and start and end at rest, without a jolt", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 0.7, noNaN: true }), (half) => {
        expect(eased(half, half)).toBeCloseTo(0.5, 9);
        expect([eased(-1, half), eased(0, half), eased(1, half), eased(2, half)]).toEqual([0, 0, 1, 1]);
        const h = 1e-3;
        expect(eased(h, half) / h).toBeLessThan(0.01);
        expect((1 - eased(1 - h, half)) / h).toBeLessThan(0.01);
        let before = 0;
        for (let tau = 0; tau <= 1; tau += 0.01) {
          expect(eased(tau, half)).toBeGreaterThanOrEqual(before);
          before = eased(tau, half);
        }
      }),
    );
  });

  test("of a gesture overlap as told, add up and leave an event", () => {
    const performance = still(60);
    const event = motion.addGesture(performance, {
      name: "nod",
      figure: "a",
      from: 10,
      to: 20,
      parts: [
        { joint: "head", channel: "rotation.x", by: 20 },
        { joint: "chest", channel: "rotation.x", by: 8, offset: -3, frames: 16 },
      ],
    });
    motion.addGesture(performance, {
      name: "back",
      figure: "a",
      from: 15,
      to: 30,
      parts: [{ joint: "head", channel: "rotation.x", by: -20 }],
    });
    expect(event).toEqual({ from: 7, peak: 15, to: 23 });
    expect(performance.events[0]).toMatchObject({ kind: "move", joints: ["head", "chest"], from: 7, to: 23 });
    const head = motion.trackOf(performance, "head", "rotation.x");
    expect([head[9], head[14], head[29]]).toEqual([0, 10, expect.closeTo(0, 9)]);
    expect(head[17]).toBeCloseTo(20 * minimumJerk(0.8) - 20 * minimumJerk(0.2), 9);
  });

  test("of holds and breath stay small, and begin and end at nothing", () => {
    const performance = still(200);
    motion.addMovingHold(performance, {
      figure: "a",
      parts: [{ joint: "chest", channel: "rotation.z", by: 0.3 }],
      from: 50,
      to: 150,
      random: randomOf("hold"),
    });
    const track: Float64Array = motion.trackOf(performance, "chest", "rotation.z");
    expect(Math.max(...track.map(Math.abs))).toBeLessThanOrEqual(0.3);
    expect(Math.max(...track.subarray(60, 140))).toBeGreaterThan(0.05);
    expect([...track.subarray(0, 50), ...track.subarray(150)].every((value) => value === 0)).toBe(true);
    motion.addBreath(performance, {
      parts: [{ joint: "spine", channel: "rotation.x", by: -1 }],
      random: randomOf("breath"),
    });
    const breath: Float64Array = motion.trackOf(performance, "spine", "rotation.x");
    expect(Math.min(...breath)).toBeGreaterThanOrEqual(-1.2);
    expect(Math.min(...breath)).toBeLessThan(-0.7);
  });
});

describe("flights", () => {
  // A drop from rest, d = g/2 · (n/fps)², g = 9.80665 m/s² exactly (CGPM 1901); in centimetres, by frames.
  test.each([
    [24, [0.85, 3.41, 7.66, 13.62, 21.28, 30.65, undefined, 54.48, undefined, 85.13, undefined, 122.58]],
    [25, [0.78, 3.14, 7.06, 12.55, 19.61, 28.24, undefined, 50.21, undefined, 78.45, undefined, 112.97]],
    [30, [0.54, 2.18, 4.9, 8.72, 13.62, 19.61, undefined, 34.87, undefined, 54.48, undefined, 78.45]],
  ])("fall at %d frames per second as free bodies do", (rate, table) => {
    const drop = (9.80665 / 2) * (12 / rate) ** 2;
    const course = motion.flightCourse(rate, 100, 112, [0, 2, 0], [0.6, 2 - drop, 0]);
    expect(course.velocity(100)[1]).toBeCloseTo(0, 12);
    table.forEach((fall, n) => {
      if (fall !== undefined) expect(100 * (2 - course.at(101 + n)[1])).toBeCloseTo(fall, 2);
    });
    expect(course.at(106)[0]).toBeCloseTo(0.3, 12);
  });

  // t = √(8h/g).
  test.each([
    [0.1, 0.2856],
    [0.3, 0.4947],
    [0.45, 0.6059],
    [0.6, 0.6996],
    [1, 0.9032],
  ])("that rise by %d m take %d s", (height, time) => {
    expect(motion.flightTime(height)).toBeCloseTo(time, 4);
    const frames = motion.flightTime(height) * 24;
    const course = motion.flightCourse(24, 0, frames, [0, 1, 0], [0, 1, 0]);
    expect(course.at(course.apex)[1]).toBeCloseTo(1 + height, 9);
  });

  test("carry the centre of mass whatever the limbs do", () => {
    const performance = still(40);
    for (const joint of ["thigh_l", "upper_arm_r", "chest"]) {
      motion.setTrack(performance, joint, "rotation.x", (frame: number) => 40 * Math.sin(0.3 * frame));
    }
    motion.addFlight(performance, "a", 10, 22, [0.2, 0.95, 0.9]);
    const poses = densePosesOf(performance);
    const step = 9.80665 / 24 ** 2;
    for (let frame = 11; frame <= 21; frame++) {
      const [a, b, c] = [-1, 0, 1].map((by) => poses.massCentre("a", frame + by));
      expect(a[1] - 2 * b[1] + c[1]).toBeCloseTo(-step, 9);
      expect(a[2] - 2 * b[2] + c[2]).toBeCloseTo(0, 9);
    }
    expect(performance.events).toContainEqual({ kind: "flight", figure: "a", from: 11, to: 21 });
  });
});

describe("solved limbs", () => {
  test("meet their target in place and turn, whatever the orders, rest directions and parents", () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 2, max: 5 }), (seed, bones) => {
        const { performance, limb } = randomLimb(seed, bones);
        const random = randomOf(`${seed} target`);
        const end = limb.joints[bones];
        for (let frame = 1; frame <= 3; frame++) {
          const start = motion.worldAt(performance, limb.joints[0], frame).position;
          const way = Array.from({ length: 3 }, () => random.between(-1, 1));
          const reach = random.between(0.6, 0.95) * limb.length;
          const target = start.map((part: number, k: number) => part + (way[k] / Math.hypot(...way)) * reach);
          const turn = Array.from({ length: 4 }, () => random.between(-1, 1));
          const unit = turn.map((part) => part / Math.hypot(...turn));
          const { miss } = motion.solveLimb(performance, "a", 0, frame, target, unit);
          const pose = motion.worldAt(performance, end, frame);
          expect(distance(pose.position, target)).toBeCloseTo(miss, 6);
          if (bones === 2 && limb.folds) expect(miss).toBeLessThan(1e-9);
          const same = pose.quaternion.reduce(
            (sum: number, part: number, k: number) => sum + part * unit[k],
            0,
          );
          expect(Math.abs(same)).toBeCloseTo(1, 9);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("bend to the pole: a knee forward if nothing is said, an elbow back", () => {
    const performance = still(2);
    motion.solveLimb(performance, "a", 0, 1, [0.09, 0.3, 0.1], [0, 0, 0, 1]);
    expect(motion.worldAt(performance, "shin_l", 1).position[2]).toBeGreaterThan(0.15);
    expect(motion.channelAt(performance, "shin_l", "rotation.x", 1)).toBeGreaterThan(20);
    expect(performance.tracks.has("shin_l rotation.y")).toBe(false);
    motion.solveLimb(performance, "a", 2, 1, [0.25, 1.2, 0.2], null);
    expect(motion.worldAt(performance, "forearm_l", 1).position[2]).toBeLessThan(0.05);
    motion.solveLimb(performance, "a", 0, 2, [0.09, 0.3, 0.1], null, [1, 0, 0]);
    expect(motion.worldAt(performance, "shin_l", 2).position[0]).toBeGreaterThan(0.25);
    expect([...performance.solved]).toContain("thigh_l rotation.x");
  });

  test("say by how much they miss what is out of reach", () => {
    const performance = still(1);
    const { stretch, miss } = motion.solveLimb(performance, "a", 0, 1, [0.09, -0.5, 0], null);
    expect(stretch).toBeCloseTo(1.42 / 0.84, 6);
    expect(miss).toBeCloseTo(0.58, 4);
  });

  test("turn on without a jump through more than a full turn", () => {
    const performance = still(120);
    motion.setTrack(performance, "hips", "rotation.y", (frame: number) => 6 * frame);
    for (let frame = 1; frame <= 120; frame++) {
      const { position } = motion.worldAt(performance, "hips", frame);
      motion.solveLimb(
        performance,
        "a",
        0,
        frame,
        [position[0] + 0.1, 0.2, position[2]],
        [0, 0, 0, 1],
        [0, 0, 1],
      );
    }
    for (const [name, values] of performance.tracks as Map<string, Float64Array>) {
      for (let i = 1; i < values.length; i++)
        expect(Math.abs(values[i] - values[i - 1]), name).toBeLessThan(60);
    }
  });

  test("are left as they are by resolve where nothing has changed, and hold their ends where something has", () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 2, max: 4 }), (seed, bones) => {
        const { performance, limb } = randomLimb(seed, bones);
        const random = randomOf(`${seed} pose`);
        for (const joint of limb.joints) {
          for (const axis of "xyz") {
            motion.setTrack(performance, joint, `rotation.${axis}`, () => random.between(-40, 40));
          }
        }
        const before = motion.copy(performance);
        motion.resolve(performance, before, "a", 0, 1, 3);
        for (const [name, values] of before.tracks as Map<string, Float64Array>) {
          values.forEach((value, i) => {
            expect(performance.tracks.get(name)?.[i]).toBeCloseTo(value, 5);
          });
        }
        motion.addTrack(performance, "hips", "translation.y", () => 0.01);
        motion.addTrack(performance, "hips", "rotation.x", () => 2);
        motion.resolve(performance, before, "a", 0, 2, 3);
        const [end, was] = [performance, before].map((one) => motion.worldAt(one, limb.joints[bones], 2));
        const start = motion.worldAt(performance, limb.joints[0], 2).position;
        if (
          distance(start, was.position) < 0.9 * limb.length &&
          distance(start, was.position) > 0.4 * limb.length
        ) {
          expect(distance(end.position, was.position)).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 40 },
    );
  });
});

test("a chain in waves that is solved again stays in its waves", () => {
  const { performance, limb } = randomLimb("waves", 5);
  limb.joints.slice(1, 5).forEach((joint, n) => {
    motion.setTrack(performance, joint, "rotation.x", () => (n % 2 === 0 ? 40 : -40));
  });
  const before = motion.copy(performance);
  motion.addTrack(performance, "hips", "translation.x", () => 0.002);
  motion.resolve(performance, before, "a", 0, 1, 3);
  const tips = [performance, before].map((one) => motion.worldAt(one, limb.joints[5], 2).position);
  expect(distance(tips[0], tips[1])).toBeLessThan(1e-6);
  for (const [name, values] of before.tracks as Map<string, Float64Array>) {
    if (!name.startsWith("j")) continue;
    // Two millimetres on bones of 0.1 m and more are a degree or so.
    values.forEach((value, i) => {
      expect(Math.abs((performance.tracks.get(name)?.[i] ?? 0) - value), name).toBeLessThan(3);
    });
  }
});

describe("chains", () => {
  // Lowest frequencies in Hz: a rod √(3g/2L)/2π, a hanging chain 2.4048/2·√(g/L)/2π.
  test.each([
    [1, 0.1, 1.93],
    [1, 0.2, 1.37],
    [1, 0.3, 1.11],
    [1, 0.5, 0.86],
    [1, 0.8, 0.68],
    [6, 0.1, 1.9],
    [6, 0.2, 1.34],
    [6, 0.3, 1.09],
    [6, 0.5, 0.85],
    [6, 0.8, 0.67],
  ])("of %d rods and %d m swing at %d Hz", (rods, length, frequency) => {
    expect(swingOf(rods, length)).toBeCloseTo(frequency, 1);
    expect(Math.abs(swingOf(rods, length) / frequency - 1)).toBeLessThan(0.012);
  });

  test("that are loose hang down before anything moves, and come to rest after it", () => {
    const performance = still(200);
    motion.addGesture(performance, {
      name: "turn",
      figure: "a",
      from: 30,
      to: 42,
      parts: [{ joint: "head", channel: "rotation.y", by: 60 }],
    });
    motion.dragLimb(performance, "a", 4);
    const poses = densePosesOf(performance);
    const below = (frame: number) => {
      const [top, tip] = ["hair_1", "hair_3"].map((joint) => poses.position(joint, frame));
      return Math.hypot(tip[0] - top[0], tip[2] - top[2]);
    };
    expect(below(1)).toBeLessThan(1e-4);
    expect(below(28)).toBeLessThan(1e-4);
    expect(Math.max(...Array.from({ length: 30 }, (_, n) => below(32 + n)))).toBeGreaterThan(0.02);
    expect(below(200)).toBeLessThan(1e-3);
  });

  test("trail a base that goes on evenly from before the shot, without a jolt at its first frame", () => {
    const performance = still(60);
    motion.setTrack(performance, "hips", "translation.z", (frame: number) => 0.06 * frame);
    motion.dragLimb(performance, "a", 4);
    const track: Float64Array = motion.trackOf(performance, "hair_1", "rotation.x");
    for (const value of track) expect(value).toBeCloseTo(track[0], 1);
  });
});

function still(frames: number): Performance {
  return motion.emptyPerformance({ rate: 24, frames, figures: [{ id: "a", body: smallBody() }] });
}

/** A limb of random bones and orders on parents that are turned at random. */
function randomLimb(seed: string, bones: number) {
  const random = randomOf(seed);
  const orders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] as const;
  const vector = (size: number): Vector => [0, 0, 0].map(() => random.between(-size, size)) as Vector;
  const joints: Joint[] = [
    { id: "hips", parent: null, at: [0, 1, 0], order: random.pick(orders) },
    { id: "mid", parent: "hips", at: vector(0.2), order: random.pick(orders) },
  ];
  for (let n = 0; n <= bones; n++) {
    const at: Vector = n > 0 && random.chance(0.5) ? [0, -0.3, 0.02 * n] : vector(0.3);
    joints.push({ id: `j${n}`, parent: n === 0 ? "mid" : `j${n - 1}`, at, order: random.pick(orders) });
  }
  const names = joints.slice(2).map(({ id }) => id);
  const lengths = joints.slice(3).map(({ at }) => Math.hypot(...at));
  const body: Body = {
    ...smallBody(),
    joints,
    root: "hips",
    limbs: [{ kind: "tail", side: "middle", joints: names, girdle: "mid" }],
    masses: { hips: 1 },
  };
  const performance: Performance = motion.emptyPerformance({
    rate: 24,
    frames: 3,
    figures: [{ id: "a", body }],
  });
  for (const joint of ["hips", "mid"]) {
    for (const axis of "xyz")
      motion.setTrack(performance, joint, `rotation.${axis}`, () => random.between(-170, 170));
  }
  const length = lengths.reduce((sum, one) => sum + one, 0);
  // Two bones of very different lengths do not reach a target that is near.
  const folds = bones !== 2 || Math.abs(lengths[0] - lengths[1]) < 0.55 * length;
  return { performance, limb: { joints: names, length, folds } };
}

/** The frequency in Hz at which a nudged chain swings, from the zero crossings of its lowest shape. */
function swingOf(rods: number, length: number): number {
  const rate = 120;
  const base = Array.from({ length: 6 * rate }, () => ({ at: [0, 0, 0], turn: [0, 0, 0, 1] }));
  const rest = shapeOf(rods, length);
  const how = { rods: rest, rate, lead: 0, damping: 0, stiffness: 0, gravity: 1 };
  const directions: Float64Array[] = chainMotion(base, how);
  const tip = base.map((_, i) => directions.reduce((sum, one) => sum + one[3 * i], 0));
  const crossings: number[] = [];
  for (let i = 1; i < tip.length; i++) {
    if (tip[i - 1] * tip[i] < 0) crossings.push(i - 1 + tip[i - 1] / (tip[i - 1] - tip[i]));
  }
  const halves = crossings.length - 1;
  return (halves * rate) / (2 * (crossings[halves] - crossings[0]));
}

/** Rods along the lowest shape of a hanging chain, a little to the side: the Bessel function J0 of its root; a rod is straight. */
function shapeOf(rods: number, length: number): Vector[] {
  const bessel = (x: number) => {
    let [sum, term] = [1, 1];
    for (let k = 1; k < 30; k++) {
      term *= -(x * x) / (4 * k * k);
      sum += term;
    }
    return sum;
  };
  const aside = (share: number) =>
    0.02 * length * (rods === 1 ? share : bessel(2.4048 * Math.sqrt(1 - share)));
  return Array.from({ length: rods }, (_, n) => {
    const dx = aside((n + 1) / rods) - aside(n / rods);
    return [dx, -Math.sqrt((length / rods) ** 2 - dx * dx), 0];
  });
}
