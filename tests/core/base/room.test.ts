import { expect, test } from "vitest";
import { bytes, floats, integers } from "../../../packages/core/base/room.ts";

const kinds = [
  ["floats", floats],
  ["bytes", bytes],
  ["integers", integers],
] as const;

test.each(kinds)("%s gives zeros of the length that is asked for", (_, room) => {
  for (const length of [0, 1, 7, 240, 2048, 16_385, 100_000]) {
    const series = room(length);
    expect(series).toHaveLength(length);
    expect(series.every((value) => value === 0)).toBe(true);
  }
});

test("no series lies in another, whatever their kinds and lengths", () => {
  const all = Array.from({ length: 600 }, (_, i) => {
    const [, room] = kinds[i % 3];
    const series = room((i * 37) % 911);
    series.fill((i % 200) + 1);
    return series;
  });
  all.forEach((series, i) => {
    expect(series.every((value) => value === (i % 200) + 1)).toBe(true);
  });
});
