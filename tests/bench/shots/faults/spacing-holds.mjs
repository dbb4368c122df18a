// @ts-check
/**
 * A whole figure's timing: everything stops dead, or starts and arrives on the same frames.
 * @import { FaultKind, Figure, KeyedShot, Place } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { cutAt, reshape } from "./tools/curve.mjs";
import { channelsOf, leverOf } from "./tools/local.mjs";
import { pathOf, spacingOf, stepsAt } from "./tools/moves.mjs";
import { below, curvesOf, framesAt24, jointsIn, spotOf } from "./tools/where.mjs";

/** Share of the stature per frame at 24 per second under which nobody sees a part move: a fiftieth of a pixel. */
const stillSpeed = 0.00002;

/** Joints of a figure that have curves, with the curves' names. @param {KeyedShot} shot @param {Figure} figure @returns {Mover[]} */
const drivenIn = (shot, figure) => jointsIn(shot).filter((one) => one.figure === figure);

/** @param {Figure} figure @param {readonly Mover[]} parts @param {number} from @param {number} to @param {Record<string, unknown>} detail @returns {Place} */
const wholeFigure = ({ id, body }, parts, from, to, detail) => ({
  figure: id,
  joint: body.root,
  also: below(body, body.root),
  from,
  to,
  joints: parts.map(({ joint }) => joint),
  lever: leverOf(body, body.root),
  stature: body.stature,
  ...detail,
});

/** Frames at 24 per second, in the longest run of the place, in which nine tenths of the moving joints stand still. @param {Channels} poses @param {Place} place */
function frozenFrames(poses, place) {
  const { body } = /** @type {Figure} */ (poses.performance.figures.find(({ id }) => id === place.figure));
  const { joints, stature } = spotOf(place);
  const { rate } = poses.performance;
  const steps = joints.map((joint) => {
    const spot = { ...spotOf(place), joints: [joint], lever: leverOf(body, joint) };
    return stepsAt(poses, poses, spot, place.from, place.to);
  });
  const limit = (stillSpeed * stature * 24) / rate;
  let [longest, run] = [0, 0];
  for (let i = 0; i < steps[0].length; i++) {
    const still = steps.filter((one) => one[i] < limit).length;
    run = still >= 0.9 * steps.length ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return (longest * 24) / rate;
}

/** All curves hold from one frame to another; then they go on as they were meant to. @param {KeyedShot} shot @param {Place} place @param {number} from @param {number} to */
function freeze(shot, place, from, to) {
  const figure = shot.performance.figures.find(({ id }) => id === place.figure);
  // Fingers too, though nobody judges them one by one.
  for (const { id } of figure?.body.joints ?? []) {
    for (const curve of curvesOf(shot, id)) {
      const { value } = cutAt(curve, from);
      cutAt(curve, to).value = value;
      reshape(curve, from, to, 0, 0);
    }
  }
}

/** @type {FaultKind["sizes"]} */
const frozenSizes = [
  {
    value: 6,
    reason: "A quarter of a second: as long as a beat that is read as one (common practice: 4 to 6 frames).",
  },
  { value: 12, reason: "Half a second without breath: the figure turns into a picture." },
  { value: 20, reason: "Nearly a second: the shot seems to have stopped playing." },
];

/** @type {FaultKind} */
const frozenHold = {
  name: "frozen hold",
  checks: ["frozen-hold"],
  unit: "frames at 24 per second in which nothing moves",
  sizes: frozenSizes,
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const span = framesAt24(clean, frozenSizes[2].value);
    const { first, last, figures, events } = clean.performance;
    const places = figures.flatMap((figure) => {
      const parts = drivenIn(clean, figure);
      if (parts.length < 3) return [];
      const paths = parts.map((one) => spacingOf(pathOf(clean, one)));
      // Calm frames: nothing would have to leap when it goes on.
      const calm = paths[0].map((_, i) => paths.every((steps) => steps[i] < 0.0015 * figure.body.stature));
      const starts = [];
      for (let i = framesAt24(clean, 8); i + span + 1 < last - first - 4; i++) {
        const movedBefore = paths.some((steps) =>
          steps.slice(Math.max(0, i - 24), i).some((step) => step > 0.004 * figure.body.stature),
        );
        if (movedBefore && calm.slice(i, i + span).every(Boolean)) starts.push(first + i);
      }
      const isAir = (/** @type {number} */ from) =>
        events.some(
          (one) =>
            one.kind === "flight" && one.figure === figure.id && one.from < from + span && one.to > from,
        );
      return random
        .shuffled(starts.filter((from) => !isAir(from)))
        .slice(0, 4)
        .map((from) => wholeFigure(figure, parts, from, from + span, {}))
        .filter((place) => frozenIn(clean, place) <= frozenSizes[0].value / 2);
    });
    return random.shuffled(places);
  },
  edit: (shot, place, size) => freeze(shot, place, place.from, place.from + framesAt24(shot, size)),
  measure: frozenFrames,
};

/** @param {KeyedShot} clean @param {Place} place */
const frozenIn = (clean, place) => frozenFrames(channelsOf(clean), place);

/** @type {FaultKind} */
const frozenEnd = {
  name: "frozen end",
  checks: ["frozen-end"],
  unit: frozenHold.unit,
  sizes: frozenSizes,
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const span = framesAt24(clean, frozenSizes[2].value);
    const { first, last, figures, events } = clean.performance;
    if (last - first < 2 * span) return [];
    const places = figures.flatMap((figure) => {
      const parts = drivenIn(clean, figure);
      const inAir = events.some(
        (one) => one.kind === "flight" && one.figure === figure.id && one.to > last - span,
      );
      if (parts.length < 3 || inAir) return [];
      const place = wholeFigure(figure, parts, last - span, last, {});
      return frozenIn(clean, place) <= frozenSizes[0].value / 2 ? [place] : [];
    });
    return random.shuffled(places);
  },
  edit: (shot, place, size) => freeze(shot, place, place.to - framesAt24(shot, size), place.to),
  measure: frozenFrames,
};

/** @type {FaultKind[]} */
export const holds = [frozenHold, frozenEnd];
