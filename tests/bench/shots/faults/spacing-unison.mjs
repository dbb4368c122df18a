// @ts-check
/**
 * Pose to pose: the parts of a figure start and arrive on the same frames, their offsets taken out.
 * @import { FaultKind, KeyedShot, Place, Random } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Move } from "./tools/moves.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { cutAt, reshape } from "./tools/curve.mjs";
import { tried } from "./tools/fit.mjs";
import { channelsOf } from "./tools/local.mjs";
import { movesOf, pathOf, spacingOf, stepsAt } from "./tools/moves.mjs";
import { curvesOf, framesAt24, jointsIn, placeOn, spotOf } from "./tools/where.mjs";

/** @typedef {{ one: Mover, move: Move }} Moved */

const median = (/** @type {number[]} */ values) => values.toSorted((a, b) => a - b)[values.length >> 1];

/** First and last step of the move around the quickest one: those above a sixth of it. @param {number[]} steps */
function ends(steps) {
  const most = Math.max(...steps);
  const peak = steps.indexOf(most);
  let [from, to] = [peak, peak];
  while (from > 0 && steps[from - 1] > most / 6) from--;
  while (to + 1 < steps.length && steps[to + 1] > most / 6) to++;
  return [from, to];
}

/** Share of the moving parts that start, and that arrive, within a frame (at 24 per second) of the middle one. @param {Channels} poses @param {Place} place @param {Channels} twin */
function unison(poses, place, twin) {
  const parts = /** @type {Moved[]} */ (place["parts"]);
  const near = poses.performance.rate / 24 + 1e-6;
  const found = parts.map(({ one }) =>
    ends(
      stepsAt(poses, twin, { ...spotOf(place), joints: one.joints, lever: one.lever }, place.from, place.to),
    ),
  );
  const shares = [0, 1].map((side) => {
    const frames = found.map((pair) => pair[side]);
    const middle = median(frames);
    return frames.filter((frame) => Math.abs(frame - middle) <= near).length / frames.length;
  });
  return (shares[0] + shares[1]) / 2;
}

/** Keys the first so many parts on two frames: one pose, then the other. @param {KeyedShot} shot @param {Place} place @param {number} count */
function unite(shot, place, count) {
  const { start, end } = spotOf(place);
  const parts = /** @type {Moved[]} */ (place["parts"]);
  for (const { one, move } of parts.slice(0, count)) {
    for (const curve of curvesOf(shot, one.joint)) {
      const [from, to] = [Math.min(start, move.from), Math.max(end, move.to)];
      const before = cutAt(curve, from).value;
      const after = cutAt(curve, to).value;
      cutAt(curve, start).value = before;
      cutAt(curve, end).value = after;
      if (from < start) reshape(curve, from, start, 0, 0);
      reshape(curve, start, end, 0, 0);
      if (to > end) reshape(curve, end, to, 0, 0);
    }
  }
}

/** Fewest parts that make a pose. */
const fewest = 4;
/** Parts that act: the ground holds legs and root, and what is loose only drags. */
const actors = new Set(["arm", "head", "neck", "wing", "tail", "fin"]);

/**
 * The parts that move along with one, each from rest to rest.
 * @param {KeyedShot} clean @param {Random} random @param {readonly Moved[]} moved of one figure @param {Moved} reference
 * @returns {Place | undefined}
 */
function poseChange(clean, random, moved, reference) {
  const { from, to } = reference.move;
  const margin = framesAt24(clean, 4);
  const parts = new Map();
  for (const { one, move } of moved) {
    const shared = Math.min(to, move.to) - Math.max(from, move.from);
    const inside = move.from > from - margin && move.to < to + margin;
    if (!inside || shared < 0.6 * (move.to - move.from) || shared < 0.6 * (to - from)) continue;
    const start = from - margin - clean.performance.first;
    const around = spacingOf(pathOf(clean, one)).slice(start, start + to - from + 2 * margin);
    const rests = around.every((step, i) => {
      const frame = from - margin + i;
      return (frame >= move.from && frame < move.to) || step < move.spacing / 6;
    });
    if (rests && !parts.has(one.joint)) parts.set(one.joint, { one, move });
  }
  const list = random.shuffled([...parts.values()]);
  if (list.length < fewest) return undefined;
  const start = median(list.map(({ move }) => move.from));
  const end = median(list.map(({ move }) => move.to));
  const joints = list.map(({ one }) => one.joint);
  const place = placeOn(reference.one, from - margin, to + margin, { parts: list, start, end });
  return { ...place, joints, also: [...new Set([...joints, reference.one.figure.body.root])] };
}

/** @type {FaultKind} */
const sameFrame = {
  name: "same frame",
  checks: ["same-frame"],
  unit: "of the moving parts that start and arrive within a frame of each other",
  sizes: [
    {
      value: 0.8,
      reason:
        "Four parts of five: only a straggler is left; fingers a tenth of a second off are noticed (Jörg et al. 2010).",
    },
    { value: 0.9, reason: "Nearly all: the figure changes from pose to pose like a puppet on one string." },
    {
      value: 1,
      reason:
        "All of them: two poses and an in-between, the blocking itself (common practice: offset by 1 to 3 frames).",
    },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const { figures, first, last } = clean.performance;
    const channels = channelsOf(clean);
    // One joint of the trunk speaks for all: a spine that turns as one is another fault.
    const all = jointsIn(clean).filter(({ part, joint, figure: { body } }) =>
      part === "trunk" ? joint === body.trunk[body.trunk.length - 1] : actors.has(part),
    );
    const places = figures.flatMap((figure) => {
      const moved = all
        .filter((one) => one.figure === figure)
        .flatMap((one) => movesOf(clean, one).map((move) => ({ one, move })));
      return moved.flatMap((reference) => {
        const { from, to } = reference.move;
        if (to - from < framesAt24(clean, 8) || from < first + 6 || to > last - 6) return [];
        const place = poseChange(clean, random, moved, reference);
        if (place === undefined || unison(channels, place, channels) > 0.4) return [];
        const { length } = /** @type {Moved[]} */ (place["parts"]);
        const greatest = tried(
          clean,
          spotOf(place).joints,
          (trial) => unite(trial, place, length),
          (poses) => unison(poses, place, channels),
        );
        return greatest >= 0.95 ? [place] : [];
      });
    });
    return random.shuffled(places).slice(0, 30);
  },
  edit: (shot, place, size) => {
    const parts = /** @type {Moved[]} */ (place["parts"]);
    unite(shot, place, Math.ceil(size * parts.length - 1e-9));
  },
  measure: unison,
};

/** @type {FaultKind[]} */
export const inUnison = [sameFrame];
