/** Pictures of small motions: what is drawn comes from the poses, what is marked from the note. */
import {
  defaultSettings,
  figuresOf,
  gridOf,
  localAngularSpeedOf,
  massCentreOf,
  registry,
  rigOf,
  sampleCurve,
  shotOf,
  studyOf,
  worldOf,
} from "@keyside/core";
import { dot, key, line, ticks, words } from "./draw.mjs";

const wide = 290;
const high = 150;
const edge = 16;

/**
 * The two panels of a picture.
 * @param {import("@keyside/core/examples").FaultExamples} examples
 * @returns {[fault: string, right: string]}
 */
export function panelsOf({ check, faulty: [first], picture }) {
  const motions = [first.motion(), first.right()].map((document) => posed(document, picture.frames));
  const { note } = first;
  const fitOf = (seen, row) =>
    fitted(
      motions.flatMap((motion) => points(motion, seen)),
      seen,
      row,
    );
  const fit = picture.apart
    ? picture.nodes.map((node, n) => fitOf({ ...picture, nodes: [node] }, { n, of: picture.nodes.length }))
    : fitOf(picture);
  const draw = drawers[picture.draws];
  if (draw === undefined) throw new Error(`${check}: nothing draws "${picture.draws}".`);
  return motions.map((motion, i) => draw(motion, picture, fit, note, i === 0 ? "fault" : "good"));
}

/** A motion with its poses: `at(node, frame)` is a place in the world, metres. */
function posed(document, frames) {
  const { shot } = shotOf(document);
  const study = studyOf(shot, defaultSettings(registry));
  const rig = rigOf(study);
  const grid = gridOf(study).frames;
  const [first, last] = frames ?? [grid[0], grid[grid.length - 1]];
  const indexOf = (node) => {
    const index = rig.indexOf.get(node);
    if (index === undefined) throw new Error(`There is no node ${node}.`);
    return index;
  };
  return {
    shot,
    study,
    rig,
    indexOf,
    frames: [...grid].filter((frame) => frame >= first && frame <= last),
    at(index, frame) {
      const i = grid.indexOf(frame);
      return [...worldOf(study, index).position.subarray(3 * i, 3 * i + 3)];
    },
    turn(index, frame) {
      const { orientation } = worldOf(study, index);
      const [a, b] = [grid.indexOf(frame), 0].map((i) => orientation.subarray(4 * i, 4 * i + 4));
      const same = Math.abs(a.reduce((sum, value, n) => sum + value * b[n], 0));
      return (360 / Math.PI) * Math.acos(Math.min(1, same));
    },
  };
}

const seenFrom = { front: ([x, y]) => [x, y], side: ([, y, z]) => [z, y], top: ([x, , z]) => [x, -z] };

/** What has to find room in a picture, in its own two axes, y up. */
function points(motion, picture) {
  const { frames } = motion;
  if (picture.draws === "moves") return [];
  if (picture.draws === "path") {
    const node = motion.indexOf(picture.node);
    const way = frames.map((frame) => motion.at(node, frame));
    return [...way, ...limbsOf(motion, picture).flat(2)].map(seenFrom[picture.seen]);
  }
  if (picture.draws === "figure") {
    return picture.at.flatMap((frame) =>
      bonesOf(motion, picture).flatMap((bone) =>
        bone.map((n) => seenFrom[picture.seen](motion.at(n, frame))),
      ),
    );
  }
  if (picture.draws === "curve") {
    return coursesOf(motion, picture).flatMap(({ points }) => points);
  }
  return picture.nodes.flatMap((node) =>
    frames.map((frame) => [frame, courseAt(motion, picture, motion.indexOf(node), frame)]),
  );
}

/** Scales points into a row of a panel: alike in both axes where they are places, each for itself where one is time. */
function fitted(all, picture, row = { n: 0, of: 1 }) {
  const box = (n) => [Math.min(...all.map((p) => p[n])), Math.max(...all.map((p) => p[n]))];
  if (all.length === 0) return (point) => point;
  const [[x0, x1], [y0, y1]] = [box(0), box(1)];
  const isSpace = picture.draws === "path" || picture.draws === "figure";
  const band = (high - 2 * edge) / row.of;
  const room = [wide - 2 * edge, row.of === 1 ? band : 0.6 * band];
  const scales = [room[0] / (x1 - x0 || 1), room[1] / (y1 - y0 || 1)];
  const [sx, sy] = isSpace ? Array(2).fill(Math.min(...scales)) : scales;
  const middle = [(x0 + x1) / 2, (y0 + y1) / 2];
  const centre = edge + (row.n + 0.5) * band;
  return ([x, y]) => [wide / 2 + sx * (x - middle[0]), centre - sy * (y - middle[1])];
}

const isNoted =
  ({ frames: [from, to] }) =>
  (frame) =>
    frame >= from && frame <= to;

