// @ts-check
/** Height and speed of the root over the frames, and below them the notes as bars at their frames. */
import { element, label, niceStep, short, through } from "./markup.mjs";
import { disc } from "./path-picture.mjs";

const width = 1000;
const left = 58;
const right = 30;
const graph = 120;
const gap = 38;
const lane = 24;

/** @param {import("../look.mjs").Look} look @returns {string} */
export function timePicture(look) {
  const { frames, notes } = look;
  const first = frames[0];
  const last = frames[frames.length - 1];
  const across = (/** @type {number} */ frame) =>
    left + ((frame - first) / (last - first || 1)) * (width - left - right);
  const lanes = stacked(
    notes.map(({ frames: [a, b] }) => [across(a) - 13, Math.max(across(b), across(a) + 2) + 13]),
  );
  const laneCount = Math.max(1, ...lanes.map((n) => n + 1));
  const top = 20;
  const middle = top + graph + gap;
  const notesTop = middle + graph + gap;
  const height = notesTop + laneCount * lane + 34;
  const parts = [];
  const step = niceStep(last - first, 14);
  for (let frame = Math.ceil(first / step) * step; frame <= last; frame += step) {
    const x = across(frame);
    parts.push(element("line", { class: "grid", x1: x, x2: x, y1: top, y2: height - 26 }));
    parts.push(label(x, height - 10, String(frame), { class: "number", "text-anchor": "middle" }));
  }
  parts.push(...curve(look.height, "height, m", top, across, frames, false));
  parts.push(...curve(look.speed, "speed, m/s", middle, across, frames, true));
  notes.forEach((note, n) => {
    const y = notesTop + lanes[n] * lane + lane / 2;
    const [a, b] = note.frames;
    const x = across(a);
    const long = Math.max(across(b) - x, 2);
    parts.push(element("rect", { class: `span ${note.tier}`, x, y: y - 3, width: long, height: 6, rx: 3 }));
    parts.push(
      element("line", { class: `drop ${note.tier}`, x1: x + long / 2, x2: x + long / 2, y1: top, y2: y - 3 }),
    );
  });
  notes.forEach((note, n) => {
    const [a, b] = note.frames;
    const x = across(a) + Math.max(across(b) - across(a), 2) / 2;
    parts.push(disc(x, notesTop + lanes[n] * lane + lane / 2, n + 1, note.tier));
  });
  const title = `Height and speed of ${look.rootName} over the frames, with the notes`;
  return element(
    "svg",
    { viewBox: `0 0 ${width} ${short(height)}`, role: "img", "aria-label": title },
    parts,
  );
}

/**
 * @param {Float64Array} values @param {string} name @param {number} top
 * @param {(frame: number) => number} across @param {Float64Array} frames @param {boolean} fromZero
 */
function curve(values, name, top, across, frames, fromZero) {
  let low = fromZero ? 0 : Math.min(...values);
  let high = Math.max(...values);
  if (high - low < 1e-3) high = low + 1e-3;
  const room = fromZero ? 0 : (high - low) * 0.08;
  low -= room;
  high += fromZero ? high * 0.08 : room;
  const y = (/** @type {number} */ value) => top + graph - ((value - low) / (high - low)) * graph;
  const points = Array.from(values, (value, i) => [across(frames[i]), y(value)]);
  const parts = [
    element("line", { class: "axis", x1: left, x2: width - right, y1: top + graph, y2: top + graph }),
  ];
  const step = niceStep(high - low, 4);
  const digits = Math.max(0, -Math.floor(Math.log10(step)));
  for (let value = Math.ceil(low / step) * step; value <= high; value += step) {
    parts.push(element("line", { class: "grid", x1: left, x2: width - right, y1: y(value), y2: y(value) }));
    parts.push(
      label(left - 8, y(value) + 4, value.toFixed(digits), { class: "number", "text-anchor": "end" }),
    );
  }
  if (fromZero) {
    const floor = top + graph;
    parts.push(
      element("path", {
        class: "under",
        d: `${through([[points[0][0], floor], ...points, [points[points.length - 1][0], floor]])}Z`,
      }),
    );
  }
  parts.push(element("path", { class: "graph", d: through(points) }));
  parts.push(label(left, top - 6, name, { class: "name" }));
  return parts;
}

/**
 * A lane for each interval, so that none lies on another.
 * @param {number[][]} intervals @returns {number[]}
 */
export function stacked(intervals) {
  /** @type {number[]} */
  const lanes = new Array(intervals.length).fill(0);
  /** @type {number[][][]} */
  const used = [];
  intervals.forEach(([a, b], n) => {
    let free = used.findIndex((list) => list.every(([from, to]) => b < from || a > to));
    if (free < 0) free = used.push([]) - 1;
    used[free].push([a, b]);
    lanes[n] = free;
  });
  return lanes;
}
