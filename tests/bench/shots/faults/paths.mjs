// @ts-check
/**
 * Faults of arcs: out and back on one line, swings without a bow.
 * @import { FaultKind, KeyedShot, Place } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { dot, length, subtract } from "../../../../demo/motion/vector.mjs";
import { posesOf, valueAt } from "../poses.mjs";
import { kinkedPath } from "./paths-corners.mjs";
import { meanSlope, redraw } from "./tools/curve.mjs";
import { fitted, tried } from "./tools/fit.mjs";
import { angleBetween, channelsOf } from "./tools/local.mjs";
import { movesIn, movesOf, pathAt, pathOf } from "./tools/moves.mjs";
import { beside, bringEnd } from "./tools/solve.mjs";
import { curvesAt, drawn, framesAt24, moversIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** Distance of a point from a line through two others, or from the piece between them. @param {number[]} p @param {number[]} a @param {number[]} b @param {boolean} piece */
function fromLine(p, a, b, piece) {
  const way = subtract(b, a);
  const share = dot(subtract(p, a), way) / (dot(way, way) || 1);
  return length(subtract(p, beside(a, way, piece ? Math.max(0, Math.min(1, share)) : share)));
}

// ---------------------------------------------------------------- out and back

/** @typedef {{ out: [number, number], back: [number, number] }} Return frames of the way out and of the way back */

const returnOf = (/** @type {Place} */ place) => /** @type {Return} */ (place["way"]);

/** Mean distance of the way back from the way out, as a share of its length. @param {Channels} poses @param {Channels} twin @param {Place} place */
function opening(poses, twin, place) {
  const { out, back } = returnOf(place);
  const there = pathAt(poses, twin, place, ...out);
  const home = pathAt(poses, twin, place, ...back);
  const travel = there.slice(1).reduce((sum, point, i) => sum + length(subtract(point, there[i])), 0);
  const gaps = home.map((point) =>
    Math.min(...there.slice(1).map((next, i) => fromLine(point, there[i], next, true))),
  );
  return gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length / (travel || 1);
}

/** Lays the breakdowns of both ways towards the straight line between the poses. @param {KeyedShot} shot @param {Place} place @param {number} share */
function flatten(shot, place, share) {
  const { out, back } = returnOf(place);
  for (const curve of curvesAt(shot, place)) {
    const drawnWays = [out, back].map(([from, to]) => {
      const middle = Math.round((from + to) / 2);
      const [a, b] = [valueAt(curve, from), valueAt(curve, to)];
      const t = (middle - from) / (to - from);
      const value = a + (b - a) * t * t * (3 - 2 * t);
      const slope = ((b - a) * 6 * t * (1 - t)) / (to - from);
      const own = valueAt(curve, middle);
      return [
        { frame: from, value: a, slope: (1 - share) * meanSlope(curve, from) },
        {
          frame: middle,
          value: own + (value - own) * share,
          slope: meanSlope(curve, middle) * (1 - share) + slope * share,
        },
        { frame: to, value: b, slope: (1 - share) * meanSlope(curve, to) },
      ];
    });
    for (const points of drawnWays) redraw(curve, points);
  }
}

/** @type {FaultKind} */
const retracedPath = {
  name: "retraced path",
  checks: ["retraced-path"],
  unit: "of the opening between out and back taken out",
  sizes: [
    {
      value: 0.7,
      reason: "A third of the loop is left, a hundredth of its length or so: it looks thin.",
    },
    { value: 0.85, reason: "Out and back lie a line's width apart." },
    { value: 1, reason: "The same line twice: the part goes back and forth on a rail." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const movers = moversIn(clean).filter(({ part }) => part !== "loose");
    const all = movers.flatMap((one) =>
      returnsOf(clean, one).map((way) => ({ one, way, weight: one.weight })),
    );
    const channels = channelsOf(clean);
    return placesFrom(
      drawn(random, all, ({ weight }) => weight),
      ({ one, way }) => {
        const place = placeOn(one, way.out[0], way.back[1], { way });
        if (opening(channels, channels, place) < 0.03) return undefined;
        const greatest = tried(
          clean,
          one.joints,
          (trial) => flatten(trial, place, 1),
          (poses) => openingTaken(poses, place, channels),
        );
        return greatest >= 0.85 ? place : undefined;
      },
    );
  },
  edit: (shot, place, size) =>
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => flatten(trial, place, amount),
      (poses, twin) => openingTaken(poses, place, twin),
      size,
      [0, 1],
    ),
  measure: openingTaken,
};

/** @param {Channels} poses @param {Place} place @param {Channels} twin */
function openingTaken(poses, place, twin) {
  return 1 - opening(poses, twin, place) / opening(twin, twin, place);
}

