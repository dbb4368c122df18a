// @ts-check
/**
 * A picture of some frames of a figure: its poses as stick figures, the path of one joint with a tick per frame, and how
 * far it travels and turns from frame to frame. The clean twin is grey.
 * @import { Poses, Vector } from "../types.d.ts"
 */

const [panelWidth, panelHeight, pathHeight, chartHeight, margin] = [190, 260, 320, 90, 16];
const panels = 5;
const width = panels * panelWidth;
const twinColour = "#b0b0b0";
const colour = "#1d3557";
const marked = "#d1495b";

/** @typedef {(at: Vector) => [number, number]} Projection metres to the right and up, seen from the side */

/**
 * @param {object} what
 * @param {string} what.title
 * @param {Poses} what.poses @param {Poses | null} what.twin
 * @param {string} what.figure @param {string} what.joint
 * @param {number} what.from @param {number} what.to frames of the fault or note
 * @param {number} [what.beside] frames that are shown on either side
 * @returns {string} SVG
 */
export function picture({ title, poses, twin, figure, joint, from, to, beside = 6 }) {
  const first = Math.max(poses.first, from - beside);
  const last = Math.min(poses.first + poses.count - 1, to + beside);
  const shown = Array.from({ length: panels }, (_, i) =>
    Math.round(first + (i * (last - first)) / (panels - 1)),
  );
  const project = viewOf(poses, joint, first, last);
  const figures = shown.map((frame, i) => panelOf(poses, twin, figure, joint, frame, i, project));
  const path = pathOf(poses, twin, joint, { first, last, from, to }, project);
  const height = margin * 2 + panelHeight + pathHeight + 2 * chartHeight;
  const charts = [travel, turn].map((of, i) => {
    const top = margin + panelHeight + pathHeight + i * chartHeight;
    return chartOf(of, poses, twin, joint, { first, last, from, to }, top);
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="11">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
    `<text x="${margin}" y="${margin}" font-size="13">${escaped(title)}</text>`,
    ...figures,
    path,
    ...charts,
    "</svg>",
  ].join("\n");
}

/** A level view in which the joint's path is seen at its longest. @param {Poses} poses @param {string} joint @param {number} first @param {number} last @returns {Projection} */
function viewOf(poses, joint, first, last) {
  const points = Array.from({ length: last - first + 1 }, (_, i) => poses.position(joint, first + i));
  const mean = [0, 2].map((axis) => points.reduce((total, at) => total + at[axis], 0) / points.length);
  let [xx, xz, zz] = [0, 0, 0];
  for (const at of points) {
    const [x, z] = [at[0] - mean[0], at[2] - mean[1]];
    xx += x * x;
    xz += x * z;
    zz += z * z;
  }
  const spread = Math.sqrt((xx + zz) / points.length);
  // A joint that hardly travels is seen from three quarters.
  const angle = spread < 0.02 ? Math.PI / 4 : 0.5 * Math.atan2(2 * xz, xx - zz);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return ([x, y, z]) => [x * c + z * s, y];
}

/** @param {Poses} poses @param {Poses | null} twin @param {string} figure @param {string} joint @param {number} frame @param {number} index @param {Projection} project */
function panelOf(poses, twin, figure, joint, frame, index, project) {
  const body = poses.performance.figures.find(({ id }) => id === figure)?.body;
  if (body === undefined) return "";
  const at = body.joints.map(({ id }) => project(poses.position(id, frame)));
  const centre = middleOf(at.map(([x]) => x));
  const ground = poses.performance.ground.height;
  const low = Math.min(ground, ...at.map(([, y]) => y));
  const tall = Math.max(...at.map(([, y]) => y)) - low;
  const wide = Math.max(...at.map(([x]) => Math.abs(x - centre))) * 2;
  const scale = Math.min((panelHeight - 50) / Math.max(tall, 0.2), (panelWidth - 24) / Math.max(wide, 0.2));
  const left = index * panelWidth + panelWidth / 2;
  const base = margin + panelHeight - 20;
  const place = (/** @type {Vector} */ world) => {
    const [x, y] = project(world);
    return [left + scale * (x - centre), base - scale * (y - low)];
  };
  const sticks = (/** @type {Poses} */ of, /** @type {string} */ stroke) =>
    body.joints
      .filter(({ parent }) => parent !== null)
      .map(({ id, parent }) => {
        const [a, b] = [
          place(of.position(/** @type {string} */ (parent), frame)),
          place(of.position(id, frame)),
        ];
        return `<line x1="${n(a[0])}" y1="${n(a[1])}" x2="${n(b[0])}" y2="${n(b[1])}" stroke="${stroke}" stroke-width="2" stroke-linecap="round"/>`;
      });
  const [x, y] = place(poses.position(joint, frame));
  const floor = base - scale * (ground - low);
  return [
    `<line x1="${index * panelWidth + 6}" y1="${n(floor)}" x2="${(index + 1) * panelWidth - 6}" y2="${n(floor)}" stroke="#dddddd"/>`,
    ...(twin === null ? [] : sticks(twin, twinColour)),
    ...sticks(poses, colour),
    `<circle cx="${n(x)}" cy="${n(y)}" r="4" fill="none" stroke="${marked}" stroke-width="2"/>`,
    `<text x="${left}" y="${margin + panelHeight - 2}" text-anchor="middle">${frame}</text>`,
  ].join("\n");
}

/** @param {Poses} poses @param {Poses | null} twin @param {string} joint @param {{ first: number, last: number, from: number, to: number }} frames @param {Projection} project */
function pathOf(poses, twin, joint, { first, last, from, to }, project) {
  const frames = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const of = (/** @type {Poses} */ one) => frames.map((frame) => project(one.position(joint, frame)));
  const own = of(poses);
  const old = twin === null ? [] : of(twin);
  const all = [...own, ...old];
  const [lowX, highX] = [Math.min(...all.map(([x]) => x)), Math.max(...all.map(([x]) => x))];
  const [lowY, highY] = [Math.min(...all.map(([, y]) => y)), Math.max(...all.map(([, y]) => y))];
  const scale = Math.min(
    (width - 4 * margin) / Math.max(highX - lowX, 0.02),
    (pathHeight - 4 * margin) / Math.max(highY - lowY, 0.02),
  );
  const place = ([x, y] = [0, 0]) => [
    width / 2 + scale * (x - (lowX + highX) / 2),
    margin + panelHeight + pathHeight / 2 - scale * (y - (lowY + highY) / 2),
  ];
  const line = (
    /** @type {[number, number][]} */ points,
    /** @type {string} */ stroke,
    /** @type {number} */ radius,
  ) => [
    `<polyline fill="none" stroke="${stroke}" points="${points.map((at) => place(at).map(n).join(",")).join(" ")}"/>`,
    ...points.map((at, i) => {
      const [x, y] = place(at);
      const inside = frames[i] >= from && frames[i] <= to;
      return `<circle cx="${n(x)}" cy="${n(y)}" r="${inside ? radius + 1 : radius}" fill="${stroke === twinColour || !inside ? stroke : marked}"/>`;
    }),
  ];
  let shown = [Number.NEGATIVE_INFINITY, 0];
  const numbers = own.flatMap((at, i) => {
    const [x, y] = place(at);
    if (Math.hypot(x - shown[0], y - shown[1]) < 16) return [];
    shown = [x, y];
    return [`<text x="${n(x + 5)}" y="${n(y - 5)}" fill="#555555">${frames[i]}</text>`];
  });
  const centimetres = 100 * Math.max(highX - lowX, highY - lowY);
  return [
    `<text x="${margin}" y="${margin + panelHeight + 16}">path of ${escaped(joint)}, ${centimetres.toFixed(1)} cm across; red: the frames meant; grey: the clean twin</text>`,
    ...line(old, twinColour, 2),
    ...line(own, colour, 2.5),
    ...numbers,
  ].join("\n");
}

/**
 * What a joint does from one frame to the next.
 * @typedef {{ title: string, of: (poses: Poses, joint: string, frame: number) => number }} Step
 */

/** @type {Step} */
const travel = {
  title: "cm travelled per frame",
  of(poses, joint, frame) {
    const [a, b] = [poses.position(joint, frame - 1), poses.position(joint, frame)];
    return 100 * Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  },
};

/** @type {Step} */
const turn = {
  title: "degrees turned per frame",
  of(poses, joint, frame) {
    const [a, b] = [poses.orientation(joint, frame - 1), poses.orientation(joint, frame)];
    const along = Math.abs(a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]);
    return (360 / Math.PI) * Math.acos(Math.min(1, along));
  },
};

