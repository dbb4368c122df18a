import type { Recompute } from "../shared/compare.ts";
import { mean, range } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";
import { type Capsule, capsules, isBelow, isWithin } from "../shared/seen.ts";

/** Places across the box of the figure, two of them free on either side. */
const across = 128;
const free = 2;

/** The share of the places of a hand over which nothing else of its figure lies, its own forearm left out: the mean of the frames. */
export const recompute: Recompute = (note, shot) => {
  const hand = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  return mean(range(from, to).map((i) => shareAt(shot, hand, i)));
};

function shareAt(shot: Sampled, hand: number, i: number): number {
  const all = capsules(shot, shot.figureOf(hand), i);
  const forearm = shot.part(hand, shot.partOf(hand).replace("Hand", "Forearm"));
  const own = all.filter(({ from }) => isBelow(shot, hand, from)).map(({ capsule }) => capsule);
  const rest = all.filter(({ from }) => !isBelow(shot, forearm, from)).map(({ capsule }) => capsule);
  const discs = [...own, ...rest].flat();
  const left = Math.min(...discs.map(([x, , r]) => x - r));
  const top = Math.max(...discs.map(([, y, r]) => y + r));
  const size = Math.max(
    Math.max(...discs.map(([x, , r]) => x + r)) - left,
    top - Math.min(...discs.map(([, y, r]) => y - r)),
  );
  const place = size / (across - 2 * free);
  const isIn = (list: readonly Capsule[], row: number, column: number) => {
    const at = [left + (column + 0.5 - free) * place, top - (row + 0.5 - free) * place] as const;
    return list.some((capsule) => isWithin(at, capsule));
  };
  // Only near the hand.
  const reach = (k: 0 | 1) => [
    Math.min(...own.flat().map((disc) => disc[k] - disc[2])),
    Math.max(...own.flat().map((disc) => disc[k] + disc[2])),
  ];
  const [[x0, x1], [y0, y1]] = [reach(0), reach(1)];
  let [alone, covered] = [0, 0];
  for (let row = Math.floor((top - y1) / place); row <= Math.ceil((top - y0) / place) + 2 * free; row++) {
    for (
      let column = Math.floor((x0 - left) / place);
      column <= Math.ceil((x1 - left) / place) + 2 * free;
      column++
    ) {
      if (!isIn(own, row, column)) continue;
      covered++;
      if (!isIn(rest, row, column)) alone++;
    }
  }
  return alone / covered;
}