const drawers = {
  path(motion, picture, fit, note, mark) {
    const node = motion.indexOf(picture.node);
    const place = (point) => fit(seenFrom[picture.seen](point));
    const places = motion.frames.map((frame) => place(motion.at(node, frame)));
    const marks = motion.frames.flatMap((frame, i) => (isNoted(note)(frame) ? [i] : []));
    const limbs = limbsOf(motion, picture).flatMap((limb) =>
      limb.map((bone) => line(bone.map(place), "other")),
    );
    const numbers = numbered(motion.frames, places, picture.at ?? []);
    return limbs.join("") + line(places, "faint") + ticks(places, marks, mark) + numbers;
  },
  curve(motion, picture, fit, note, mark) {
    const lines = frameLines(motion, fit);
    const courses = coursesOf(motion, picture).map(({ name, curve, points }) => {
      const [x, y] = fit(points[points.length - 1]);
      const falls = y > fit(points[0])[1];
      return (
        (curve === null ? line(points.map(fit), "faint") : drawn(curve, points, fit, note, mark)) +
        (picture.also === undefined ? "" : words([x - 54, y + (falls ? 16 : -7)], name))
      );
    });
    return lines + courses.join("");
  },
  figure(motion, picture, fit, note, mark) {
    const { seen, at, marks = [] } = picture;
    const marked = new Set([note.node, ...marks].map((node) => (node === null ? -1 : motion.indexOf(node))));
    const place = (n, frame) => fit(seenFrom[seen](motion.at(n, frame)));
    const drawn = at.map((frame, i) =>
      bonesOf(motion, picture)
        .map(([above, below]) => {
          const kind = i === at.length - 1 ? "bone" : "other";
          return line(
            [place(above, frame), place(below, frame)],
            marked.has(above) ? `${kind} ${mark}` : kind,
          );
        })
        .join(""),
    );
    const plumb = picture.mass ? plumbLine(motion, picture, fit, mark) : "";
    return groundLine(motion, seen, fit) + drawn.join("") + plumb;
  },
  moves(motion, { nodes, own: alone }, _fit, _note, mark) {
    const { frames } = motion;
    const x = (frame) =>
      edge + ((wide - 2 * edge) * (frame - frames[0])) / (frames[frames.length - 1] - frames[0]);
    const rows = nodes.map((id) => (alone ? turnsOf : stepsOf)(motion, motion.indexOf(id)));
    const most = Math.max(...rows.flat());
    return rows
      .map((steps, row) => {
        const y = 2 * edge + ((high - 3 * edge) * row) / Math.max(1, nodes.length - 1);
        const own = Math.max(...steps);
        const moving = steps.flatMap((step, i) => (own > 0.04 * most && step > 0.1 * own ? [i] : []));
        const base =
          words([edge, y - 8], nodes[row].replaceAll("_", " ")) +
          line(
            [
              [edge, y],
              [wide - edge, y],
            ],
            "faint",
          );
        if (moving.length === 0) return base;
        return (
          base +
          line(
            [
              [x(frames[moving[0]]), y],
              [x(frames[moving[moving.length - 1] + 1]), y],
            ],
            `bone ${mark}`,
          )
        );
      })
      .join("");
  },
  courses(motion, picture, fits, note, mark) {
    const drawn = picture.nodes.map((id, n) => {
      const fit = picture.apart ? fits[n] : fits;
      const node = motion.indexOf(id);
      const course = motion.frames.map((frame) => [frame, courseAt(motion, picture, node, frame)]);
      const noted = course.filter(([frame]) => isNoted(note)(frame));
      const marked = n === 0 && noted.length > 1 ? line(noted.map(fit), `line ${mark}`) : "";
      const places = course.map(fit);
      const name = picture.apart
        ? [edge, Math.min(...places.map(([, y]) => y)) - 4]
        : n === 0
          ? [edge, places[0][1] - 7]
          : [wide - edge - 40, places[places.length - 1][1] - 7];
      return (
        line(places, n === 0 || picture.apart ? "line" : "faint") +
        marked +
        (n === 0 && noted.length === 1 ? dot(fit(noted[0]), `dot ${mark}`) : "") +
        words(name, id.replaceAll("_", " "))
      );
    });
    return frameLines(motion, picture.apart ? fits[0] : fits) + drawn.join("");
  },
};

/** How far a node goes in each frame, metres; 60° of turning count as a metre. */
const stepsOf = (motion, node) =>
  motion.frames.slice(1).map((frame, i) => {
    const before = motion.frames[i];
    const [a, b] = [motion.at(node, before), motion.at(node, frame)];
    return (
      Math.hypot(...a.map((value, n) => b[n] - value)) +
      Math.abs(motion.turn(node, frame) - motion.turn(node, before)) / 60
    );
  });

/** How far a node turns against its parent in each frame, radians. */
function turnsOf({ study, frames }, node) {
  const { frames: grid, dt } = gridOf(study);
  const speeds = localAngularSpeedOf(study, node);
  return frames.slice(1).map((frame) => speeds[grid.indexOf(frame)] * dt);
}

