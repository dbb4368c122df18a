import { numbersInWords } from "../../base/number-words.ts";
import { distanceBetween } from "../../base/vector.ts";
import { statureNear } from "../../motion/path/moves.ts";
import { elsewhereShare } from "../../notes/motion-elsewhere.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { figureOfNode } from "../../rig/body.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import type { Law, Made } from "./law.ts";

/** Another figure may move by this much, in body heights: it is what rounding leaves. */
const otherFigureShare = 0.0005;

/** No other figure moves, but for what the note itself names: a prop that goes along with the hands. */
export const keepsOthers: Law = (made) => {
  const { study, note, figure, moved } = made;
  if (figure < 0) return null;
  const rig = rigOf(study);
  const named = [...note.seenAt, ...note.keys.map(({ node }) => node)].flatMap(
    (id) => rig.indexOf.get(id) ?? [],
  );
  const others = moved.filter((node) => {
    const owner = figureOfNode(study, node);
    return owner >= 0 && owner !== figure && !named.some((one) => isAbove(rig, one, node));
  });
  return farthest(made, others, otherFigureShare, null);
};

/** Nothing moves outside the frames of the note. */
export const keepsElsewhere: Law = (made) => farthest(made, made.moved, elsewhereShare, made);

/** The part that moves farthest past a limit outside of where it may. */
function farthest(
  { study, before, after }: Made,
  nodes: readonly number[],
  share: number,
  within: Span | null,
): string | null {
  const { count, frames } = gridOf(study);
  let [worst, part, at, limit] = [1, -1, 0, 0];
  for (const node of nodes) {
    const least = share * statureNear(study, node);
    const [a, b] = [before.worlds[node].position, after[node].position];
    for (let i = 0; i < count; i++) {
      if (within !== null && i >= within.from && i <= within.to) i = within.to + 1;
      if (i >= count) break;
      const way = distanceBetween(a, i, b, i) / least;
      if (!(way <= worst)) [worst, part, at, limit] = [way, node, i, least];
    }
  }
  if (part < 0) return null;
  const way = numbersInWords.length(worst * limit);
  return `the ${nodeNameOf(study, part)} would move by ${way} at frame ${frames[at]}, where nothing is wrong`;
}
