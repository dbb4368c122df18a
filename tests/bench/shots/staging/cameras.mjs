// @ts-check
/**
 * Cameras that a shot could be seen through: standing, panning, travelling; with perspective and without.
 * @import { Performance, Poses, Prop, Random, Vector, View } from "../types.d.ts"
 */
import { setTrack } from "../motion/index.mjs";

/** Name of the camera's node. */
export const cameraId = "shotcam";
/** The camera as something that has tracks. Pan, tilt and roll in this order: it is turned about the upright first. @type {Prop} */
export const cameraProp = { id: cameraId, mass: 0, half: [0.1, 0.1, 0.2], order: "yxz", staged: true };

const aspect = 16 / 9;

/** @typedef {"stands" | "pans" | "travels"} Way */
/** @typedef {{ way: Way, isFlat: boolean, yaw: number, rise: number, degrees: number }} Candidate */

/** Cameras to choose among, in the order in which they are tried. @param {Random} random @param {boolean} mayMove @returns {Candidate[]} */
export function candidatesOf(random, mayMove) {
  const drawn = random.next();
  const way = !mayMove || drawn < 0.4 ? "stands" : drawn < 0.7 ? "pans" : "travels";
  const isFlat = way !== "pans" && random.chance(0.4);
  const degrees = random.between(22, 45);
  const rise = random.between(-2, 10);
  const yaws = random.shuffled(Array.from({ length: 16 }, (_, n) => (n * 360) / 16));
  return yaws.map((yaw) => ({ way, isFlat, yaw, rise, degrees }));
}

/**
 * Where all joints are on some frames of a shot, for fitting it into the picture.
 * @typedef {readonly { frame: number, points: readonly Vector[] }[]} Crowd
 */

/** @param {Poses} poses @returns {Crowd} eight frames a second */
export function crowdOf(poses) {
  const { first, count, performance } = poses;
  const step = Math.max(1, Math.round(performance.rate / 8));
  const ids = performance.figures.flatMap(({ body }) => body.joints.map(({ id }) => id));
  return Array.from({ length: Math.ceil(count / step) }, (_, n) => {
    const frame = first + n * step;
    return { frame, points: ids.map((id) => poses.position(id, frame)) };
  });
}

/** Middle of the box about points. @param {readonly Vector[]} points @returns {Vector} */
function middleOf(points) {
  const range = [0, 1, 2].map((k) => {
    let [low, high] = [Infinity, -Infinity];
    for (const point of points) {
      low = Math.min(low, point[k]);
      high = Math.max(high, point[k]);
    }
    return (low + high) / 2;
  });
  return [range[0], range[1], range[2]];
}

/** @param {number} yaw @param {number} rise degrees @returns {Vector} from what is seen to the camera */
function wayBack(yaw, rise) {
  const [y, r] = [(yaw * Math.PI) / 180, (rise * Math.PI) / 180];
  return [Math.sin(y) * Math.cos(r), Math.sin(r), Math.cos(y) * Math.cos(r)];
}

/**
 * The middle of all figures on each frame, as calm as a camera goes: a mean over a second and a half, twice.
 * @param {Performance} performance @param {Crowd} crowd
 */
function calmPath({ first, last, rate }, crowd) {
  const middles = crowd.map(({ points }) => middleOf(points));
  const gap = crowd.length > 1 ? crowd[1].frame - crowd[0].frame : 1;
  const count = last - first + 1;
  const reach = Math.round(0.75 * rate);
  return [0, 1, 2].map((k) => {
    let values = Array.from({ length: count }, (_, i) => {
      const at = Math.min(middles.length - 1, i / gap);
      const n = Math.min(middles.length - 1, Math.floor(at));
      const next = Math.min(middles.length - 1, n + 1);
      return middles[n][k] + (at - n) * (middles[next][k] - middles[n][k]);
    });
    for (let round = 0; round < 2; round++) {
      const before = values;
      values = before.map((_, i) => {
        let sum = 0;
        for (let j = i - reach; j <= i + reach; j++) sum += before[Math.max(0, Math.min(count - 1, j))];
        return sum / (2 * reach + 1);
      });
    }
    return values;
  });
}

