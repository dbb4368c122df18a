import { describe, expect, test } from "vitest";
import { load, smallBody } from "../bodies-for-tests.ts";
import type { Performance, Vector } from "../types.d.ts";

const motion = await load("motion/index.mjs");
const { chainMotion } = await load("motion/chain.mjs");
const { densePosesOf } = await load("poses.mjs");

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
