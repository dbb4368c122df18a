// @ts-check
/** The root's path as a picture: one tick per frame, so that spacing shows; numbers every so many frames; notes beside it. */
import { element, label, niceStep, short, through } from "./markup.mjs";
import { bestView } from "./view.mjs";

const width = 1000;
const margin = 46;

/**
 * @param {import("../look.mjs").Look} look
 * @param {readonly [number, number]} [span] first and last index into the frames; all of them if left out
 * @returns {{ svg: string, view: string, apart: number }} `apart`: metres by which each frame is moved on to the right,
 *   where the figure stays in its place and the path would lie on itself; else 0
 */
export function pathPicture(look, span = [0, look.frames.length - 1]) {
  const [from, to] = span;
  const frames = look.frames.subarray(from, to + 1);
  const root = look.root.subarray(3 * from, 3 * to + 3);
  const seen = bestView(root);
  const apart = travelOf(root) < 0.6 * look.stature ? (3.2 * look.stature) / frames.length : 0;
  /** @type {import("./view.mjs").View} */
  const view = {
    ...seen,
    flat: (p, at = 0) => [seen.flat(p, at)[0] + (apart * at) / 3, seen.flat(p, at)[1]],
  };
  const points = Array.from(frames, (_, i) => view.flat(root, 3 * i));
  const poses = posesAlong(look, view, points, from);
  const everything = [...points, ...poses.flat(2)];
  const xs = everything.map(([x]) => x);
  const ys = everything.map(([, y]) => y);
  const grounds = view.seesGround ? look.grounds.filter((y) => y > Math.min(...ys) - 0.6) : [];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(...ys, ...grounds), Math.max(...ys)];
  const scale = Math.min(
    (width - 2 * margin) / Math.max(right - left, 0.2),
    400 / Math.max(high - low, 0.05),
  );
  const height = Math.max(120, (high - low) * scale + 2 * margin);
  const inset = (width - (right - left) * scale) / 2;
  const place = (/** @type {readonly number[]} */ [x, y]) => [
    inset + (x - left) * scale,
    height - margin - (y - low) * scale,
  ];
  const drawn = points.map(place);
  const parts = grounds.map((y) => {
    const at = place([left, y])[1];
    return element("line", { class: "ground", x1: 10, x2: width - 10, y1: at, y2: at });
  });
  for (const pose of poses) {
    const d = pose.map((bone) => through(bone.map(place))).join("");
    parts.push(element("path", { class: "pose", d }));
  }
  parts.push(element("path", { class: "trail", d: through(drawn) }));
  const step = Math.max(5, niceStep(frames.length, 14));
  /** @type {number[][]} */
  const numbers = [];
  drawn.forEach((_, i) => {
    parts.push(...tick(drawn, i, frames[i], step, numbers));
  });
  parts.push(...noteMarks(look, drawn, frames), scaleBar(scale, height));
  const title = `Path of ${look.rootName}, ${view.name}`;
  return {
    svg: element(
      "svg",
      { viewBox: `0 0 ${width} ${short(height)}`, role: "img", "aria-label": title },
      parts,
    ),
    view: view.name,
    apart,
  };
}

/** Direction square to the path at a point. @param {number[][]} drawn @param {number} i */
function square(drawn, i) {
  const a = drawn[Math.max(0, i - 1)];
  const b = drawn[Math.min(drawn.length - 1, i + 1)];
  const size = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return size < 0.3 ? [0, 1] : [-(b[1] - a[1]) / size, (b[0] - a[0]) / size];
}

/**
 * @param {number[][]} drawn @param {number} i @param {number} frame @param {number} step
 * @param {number[][]} numbers places of the frame numbers so far; one that would lie on another is left out
 */
function tick(drawn, i, frame, step, numbers) {
  const [x, y] = drawn[i];
  const [nx, ny] = square(drawn, i);
  const numbered = Math.round(frame) % step === 0;
  const half = numbered ? 8 : 4.5;
  const attributes = { x1: x - nx * half, y1: y - ny * half, x2: x + nx * half, y2: y + ny * half };
  const line = element("line", { class: numbered ? "tick whole" : "tick", ...attributes });
  if (!numbered) return [line];
  const side = ny >= 0 ? 1 : -1;
  const anchor = Math.abs(nx) > 0.7 ? (nx * side > 0 ? "start" : "end") : "middle";
  const place = [x + nx * side * 19, y + ny * side * 19 + 4];
  if (numbers.some((other) => Math.abs(other[0] - place[0]) < 34 && Math.abs(other[1] - place[1]) < 14))
    return [line];
  numbers.push(place);
  const words = label(place[0], place[1], String(Math.round(frame)), {
    class: "number",
    "text-anchor": anchor,
  });
  return [line, words];
}