/**
 * Puts a camera into a performance: its tracks, and how it sees.
 * @param {Performance} performance with the camera among its props; gets its tracks
 * @param {Crowd} crowd of its poses
 * @param {Candidate} candidate
 * @returns {View | null} null where the figures do not fit, or would be too small to be looked at
 */
export function placeCamera(performance, crowd, { way, isFlat, yaw, rise, degrees }) {
  const { first, figures } = performance;
  const all = middleOf(crowd.flatMap(({ points }) => points));
  const path = way === "stands" ? null : calmPath(performance, crowd);
  const back = wayBack(yaw, rise);
  const middle = (/** @type {number} */ frame) =>
    path === null ? all : /** @type {Vector} */ (path.map((values) => values[frame - first]));
  const tangent = Math.tan((degrees * Math.PI) / 360);
  const tallest = Math.max(...figures.map(({ body }) => body.stature));
  for (let distance = tallest; distance < 60 * tallest; distance *= 1.12) {
    const eyeAt = (/** @type {number} */ frame) => {
      const from = way === "travels" ? middle(frame) : all;
      return /** @type {Vector} */ (from.map((value, k) => value + distance * back[k]));
    };
    const aimAt = (/** @type {number} */ frame) => (way === "stands" ? all : middle(frame));
    const half = distance * tangent;
    const fits = crowd.every(({ frame, points }) => {
      const see = looking(eyeAt(frame), aimAt(frame), isFlat ? half : null, tangent);
      return points.every((point) => {
        const [x, y] = see(point);
        return Math.abs(x) < 0.42 * aspect && Math.abs(y) < 0.4;
      });
    });
    if (!fits) continue;
    // Smaller than a fifth of the picture nobody reads a figure (common practice).
    if (tallest / (2 * half) < 0.2) return null;
    for (const channel of /** @type {const} */ (["translation.x", "translation.y", "translation.z"]))
      setTrack(performance, cameraId, channel, (frame) => eyeAt(frame)["xyz".indexOf(channel.slice(-1))]);
    const turn = (/** @type {number} */ frame) => anglesTo(eyeAt(frame), aimAt(frame));
    let before = turn(first).pan;
    setTrack(performance, cameraId, "rotation.y", (frame) => {
      const { pan } = turn(frame);
      before = pan - 360 * Math.round((pan - before) / 360);
      return before;
    });
    setTrack(performance, cameraId, "rotation.x", (frame) => turn(frame).tilt);
    return { ...plainView, degrees: isFlat ? null : degrees, extent: 2 * half };
  }
  return null;
}

/** @type {View} */
const plainView = {
  camera: cameraId,
  degrees: null,
  extent: 1,
  aspect,
  background: "#808080",
  colours: {},
  gazes: [],
  panels: [],
};

/** Degrees about the upright and about the level axis that turn −z to a point. @param {Vector} eye @param {Vector} aim */
function anglesTo(eye, aim) {
  const [x, y, z] = aim.map((value, k) => value - eye[k]);
  const toDegrees = 180 / Math.PI;
  return { pan: Math.atan2(-x, -z) * toDegrees, tilt: Math.atan2(y, Math.hypot(x, z)) * toDegrees };
}

/** @param {Vector} eye @param {Vector} aim @param {number | null} half of an orthographic picture @param {number} tangent
 * @returns {(point: Vector) => [number, number]} picture heights from its middle */
function looking(eye, aim, half, tangent) {
  const { pan, tilt } = anglesTo(eye, aim);
  const [p, t] = [(pan * Math.PI) / 180, (tilt * Math.PI) / 180];
  return (point) => {
    const [dx, dy, dz] = point.map((value, k) => value - eye[k]);
    const x = Math.cos(p) * dx - Math.sin(p) * dz;
    const z = Math.sin(p) * dx + Math.cos(p) * dz;
    const y = Math.cos(t) * dy + Math.sin(t) * z;
    const depth = Math.sin(t) * dy - Math.cos(t) * z;
    if (half === null && depth <= 0.05) return [Infinity, Infinity];
    const scale = 0.5 / (half ?? depth * tangent);
    return [x * scale, y * scale];
  };
}
