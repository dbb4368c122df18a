import { describe, expect, test } from "vitest";
import {
  ankleHeight,
  curveThrough,
  g,
  motionDocument,
  standing,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { notesOfCheck } from "../../../support/shots.ts";

/**
 * A jump whose feet touch at any moment between two frames, after which the hips sink by so much within four frames.
 * @param reached metres over the ground at which the feet are a frame before, as legs that reach down for it
 */
function landing(touch: number, give: number, reached = Infinity) {
  const air = 12;
  const takeOff = touch - air;
  const speed = (g * (air / 24)) / 2 / 24;
  const { at } = curveThrough([
    [1, 0.88],
    [takeOff - 5, 0.7],
    [takeOff, 0.88, speed],
    [touch, 0.88, -speed],
    [touch + 0.5, 0.88 - give / 4],
    [touch + 4, 0.88 - give],
    [touch + 24, 0.88],
  ]);
  const foot = (side: "left" | "right") => (frame: number) => {
    const flat = standing(side);
    if (frame <= takeOff || frame >= touch) return flat;
    const over = Math.min(at(frame) - 0.88, reached * (touch - frame) ** 2);
    return { at: [flat.at[0], ankleHeight + over, flat.at[2]] as const };
  };
  return motionDocument({
    first: 1,
    last: 72,
    hips: (frame) => [0, at(frame), 0],
    left: foot("left"),
    right: foot("right"),
  });
}

describe("a landing", () => {
  const moments = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.6, 0.8].map((part) => 36 + part);
  test.each(moments)("that stands as it touches at frame %d is told", (touch) => {
    expect(notesOfCheck(landing(touch, 0), "no-settle")).toHaveLength(1);
  });
  test.each([0.03, 0.015])(
    "is told where the body falls on over feet that reach for the ground: %d m",
    (reached) => {
      expect(notesOfCheck(landing(36, 0, reached), "no-settle")).toHaveLength(1);
      expect(notesOfCheck(landing(36, 0.2, reached), "no-settle")).toEqual([]);
    },
  );
  test.each(moments)("that gives as legs do is none, at frame %d", (touch) => {
    expect(notesOfCheck(landing(touch, 0.2), "no-settle")).toEqual([]);
  });
});
