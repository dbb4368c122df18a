// @ts-check
/**
 * Shots that are seen through a camera: which one, what is looked at, and in which colours.
 * @import { Performance, Poses, Prop, Random, Vector, View } from "../types.d.ts"
 */
import { rotate } from "../../../../demo/motion/vector.mjs";
import { setTrack } from "../motion/index.mjs";
import { copy } from "../motion/performance.mjs";
import { densePosesOf } from "../poses.mjs";
import { cameraId, cameraProp, candidatesOf, crowdOf, placeCamera } from "./cameras.mjs";
import { colourApartFrom } from "./colours.mjs";
import { isStagedCleanly, lookingPast } from "./measures.mjs";

/** Share of the shots that get a camera, if one is found through which they are staged cleanly. */
const share = 0.6;

/**
 * A shot as a camera sees it. The camera is the first of some candidates through which the shot is clean by the measures of this
 * folder; no check is asked.
 * @param {Performance} performance
 * @param {Random} random
 * @param {boolean} mayMove whether the camera may pan and travel: poses in step keys would make it jump
 * @returns {Performance} the same without a camera where none is meant, or found
 */
export function staged(performance, random, mayMove) {
  if (!random.chance(share)) return performance;
  const crowd = crowdOf(densePosesOf(performance));
  for (const candidate of candidatesOf(random.fork("camera"), mayMove)) {
    const seen = { ...copy(performance), props: [...performance.props, cameraProp] };
    const view = placeCamera(seen, crowd, candidate);
    if (view === null) continue;
    const poses = densePosesOf(seen);
    if (!isStagedCleanly(poses, view, performance.figures)) continue;
    return furnished(seen, view, poses, random);
  }
  return performance;
}

/** @param {Performance} seen @param {View} view @param {Poses} poses @param {Random} random @returns {Performance} */
function furnished(seen, view, poses, random) {
  /** @type {Prop[]} */
  const things = [];
  /** @type {Map<string, Pose>} */
  const places = new Map();
  const add = (/** @type {string} */ id, /** @type {Vector} */ half, /** @type {Pose} */ pose) => {
    things.push({ id, mass: 0, half, order: "yxz", staged: true });
    places.set(id, pose);
  };
  const gazes = seen.figures.flatMap(({ id, body }, n) => {
    const found = body.head === null ? null : lookedAt(poses, id, body.head, body.stature);
    if (found === null) return [];
    const target = `mark_${n + 1}`;
    add(target, [0.02, 0.02, 0.02], { at: found.at });
    return [{ figure: id, target, frames: found.frames }];
  });
  const panel = random.fork("panel").chance(0.4) ? panelBehind(seen, view, poses) : null;
  if (panel !== null) add("panel", panel.half, panel);
  const colours = coloursFor(seen, random.fork("colours"), panel !== null);
  /** @type {Performance} */
  const shot = {
    ...seen,
    props: [...seen.props, ...things],
    view: {
      ...view,
      gazes,
      background: colours.background,
      colours: colours.of,
      panels: panel === null ? [] : [{ id: "panel", half: panel.half, lit: null }],
    },
  };
  for (const [id, { at, pan = 0, tilt = 0 }] of places) {
    at.forEach((value, k) => {
      setTrack(shot, id, /** @type {any} */ (`translation.${"xyz"[k]}`), () => value);
    });
    if (pan !== 0) setTrack(shot, id, "rotation.y", () => pan);
    if (tilt !== 0) setTrack(shot, id, "rotation.x", () => tilt);
  }
  return shot;
}

/** @typedef {{ at: Vector, pan?: number, tilt?: number }} Pose */

/** Degrees by which a face may point past what it looks at in a clean shot: half of the cone in which one feels looked at
 * (Horstmann and Linke 2021, abstract: 5.2° wide). */
const cone = 2.6;

/**
 * A point that a face points at for a second and a half and longer, and the frames.
 * @param {Poses} poses @param {string} figure @param {string} head @param {number} stature
 * @returns {{ at: Vector, frames: [number, number] } | null}
 */
