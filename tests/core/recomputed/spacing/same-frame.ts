import type { Recompute } from "../shared/compare.ts";
import { movingParts } from "../shared/moves.ts";

/**
 * Parts of the figure that start (or arrive) within a frame of the one that is named, over the parts that move within
 * eight frames of it. A move starts where it has a tenth of its peak speed, and arrives where it loses it. Legs that stand
 * do not count.
 */
export const recompute: Recompute = (note, shot) => {
  const [at] = shot.spanOf(note);
  const figure = shot.figureOf(shot.nodeOf(note));
  const starts = note.measured.quantity.includes("start");
  const frames = (count: number) => Math.round((count * shot.rate) / 24);
  const standing = ["left", "right"].filter((side) => {
    const leg = ["Thigh", "Shin", "Foot", "Toes"].map((name) => side + name);
    return shot
      .contacts(figure)
      .some(
        ({ node, from, to }) =>
          leg.includes(shot.partOf(node)) && from <= at + frames(1) && to >= at - frames(1),
      );
  });
  const stands = (part: string) =>
    standing.some((side) => new RegExp(`^${side}(Thigh|Shin|Foot|Toes)$`).test(part));
  const near = movingParts(shot, figure).filter(
    ({ part, moves }) =>
      !stands(part) && moves.some(({ from, to }) => from <= at + frames(8) && to >= at - frames(8)),
  );
  const same = near.filter(({ moves }) =>
    moves.some((move) =>
      starts
        ? move.startsAtRest && Math.abs(move.starts - at) <= frames(1)
        : move.endsAtRest && Math.abs(move.arrives - at) <= frames(1),
    ),
  );
  return same.length / near.length;
};
