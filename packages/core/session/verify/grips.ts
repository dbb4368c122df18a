import { numbersInWords } from "../../base/number-words.ts";
import { distanceBetween } from "../../base/vector.ts";
import { fingerTipsOf, slipBetween } from "../../motion/parts/grip-slip.ts";
import { gripShare, placesIn } from "../../motion/parts/grips.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { statureOf } from "../../rig/body.ts";
import { gridOf } from "../../time/grid.ts";
import type { Law } from "./law.ts";

/** What a hand holds stays in it: a change may take a slip out, and makes none. */
export const keepsGrips: Law = ({ study, before, after }) => {
  const { frames } = gridOf(study);
  for (const { hand, thing, figure, from, to } of before.grips) {
    const [heldBefore, holdingBefore] = [before.worlds[thing], before.worlds[hand]];
    if (after[thing] === heldBefore && after[hand] === holdingBefore) continue;
    const old = placesIn(holdingBefore, heldBefore);
    const now = placesIn(after[hand], after[thing]);
    const limit = gripShare * statureOf(study, figure);
    const tip = fingerTipsOf(study, figure, hand);
    const isTakenAsBefore = distanceBetween(old, from, now, from) <= limit;
    for (let i = from; i <= to; i++) {
      const way = distanceBetween(old, i, now, i);
      if (way <= limit) continue;
      const slipped = slipBetween(holdingBefore, heldBefore, tip, from, i);
      if (isTakenAsBefore && slipBetween(after[hand], after[thing], tip, from, i) < slipped + limit) continue;
      const [what, where] = [nodeNameOf(study, thing), nodeNameOf(study, hand)];
      return `the ${what} would leave its place in the ${where} by ${numbersInWords.length(way)} at frame ${frames[i]}`;
    }
  }
  return null;
};