function lookedAt(poses, figure, head, stature) {
  const { first, count, performance } = poses;
  const least = Math.round(1.5 * performance.rate);
  /** @type {{ at: Vector, frames: [number, number] } | null} */
  let best = null;
  for (let from = first; from + least < first + count; from += Math.round(least / 3)) {
    const middle = from + Math.round(least / 2);
    const eye = poses.position(head, middle);
    const ahead = rotate([...poses.orientation(head, middle)], [0, 0, 1]);
    for (const far of [2, 5, 15]) {
      const at = /** @type {Vector} */ (eye.map((value, k) => value + far * stature * ahead[k]));
      const isOn = (/** @type {number} */ frame) =>
        lookingPast(
          { ...poses, position: (id, f) => (id === "" ? at : poses.position(id, f)) },
          bodyWith(head),
          "",
          frame,
        ) <= cone;
      let [low, high] = [middle, middle];
      while (low > first && isOn(low - 1)) low--;
      while (high + 1 < first + count && isOn(high + 1)) high++;
      const longer = best === null || high - low > best.frames[1] - best.frames[0];
      if (high - low >= least && longer) best = { at, frames: [low, high] };
    }
  }
  return figure === "" ? null : best;
}

/** @param {string} head */
const bodyWith = (head) => /** @type {import("../types.d.ts").Body} */ (/** @type {unknown} */ ({ head }));

/**
 * A lit wall behind all figures, over half of the picture and more; only before a camera that stands.
 * @param {Performance} seen @param {View} view @param {Poses} poses
 */
function panelBehind(seen, view, poses) {
  const { first, last } = seen;
  const eye = poses.position(cameraId, first);
  const turn = [...poses.orientation(cameraId, first)];
  const moves = [first, (first + last) >> 1, last].some(
    (frame) =>
      Math.hypot(...poses.position(cameraId, frame).map((value, k) => value - eye[k])) > 1e-6 ||
      poses.orientation(cameraId, frame).some((part, k) => Math.abs(part - turn[k]) > 1e-9),
  );
  if (moves) return null;
  const sight = rotate(turn, [0, 0, -1]);
  let depth = 0;
  for (let frame = first; frame <= last; frame += 4) {
    for (const { body } of seen.figures) {
      for (const { id } of body.joints) {
        const way = poses.position(id, frame).map((value, k) => value - eye[k]);
        depth = Math.max(depth, way[0] * sight[0] + way[1] * sight[1] + way[2] * sight[2] + body.stature);
      }
    }
  }
  const height = view.degrees === null ? view.extent : 2 * depth * Math.tan((view.degrees * Math.PI) / 360);
  const at = /** @type {Vector} */ (eye.map((value, k) => value + depth * sight[k]));
  const angle = (/** @type {string} */ channel) =>
    poses.channel(cameraId, /** @type {any} */ (channel), first);
  const half = /** @type {Vector} */ ([0.4 * height * view.aspect, 0.4 * height, 0.01 * height]);
  return { at, half, pan: angle("rotation.y"), tilt: angle("rotation.x") };
}

/** @param {Performance} seen @param {Random} random @param {boolean} hasPanel */
function coloursFor({ figures, props }, random, hasPanel) {
  const background = colourApartFrom(random, []);
  /** @type {Record<string, string>} */
  const of = {};
  const taken = [background];
  const give = (/** @type {string} */ id) => {
    of[id] = colourApartFrom(random, taken);
    taken.push(of[id]);
  };
  if (hasPanel) give("panel");
  for (const { body } of figures.slice(0, 4)) give(body.root);
  // A crowd wears few colours.
  figures.slice(4).forEach(({ body }, n) => {
    of[body.root] = of[figures[n % 4].body.root];
  });
  for (const { id, staged: isStaged = false } of props) if (!isStaged) give(id);
  return { background, of };
}
