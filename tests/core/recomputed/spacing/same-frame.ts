import type { Recompute } from "../shared/compare.ts";
import { movingParts } from "../shared/moves.ts";

/**
 * Parts of the figure that start within a frame of the first frame that is named and arrive within a frame of the last,
 * over the parts that move between them. A move starts where it has a tenth of its peak speed,
 * and arrives where it loses it. Legs that stand do not count.
 */
export const recompute: Recompute = (note, shot) => {
  const [first, last] = shot.spanOf(note);
  const figure = shot.figureOf(shot.nodeOf(note));
  const frames = (count: number) => Math.round((count * shot.rate) / 24);
  const standing = ["left", "right"].filter((side) => {
    const leg = ["Thigh", "Shin", "Foot", "Toes"].map((name) => side + name);
    return shot
      .contacts(figure)
      .some(
        ({ node, from, to }) =>
          leg.includes(shot.partOf(node)) && from <= last + frames(1) && to >= first - frames(1),
      );
  });
  const stands = (part: string) =>
    standing.some((side) => new RegExp(`^${side}(Thigh|Shin|Foot|Toes)$`).test(part));
  const near = movingParts(shot, figure).filter(
    ({ part, moves }) =>
      !stands(part) && moves.some(({ starts, arrives }) => starts < last && arrives > first),
  );
  const same = near.filter(({ moves }) =>
    moves.some(
      (move) =>
        move.startsAtRest &&
        move.endsAtRest &&
        Math.abs(move.starts - first) <= frames(1) &&
        Math.abs(move.arrives - last) <= frames(1),
    ),
  );
  return same.length / near.length;
};
