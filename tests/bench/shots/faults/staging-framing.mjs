// @ts-check
/**
 * Framing and eye lines: a head that the picture's edge cuts, a face that points past what it looks at.
 * @import { FaultKind, Performance, Place, Poses } from "../types.d.ts"
 */
import { inverse, multiply, turn } from "../../../../demo/motion/vector.mjs";
import { addTrack, copy, localTurn, setTurn, worldAt } from "../motion/index.mjs";
import { densePosesOf } from "../poses.mjs";
import { pictureOf } from "../staging/lens.mjs";
import { headAt, headCut, headRadius, lookingPast } from "../staging/measures.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, isBlocked, jointOf } from "./tools/limbs.mjs";
import { at24, median, over, within } from "./tools/windows.mjs";

/** The share of a head that is cut in the middle of a stretch. @param {Poses} poses @param {Place} place */
function cutOf(poses, { figure, held }) {
  const [from, to] = /** @type {[number, number]} */ (held);
  const { view } = poses.performance;
  if (view === undefined) return 0;
  const body = bodyOf(poses.performance, figure);
  return Math.max(0, median(over(from, to, (frame) => headCut(poses, view, body, frame))));
}

/** @type {FaultKind} */
export const cutByFrame = {
  name: "head cut by the frame",
  checks: ["frame-edge"],
  unit: "share of a head's height that the picture's edge cuts",
  sizes: [
    {
      value: 0.12,
      reason: "The crown is cut, outside of any safe area (3.5 % of the picture: SMPTE ST 2046-1).",
    },
    {
      value: 0.3,
      reason: "Brow and hair are gone: a cut that nobody chooses in a wide shot (common practice).",
    },
    { value: 0.5, reason: "The edge runs through the eyes, which lie half way up a head." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const { view } = performance;
    if (view === undefined || isBlocked(clean)) return [];
    const dense = densePosesOf(performance);
    const [held, ramp] = [Math.round(at24(performance, 40)), Math.round(at24(performance, 14))];
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      if (body.head === null) continue;
      for (let from = performance.first + ramp; from + held + ramp < performance.last; from += held) {
        const to = from + held - 1;
        const heights = over(from, to, (frame) => {
          const at = headAt(dense, body, frame);
          const { y, scale } = pictureOf(dense, view, frame)(at);
          return { y, radius: headRadius * body.stature * scale };
        });
        // Heads that bob by more than a quarter of themselves are cut now and then, not all along.
        const spread = Math.max(...heights.map(({ y }) => y)) - Math.min(...heights.map(({ y }) => y));
        if (spread > 0.5 * heights[0].radius) continue;
        const also = [view.camera, body.root, ...body.trunk];
        // It is seen from when the camera leaves its place until it is back.
        places.push({
          figure,
          joint: body.head,
          also,
          from: from - ramp,
          to: to + ramp,
          held: [from, to],
          ramp,
        });
      }
    }
    // What is cut in the middle has to be cut for most of the while.
    const isCut = (/** @type {Place} */ place) => {
      const tried = copy(performance);
      const [{ value }] = cutByFrame.sizes;
      cutByFrame.perform?.(tried, place, value, random);
      return cutOf(densePosesOf(tried), place) > 0.85 * value;
    };
    return random.shuffled(places).slice(0, 12).filter(isCut).slice(0, 6);
  },
  perform(performance, place, size) {
    const { view } = performance;
    if (view === undefined) return;
    const { figure } = place;
    const [from, to] = /** @type {[number, number]} */ (place.held);
    const ramp = /** @type {number} */ (place.ramp);
    const body = bodyOf(performance, figure);
    const middle = Math.round((from + to) / 2);
    // Tilted, or lowered where there is no perspective, until the head is cut by so much.
    const channel = view.degrees === null ? "translation.y" : "rotation.x";
    const cutBy = (/** @type {number} */ by) => {
      const tried = copy(performance);
      addTrack(tried, view.camera, channel, () => -by);
      return headCut(densePosesOf(tried), view, body, middle);
    };
    let [low, high] = [0, view.degrees === null ? view.extent : view.degrees];
    for (let round = 0; round < 30; round++) {
      const tried = (low + high) / 2;
      if (cutBy(tried) < size) low = tried;
      else high = tried;
    }
    addTrack(
      performance,
      view.camera,
      channel,
      (frame) => -high * within(frame, from - ramp, from, to, to + ramp),
    );
  },
  measure: (poses, place) => cutOf(poses, place),
};

