import { expect, test } from "vitest";
import { addressOf, secondsAt } from "../../packages/player/footage-place.ts";

/** What needs no browser of the shot's own pictures and sound; tests/integration/player.test.ts has the rest. */

const images = { before: "renders/quay.", digits: 4, after: ".png", first: 998, last: 10020 };

test("a rendered frame is named by its number, with zeros before it where it is short", () => {
  expect(addressOf(images, 998)).toBe("renders/quay.0998.png");
  expect(addressOf(images, 10020)).toBe("renders/quay.10020.png");
});

test("there is none before the first, behind the last, or between two frames", () => {
  for (const frame of [997, 10021, 1000.5]) expect(addressOf(images, frame)).toBeNull();
  expect(addressOf({ ...images, first: -3 }, -1)).toBeNull();
});

test("the sound is as far in as the frames that have passed, at the shot's rate", () => {
  // Every frame of 24 a second, then every second one of them.
  expect(secondsAt({ rate: 24, frameStep: 1 }, 1001, 1025)).toBe(1);
  expect(secondsAt({ rate: 12, frameStep: 2 }, 1001, 1025)).toBe(1);
  expect(secondsAt({ rate: 24, frameStep: 1 }, 1001, 989)).toBe(-0.5);
});
