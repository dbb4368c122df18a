/** Pictures of spacing, timing and paths: one dot per frame along the way. */
import { eased, line, ticks } from "./draw.mjs";

const arc = (t) => [22 + 246 * t, 122 - 340 * t * (1 - t)];
const along = (shares, way = arc) => shares.map(way);
const frames = (count, course = (t) => t) => Array.from({ length: count + 1 }, (_, i) => course(i / count));
const path = (way = arc) =>
  line(
    Array.from({ length: 65 }, (_, i) => way(i / 64)),
    "faint",
  );

const even = frames(12, (t) => t);

function kinked() {
  const corner = (t) =>
    t < 0.5 ? [22 + 200 * t, 118 - 170 * t] : [122 + 260 * (t - 0.5), 33 + 150 * (t - 0.5)];
  const round = (t) => {
    const bent = 1 / (1 + Math.exp(-14 * (t - 0.5)));
    const [a, b] = [
      [22 + 200 * t, 118 - 170 * t],
      [122 + 260 * (t - 0.5), 33 + 150 * (t - 0.5)],
    ];
    return [a[0] + (b[0] - a[0]) * bent, a[1] + (b[1] - a[1]) * bent];
  };
  return [
    path(corner) + ticks(along(even, corner), [6], "fault"),
    path(round) + ticks(along(even, round), [5, 6, 7], "good"),
  ];
}

function retraced() {
  const out = (t) => [30 + 225 * t, 108 - 60 * t];
  const back = (t) => [30 + 225 * t, 108 - 60 * t - 130 * t * (1 - t)];
  const shares = frames(9, eased);
  return [
    line([out(0), out(1)], "faint") + ticks(along(shares, out), [3, 4, 5, 6], "fault"),
    path(back) +
      line([out(0), out(1)], "faint") +
      ticks(along(shares, out), [], "good") +
      ticks(along(shares, back), [3, 4, 5, 6], "good"),
  ];
}

function straight() {
  const flat = (t) => [26 + 236 * t, 108 - 62 * t];
  const bowed = (t) => [26 + 236 * t, 108 - 62 * t - 150 * t * (1 - t)];
  const shares = frames(10, eased);
  const marks = [3, 4, 5, 6, 7];
  return [
    path(flat) + ticks(along(shares, flat), marks, "fault"),
    path(bowed) + ticks(along(shares, bowed), marks, "good"),
  ];
}

export const pictures = {
  "retraced-path": retraced(),
  "straight-path": straight(),
  "kinked-path": kinked(),
};