const courseAt = (motion, { of }, node, frame) =>
  of === "height" ? motion.at(node, frame)[1] : motion.turn(node, frame);

/** The bones that a picture of a path shows at its frames, as pairs of places. */
function limbsOf(motion, picture) {
  const { at = [], only } = picture;
  if (only === undefined) return [];
  return at.map((frame) =>
    bonesOf(motion, picture).map((bone) => bone.map((node) => motion.at(node, frame))),
  );
}

/** Numbers of some frames beside their places; those that share a place stand in a row. */
function numbered(frames, places, at) {
  const rows = [];
  for (const frame of at) {
    const place = places[frames.indexOf(frame)];
    const row = rows.find((other) => Math.hypot(place[0] - other.place[0], place[1] - other.place[1]) < 3);
    if (row === undefined) rows.push({ place, names: [frame] });
    else row.names.push(frame);
  }
  return rows
    .map(({ place: [x, y], names }) => {
      const text = names.join(", ");
      // Left of the place where the way has dots on its right.
      const isFull = places.some(
        (other) => other[0] > x + 7 && other[0] < x + 26 && Math.abs(other[1] - y) < 7,
      );
      return words([isFull ? x - 8 - 7 * text.length : x + 8, y + 4], text);
    })
    .join("");
}

/** Up to so many frames each has a line, so that one sees what stands between two of them. */
const fewFrames = 16;

function frameLines({ frames }, fit) {
  if (frames.length > fewFrames) return "";
  const upright = (x) =>
    line(
      [
        [x, edge / 2],
        [x, high - edge / 2],
      ],
      "faint",
    );
  return frames.map((frame) => upright(fit([frame, 0])[0])).join("");
}

/** What a picture of a curve draws: the curve (none, where it is how far the node is turned) and its points. */
function coursesOf(motion, { node, channel, also = [] }) {
  const { shot, frames } = motion;
  return [channel, ...also].map((name) => {
    if (name === "turn") {
      const index = motion.indexOf(node);
      const points = frames.map((frame) => [frame, motion.turn(index, frame)]);
      return { name: "its turn", curve: null, points };
    }
    const curve = shot.curves.find((one) => one.node === node && one.channel === name);
    if (curve === undefined) throw new Error(`There is no curve of ${node} ${name}.`);
    return { name, curve, points: pointsOf(curve, frames) };
  });
}

/** A curve with its keys; marked from the first to the last of what the note covers and the keys that it names. */
function drawn(curve, points, fit, note, mark) {
  const named = [note.key ?? []].flat().filter(({ channel }) => channel === curve.channel);
  const covered = [...note.frames, ...named.flatMap(({ frame }) => frame ?? [])];
  const isMarked = isNoted({ frames: [Math.min(...covered), Math.max(...covered)] });
  const [from, to] = [points[0][0], points[points.length - 1][0]];
  const marked = points.filter(([frame]) => isMarked(frame)).map(fit);
  const keys = [...curve.frames].flatMap((frame, i) =>
    frame >= from && frame <= to
      ? [key(fit([frame, curve.values[i]]), isMarked(frame) ? `key ${mark}` : "key")]
      : [],
  );
  return line(points.map(fit)) + (marked.length > 1 ? line(marked, `line ${mark}`) : "") + keys.join("");
}

/** A curve four times a frame. */
function pointsOf(curve, frames) {
  const [from, to] = [frames[0], frames[frames.length - 1]];
  const times = Array.from({ length: 4 * (to - from) + 1 }, (_, i) => from + i / 4);
  const values = new Float64Array(times.length);
  sampleCurve(curve, Float64Array.from(times), values);
  return times.map((time, i) => [time, values[i]]);
}

/** Bones as pairs of nodes; those below `only` where it is given. */
function bonesOf({ rig, indexOf }, { only }) {
  const tops = only?.map(indexOf);
  const below = (node) => tops === undefined || tops.some((top) => isWithin(rig, top, node));
  return [...rig.ids.keys()].flatMap((node) => {
    const parent = rig.parent[node];
    return parent >= 0 && below(parent) ? [[parent, node]] : [];
  });
}

function isWithin(rig, top, node) {
  for (let at = node; at >= 0; at = rig.parent[at]) if (at === top) return true;
  return false;
}

/** Where the mass of the first figure is at the last frame that is drawn, and what is below it. */
function plumbLine({ study }, { seen, at }, fit, mark) {
  const sample = gridOf(study).frames.indexOf(at[at.length - 1]);
  const [x, y] = seenFrom[seen](massCentreOf(study, 0).subarray(3 * sample, 3 * sample + 3));
  return dot(fit([x, y]), `dot ${mark}`, 5) + line([fit([x, y]), fit([x, 0])], `line ${mark}`);
}

function groundLine({ study }, seen, fit) {
  if (seen === "top" || figuresOf(study).length === 0) return "";
  const y = fit([0, 0])[1];
  return y > high
    ? ""
    : line([
        [10, y],
        [280, y],
      ]);
}
