import { measure } from "../study/study.ts";
import { gridOf } from "./grid.ts";
import { heldOf } from "./held.ts";

/**
 * Grid indices at which a node shows a new pose: all but those that step keys hold. Checks of spacing look at these
 * alone, so that motion on twos is judged pose by pose and a held frame is never taken for a stop.
 */
export const shownOf = measure<number, Int32Array>("shown", (study, node) => {
  const { count } = gridOf(study);
  const held = heldOf(study, node);
  const shown = new Int32Array(count);
  let length = 0;
  for (let i = 0; i < count; i++) if (held[i] === 0) shown[length++] = i;
  return shown.subarray(0, length);
});
