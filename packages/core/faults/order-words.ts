import type { Order } from "../motion/parts/order.ts";
import type { Words } from "./words.ts";

/** Lags under this many frames are not seen: one frame is not read as a lead (common practice), half of one surely not. */
const unseen = 0.5;

/**
 * Who starts and who follows, as the end of a note's sentence: "; the head starts first, trunk 1.2 and hips 3 frames later".
 * Nothing where no order is known.
 */
export function startsOf(order: Order, words: Words): string {
  if (order.length < 2) return "";
  const leads = joined(order.filter(({ frames }) => frames < unseen).map(({ part }) => part));
  const follows = order.filter(({ frames }) => frames >= unseen);
  if (follows.length === 0) return `; ${leads} start as one`;
  const later = follows.map(({ part, frames }, i) => {
    const time = words.frames(frames);
    return `${part} ${i === follows.length - 1 ? time : time.replace(/ frames?$/, "")}`;
  });
  return `; ${leads} first, ${joined(later)} later`;
}

const joined = (list: readonly string[]) =>
  list.length < 2 ? list.join("") : `${list.slice(0, -1).join(", ")} and ${list[list.length - 1]}`;
