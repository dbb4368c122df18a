import { describe, expect, test } from "vitest";
import {
  beatsOf,
  extremesOf,
  liftOf,
  liftSeries,
  usualBeat,
} from "../../../../packages/core/motion/body/beat.ts";

const sine = (count: number, rate: number, frequency: number, amplitude: number) =>
  Float64Array.from({ length: count }, (_, i) => amplitude * Math.sin((2 * Math.PI * frequency * i) / rate));

describe("beats of a propulsor", () => {
  test.each([
    [24, 2, 30],
    [24, 3.3, 12],
    [120, 5, 0.6],
  ])("at %i Hz a beat of %f Hz with an amplitude of %f is measured", (rate, frequency, amplitude) => {
    const beats = beatsOf(sine(3 * rate, rate, frequency, amplitude), rate, 0.2 * amplitude);
    expect(beats.length).toBeGreaterThan(5);
    for (const beat of beats) {
      expect(Math.abs(beat.rate / frequency - 1)).toBeLessThan(0.03);
      expect(Math.abs(beat.amplitude / amplitude - 1)).toBeLessThan(0.03);
    }
    expect(Math.abs(usualBeat(beats) - rate / frequency)).toBeLessThanOrEqual(1);
  });

  test("a beat's two strokes are measured apart", () => {
    // Down by 2 in six samples, up by 2 in ten.
    const series = Float64Array.from({ length: 96 }, (_, i) => {
      const t = i % 16;
      return Math.cos(Math.PI * (t < 6 ? t / 6 : 1 + (t - 6) / 10));
    });
    const beats = beatsOf(series, 24, 0.2);
    expect(beats.length).toBeGreaterThan(5);
    for (const { from, to, strokes } of beats) {
      expect([strokes[0].from, strokes[1].to]).toEqual([from, to]);
      expect(strokes[0].to).toBe(strokes[1].from);
      expect(strokes[0].rises).toBe(!strokes[1].rises);
      for (const { rises, rate, amplitude } of strokes) {
        expect(Math.abs(rate / (rises ? 24 / 20 : 24 / 12) - 1)).toBeLessThan(0.1);
        expect(Math.abs(amplitude - 1)).toBeLessThan(0.1);
      }
    }
  });

  test("extremes alternate, and small wobble makes none", () => {
    const series = sine(96, 24, 1, 10).map((value, i) => value + (i % 2 === 0 ? 0.3 : -0.3));
    const extremes = extremesOf(series, 2);
    expect(extremes.length).toBeGreaterThanOrEqual(7);
    for (let i = 2; i < extremes.length; i++) {
      const rises = series[extremes[i]] > series[extremes[i - 1]];
      expect(rises).toBe(series[extremes[i - 1]] < series[extremes[i - 2]]);
    }
  });

  test("twice the rate, or twice the swing, lifts four times as much", () => {
    const lift = liftOf({ rate: 2, amplitude: 0.5 });
    expect(liftOf({ rate: 4, amplitude: 0.5 }) / lift).toBeCloseTo(4, 12);
    expect(liftOf({ rate: 2, amplitude: 1 }) / lift).toBeCloseTo(4, 12);
    const beats = beatsOf(sine(96, 24, 2, 1), 24, 0.1);
    const series = liftSeries(beats, 96);
    expect(series[48]).toBeCloseTo(liftOf({ rate: 2, amplitude: 1 }), 0);
    expect(series[0]).toBe(0);
  });

  test.each([0, 1, 2, 30])("a channel of %i samples that stands does not beat", (count) => {
    const still = new Float64Array(count).fill(4);
    expect(extremesOf(still, 0)).toEqual([]);
    expect(beatsOf(still, 24, 0.1)).toEqual([]);
    expect(usualBeat([])).toBe(0);
    expect([...liftSeries([], count)]).toEqual(new Array(count).fill(0));
  });
});