/**
 * The ten biggest notes, numbered as in the list, on the other side of the path than the frame numbers. Where several
 * stand at a frame, the biggest is marked, and how many more there are.
 * @param {import("../look.mjs").Look} look @param {number[][]} drawn @param {Float64Array} frames
 */
function noteMarks(look, drawn, frames) {
  /** @type {Map<number, number[]>} */
  const groups = new Map();
  look.notes.slice(0, 10).forEach((note, n) => {
    const middle = (note.frames[0] + note.frames[1]) / 2;
    if (middle < frames[0] || middle > frames[frames.length - 1]) return;
    const at = nearest(frames, middle);
    const near = [...groups.keys()].find((other) => Math.abs(other - at) <= 1) ?? at;
    groups.set(near, [...(groups.get(near) ?? []), n]);
  });
  /** @type {number[][]} */
  const taken = [];
  return [...groups].flatMap(([i, [n, ...more]]) => {
    const { tier } = look.notes[n];
    const [nx, ny] = square(drawn, i);
    const side = ny >= 0 ? -1 : 1;
    let far = 26;
    const spot = () => [drawn[i][0] + nx * side * far, drawn[i][1] + ny * side * far];
    while (far < 90 && taken.some(([x, y]) => Math.hypot(x - spot()[0], y - spot()[1]) < 21)) far += 7;
    const [x, y] = spot();
    taken.push([x, y]);
    const others = more.length > 0 ? [label(x + 13, y + 4, `+${more.length}`, { class: "number" })] : [];
    return [
      element("line", { class: `leader ${tier}`, x1: drawn[i][0], y1: drawn[i][1], x2: x, y2: y }),
      disc(x, y, n + 1, tier),
      ...others,
    ];
  });
}

/** A note's number in its mark; the mark links to the note in the list. @param {number} x @param {number} y @param {number} number @param {string} tier */
export function disc(x, y, number, tier) {
  return element("a", { href: `#note-${number}`, class: `mark ${tier}` }, [
    element("circle", { cx: x, cy: y, r: 9.5 }),
    label(x, y + 4, String(number), { "text-anchor": "middle" }),
  ]);
}

/** @param {Float64Array} frames @param {number} frame */
export function nearest(frames, frame) {
  let best = 0;
  for (let i = 1; i < frames.length; i++) {
    if (Math.abs(frames[i] - frame) < Math.abs(frames[best] - frame)) best = i;
  }
  return best;
}

/**
 * Bones of the figure at a few frames that stand apart in the picture.
 * @param {import("../look.mjs").Look} look @param {import("./view.mjs").View} view @param {[number, number][]} points
 * @param {number} from index of the first frame
 * @returns {[number, number][][][]}
 */
function posesAlong(look, view, points, from) {
  const chosen = [];
  /** @type {[number, number] | null} */
  let last = null;
  for (let i = 0; i < points.length; i++) {
    const apart =
      last === null || Math.hypot(points[i][0] - last[0], points[i][1] - last[1]) > 0.42 * look.stature;
    if (!apart) continue;
    chosen.push(i);
    last = points[i];
  }
  const drawnOf = (/** @type {Float64Array} */ place, /** @type {number} */ i) =>
    view.flat(place.subarray(3 * from), 3 * i);
  return chosen.map((i) => look.bones.map(([a, b]) => [drawnOf(a, i), drawnOf(b, i)]));
}

/** Distance over the ground from a path's first to its farthest point. @param {Float64Array} root */
function travelOf(root) {
  let far = 0;
  for (let i = 0; i < root.length; i += 3)
    far = Math.max(far, Math.hypot(root[i] - root[0], root[i + 2] - root[2]));
  return far;
}

/**
 * The longest stretch in which the figure stays in its place while the shot as a whole travels: it deserves a closer
 * look. Null where there is none of 24 frames or more.
 * @param {import("../look.mjs").Look} look @returns {[number, number] | null}
 */
export function stayOf(look) {
  const { root, stature } = look;
  const count = root.length / 3;
  if (travelOf(root) < 0.6 * stature) return null;
  /** @type {[number, number]} */
  let best = [0, 0];
  for (let from = 0; from < count; from++) {
    let to = from;
    while (to + 1 < count && travelOf(root.subarray(3 * from, 3 * to + 6)) < 0.15 * stature) to++;
    if (to - from > best[1] - best[0]) best = [from, to];
  }
  return best[1] - best[0] >= 24 ? best : null;
}

/** @param {number} scale pixels per metre @param {number} height */
function scaleBar(scale, height) {
  const metres = niceStep(140 / scale, 1.4);
  const words = metres >= 1 ? `${metres} m` : `${Math.round(metres * 100)} cm`;
  const y = height - 14;
  return [
    element("path", { class: "scale", d: `M14 ${short(y - 4)}v8m0-4h${short(metres * scale)}m0-4v8` }),
    label(20 + metres * scale, y + 4, words, { class: "number" }),
  ].join("");
}