/** @param {Step} step @param {Poses} poses @param {Poses | null} twin @param {string} joint @param {{ first: number, last: number, from: number, to: number }} frames @param {number} top */
function chartOf({ title, of }, poses, twin, joint, { first, last, from, to }, top) {
  const frames = Array.from({ length: last - first }, (_, i) => first + 1 + i);
  const series = (/** @type {Poses} */ one) => frames.map((frame) => of(one, joint, frame));
  const own = series(poses);
  const old = twin === null ? [] : series(twin);
  const most = Math.max(1e-6, ...own, ...old);
  const x = (/** @type {number} */ i) => margin + ((i + 0.5) * (width - 2 * margin)) / frames.length;
  const y = (/** @type {number} */ value) => top + chartHeight - 6 - ((chartHeight - 30) * value) / most;
  const line = (/** @type {number[]} */ values, /** @type {string} */ stroke) =>
    `<polyline fill="none" stroke="${stroke}" points="${values.map((value, i) => `${n(x(i))},${n(y(value))}`).join(" ")}"/>`;
  return [
    `<text x="${margin}" y="${top + 12}">${title}, at most ${most.toPrecision(2)}</text>`,
    ...(twin === null ? [] : [line(old, twinColour)]),
    line(own, colour),
    ...own.flatMap((value, i) =>
      frames[i] >= from && frames[i] <= to
        ? [`<circle cx="${n(x(i))}" cy="${n(y(value))}" r="2.5" fill="${marked}"/>`]
        : [],
    ),
  ].join("\n");
}

/** @param {readonly number[]} numbers */
const middleOf = (numbers) => (Math.min(...numbers) + Math.max(...numbers)) / 2;
/** @param {number} number */
const n = (number) => number.toFixed(1);
/** @param {string} text */
const escaped = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