/** Frames in which a head turns away, and back: a third of a second. @param {Performance} performance */
const turningBack = (performance) => Math.max(2, Math.round(at24(performance, 8)));

/** @type {FaultKind} */
export const lookPast = {
  name: "look past the target",
  checks: ["eye-line"],
  unit: "degrees between where a face points and what it is said to look at",
  sizes: [
    {
      value: 9,
      reason:
        "Beyond half of the cone of a direct look, 2.6° (Horstmann and Linke 2021), and the 5° by which others misjudge it by the head.",
    },
    { value: 15, reason: "A hand's breadth at arm's length: the face is turned to something else there." },
    {
      value: 25,
      reason:
        "25° aside, the side is told even with a still head by two viewers of three (Doherty and Anderson 2001).",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const { view } = performance;
    if (view === undefined || isBlocked(clean)) return [];
    const places = view.gazes.flatMap(({ figure, target, frames }) => {
      const { head, trunk, joints } = bodyOf(performance, figure);
      if (head === null) return [];
      const parent = joints.find(({ id }) => id === head)?.parent ?? null;
      const also = [...(parent === null ? [] : [parent]), ...trunk];
      const end = Math.min(frames[1], frames[0] + Math.round(at24(performance, 60)));
      // It is past its target until it is back.
      const to = Math.min(performance.last, end + turningBack(performance));
      return [{ figure, joint: head, also, from: frames[0], to, target, held: [frames[0], end] }];
    });
    return fitting(performance, random.shuffled(places), lookPast, random);
  },
  perform(performance, place, size, random) {
    const { figure } = place;
    const [from, to] = /** @type {[number, number]} */ (place.held);
    const { head } = bodyOf(performance, figure);
    if (head === null) return;
    const target = /** @type {string} */ (place.target);
    const before = copy(performance);
    const dense = densePosesOf(before);
    const edge = turningBack(performance);
    const [first, last] = [Math.max(performance.first, from - edge), Math.min(performance.last, to + edge)];
    const way = random.chance(0.5) ? 1 : -1;
    const { parent } = jointOf(performance, head);
    // What is off already counts as well: turned about the upright until the whole is as large as it is to be.
    const middle = Math.round((from + to) / 2);
    const off = (/** @type {number} */ degrees) => {
      const tried = {
        ...dense,
        orientation: (/** @type {string} */ id, /** @type {number} */ frame) => {
          const own = dense.orientation(id, frame);
          return id === head ? /** @type {any} */ (multiply(turn(1, degrees), [...own])) : own;
        },
      };
      return lookingPast(tried, bodyOf(performance, figure), target, middle);
    };
    let [low, high] = [0, 90];
    for (let round = 0; round < 30; round++) {
      const tried = (low + high) / 2;
      if (off(way * tried) < size) low = tried;
      else high = tried;
    }
    for (let frame = first; frame <= last; frame++) {
      const share = within(frame, from - edge, from, to, to + edge);
      if (share === 0) continue;
      const world = multiply(turn(1, way * high * share), [...worldAt(before, head, frame).quaternion]);
      const above = parent === null ? [0, 0, 0, 1] : [...worldAt(before, parent, frame).quaternion];
      setTurn(performance, head, frame, multiply(inverse(above), world), before);
    }
    if (localTurn(performance, head, first).some(Number.isNaN)) throw new Error("a head that is nowhere");
  },
  measure(poses, place) {
    const body = bodyOf(poses.performance, place.figure);
    const target = /** @type {string} */ (place.target);
    const [from, to] = /** @type {[number, number]} */ (place.held);
    return median(over(from, to, (frame) => lookingPast(poses, body, target, frame)));
  },
};