/** Moves that are taken back by the next one. @param {KeyedShot} clean @param {Mover} one @returns {Return[]} */
function returnsOf(clean, one) {
  const path = pathOf(clean, one);
  const at = (/** @type {number} */ frame) => path[frame - clean.performance.first];
  const moves = movesOf(clean, one);
  const long = framesAt24(clean, 5);
  return moves.flatMap((out, i) => {
    const away = length(subtract(at(out.to), at(out.from)));
    if (away < 0.05 * one.figure.body.stature || out.to - out.from < long) return [];
    const back = moves
      .slice(i + 1)
      .find(
        (next) => length(subtract(at(next.to), at(out.from))) < 0.25 * away && next.to - next.from >= long,
      );
    // What is held longer is a new thought, and nobody compares the paths.
    if (back === undefined || back.from - out.to > framesAt24(clean, 40)) return [];
    if (length(subtract(at(back.from), at(out.to))) > 0.25 * away) return [];
    return [{ out: /** @type {[number, number]} */ ([out.from, out.to]), back: [back.from, back.to] }];
  });
}

// ---------------------------------------------------------------- no bow

/** Greatest distance of a path from the line between its ends, and the length of that line. @param {number[][]} path */
function bowOf(path) {
  const [a, b] = [path[0], path[path.length - 1]];
  return {
    bow: Math.max(...path.map((point) => fromLine(point, a, b, false))),
    chord: length(subtract(b, a)),
  };
}

/** @param {Channels} poses @param {Place} place @param {Channels} twin */
function bowTaken(poses, place, twin) {
  const { start, end } = spotOf(place);
  return (
    1 - bowOf(pathAt(poses, twin, place, start, end)).bow / bowOf(pathAt(twin, twin, place, start, end)).bow
  );
}

/** Changes of channels per breakdown that lay the end on the line between the ends of its move. @param {KeyedShot} shot @param {Place} place */
function lineUp(shot, place) {
  const { start, end, lever } = spotOf(place);
  const poses = channelsOf({ ...shot });
  const curves = curvesAt(shot, place);
  const path = pathAt(poses, poses, place, start, end);
  const [a, b] = [path[0], path[path.length - 1]];
  const way = subtract(b, a);
  const count = Math.max(3, Math.round((end - start) / framesAt24(shot, 3)));
  /** @type {{ frame: number, by: Map<string, number> }[]} */
  const knots = [];
  for (let n = 0; n <= count; n++) {
    const frame = Math.round(start + ((end - start) * n) / count);
    const point = path[frame - start];
    const share = dot(subtract(point, a), way) / dot(way, way);
    knots.push({ frame, by: bringEnd(poses, lever, curves, frame, beside(a, way, share)).by });
  }
  return knots;
}

/** @param {KeyedShot} shot @param {Place} place @param {ReturnType<typeof lineUp>} knots @param {number} share */
function layOnLine(shot, place, knots, share) {
  for (const curve of curvesAt(shot, place)) {
    const name = `${curve.joint} ${curve.channel}`;
    const by = knots.map((knot) => share * (knot.by.get(name) ?? 0));
    redraw(
      curve,
      knots.map(({ frame }, n) => {
        const [before, after] = [Math.max(0, n - 1), Math.min(knots.length - 1, n + 1)];
        const pitch = (by[after] - by[before]) / (knots[after].frame - knots[before].frame);
        const inner = n > 0 && n < knots.length - 1;
        return {
          frame,
          value: valueAt(curve, frame) + by[n],
          slope: meanSlope(curve, frame) + (inner ? pitch : 0),
        };
      }),
    );
  }
}

/** @type {FaultKind} */
const straightPath = {
  name: "straight path",
  checks: ["straight-path"],
  unit: "of the bow of a swing taken out",
  sizes: [
    {
      value: 0.7,
      reason: "The arc is flattened to a third: two or three hundredths of the way, hardly a curve.",
    },
    { value: 0.85, reason: "A hundredth of the way is left: nobody would draw it as an arc." },
    { value: 1, reason: "A ruler: as a target pulled straight from pose to pose makes it." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const movers = moversIn(clean).filter(
      ({ part, joints }) => ["arm", "wing", "fin", "tail"].includes(part) && joints.length > 1,
    );
    const poses = posesOf(clean);
    const channels = channelsOf(clean);
    return placesFrom(movesIn(clean, random, movers), ({ one, move }) => {
      const { from, to } = move;
      const place = placeOn(one, from, to, { start: from, end: to });
      const { bow, chord } = bowOf(pathAt(channels, channels, place, from, to));
      const { stature } = one.figure.body;
      if (to - from < framesAt24(clean, 6) || chord < 0.12 * stature || bow < 0.06 * chord) return undefined;
      // Where the trunk goes along, the picture shows another line.
      const carrier = one.lever.chain[0].parent ?? one.figure.body.root;
      const [p, q] = [from, to].map((frame) => poses.position(carrier, frame));
      const turned = angleBetween(poses.orientation(carrier, from), poses.orientation(carrier, to));
      if (length(subtract(p, q)) > 0.3 * chord || turned > 15) return undefined;
      const knots = lineUp(clean, place);
      const greatest = tried(
        clean,
        one.joints,
        (trial) => layOnLine(trial, place, knots, 1),
        (poses) => bowTaken(poses, place, channels),
      );
      return greatest >= 0.85 ? place : undefined;
    });
  },
  edit: (shot, place, size) => {
    const knots = lineUp(shot, place);
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => layOnLine(trial, place, knots, amount),
      (poses, twin) => bowTaken(poses, place, twin),
      size,
      [0, 1],
    );
  },
  measure: bowTaken,
};

/** @type {FaultKind[]} */
export const pathFaults = [retracedPath, straightPath, kinkedPath];
