import type { Recompute } from "../shared/compare.ts";
import { freeFrom } from "../shared/fall.ts";
import { range } from "../shared/geometry.ts";

/** Time in the top quarter of a rise and fall, or of a flight, over that in the half below it. */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const node = shot.nodeOf(note);
  const height = (i: number) => shot.at(node, i)[1];
  const top = range(from, to).reduce((best, i) => (height(i) > height(best) ? i : best), from);
  // What turns back by less than a tenth of the least height is on its way still.
  const slack = 0.1 * 0.108 * shot.stature(node);
  const lowest = (sense: 1 | -1): number => {
    let low = height(top);
    for (let i = top; i >= 0 && i < shot.count && height(i) < low + slack; i += sense)
      low = Math.min(low, height(i));
    return low;
  };
  const figure = shot.figureOf(node);
  const ground = (sense: 1 | -1) => height(freeFrom(shot, figure, top, sense) + sense);
  const base = note.measured.quantity.includes("flight") ? ground : lowest;
  const whole = height(top) - Math.max(base(-1), base(1));
  const over = (share: number, sense: 1 | -1): number => {
    const level = height(top) - share * whole;
    let i = top;
    while (height(i + sense) > level) i += sense;
    return Math.abs(i - top) + (height(i) - level) / (height(i) - height(i + sense));
  };
  const upper = over(0.25, -1) + over(0.25, 1);
  return upper / (over(0.75, -1) + over(0.75, 1) - upper);
};
