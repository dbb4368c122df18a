import { excused } from "../../../base/excuse.ts";
import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { crouchingOf } from "../../../motion/body/crouch.ts";
import { flightsOf } from "../../../motion/body/flight.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { heldByBoth } from "../../../motion/parts/grips.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import type { Pair } from "./pair.ts";

/** In which frames arms that mirror each other are natural, 1 each. */
export interface Natural {
  /** Both balance the body, around flights and while it goes down or up on both legs: alike, but never the same. */
  readonly balanced: Uint8Array;
  /** A hand rests on something, or both hold one thing: they may do the very same. */
  readonly bound: Uint8Array;
}

/**
 * The frames in which arms that mirror each other are natural: around flights, while the body goes down or up on
 * both legs, while a hand rests on something, and while both hold one thing.
 * @param busy 1 where both hands move
 * @param moving 1 where a hand leaves the pose before at all: between two poses by step keys none does
 */
export function naturalFrames(
  study: Study,
  index: number,
  pair: Pair,
  busy: Uint8Array,
  moving: Uint8Array,
): Natural {
  const { count, rate } = gridOf(study);
  const balanced = bytes(count);
  const bound = bytes(count);
  // A jump is led into by a swing of both arms of up to a second, and balanced out of: common practice. Arms that still
  // move when the body has settled are on their way back from balancing it, which takes them as long as the swing did.
  const swing = Math.round(rate);
  const settle = Math.round(0.6 * rate);
  for (const flight of flightsOf(study, index)) {
    const landing = Math.ceil(flight.to);
    const last = Math.min(count, landing + swing);
    let rest = Math.min(count, landing + settle);
    while (rest < last && busy[rest] === 1) rest++;
    const first = Math.max(0, Math.floor(flight.from) - swing);
    balanced.fill(1, first, rest);
    excused(-1, first, rest - 1, "both arms swing with a jump");
  }
  /** Marks stretches with the moves that lead into them and out of them, of up to a second each. */
  const fillWithMoves = (flags: Uint8Array, stretches: readonly Span[], more: number, because: string) => {
    for (const { from, to } of stretches) {
      let first = Math.max(0, from - more);
      while (first > 1 && from - first < swing && isBusyNear(busy, moving, first, -1)) first--;
      let last = Math.min(count - 1, to + more);
      while (last + 1 < count && last - to < swing && isBusyNear(busy, moving, last, 1)) last++;
      flags.fill(1, first, last + 1);
      excused(-1, first, last, because);
    }
  };
  const crouches = crouchingOf(study, index);
  const crouching = runsWhere(count, (i) => crouches[i] === 1);
  fillWithMoves(
    balanced,
    crouching,
    settle,
    "both arms balance the body, which goes down or up on both legs",
  );
  const held = heldByBoth(study, pair.left, pair.right);
  const byLeft = bytes(count);
  const byRight = bytes(count);
  for (const contact of contactsOf(study, index)) {
    if (contact.node !== pair.left && contact.node !== pair.right) continue;
    (contact.node === pair.left ? byLeft : byRight).fill(1, contact.from, contact.to + 1);
    bound.fill(1, contact.from, contact.to + 1);
    excused(-1, contact.from, contact.to, "a hand has a contact");
  }
  for (let i = 0; i < count; i++) if (byLeft[i] === 1 && byRight[i] === 1) held[i] = 1;
  // Both hands go to one thing and leave it together: the move into the hold and the one out of it belong to it.
  const holding = runsWhere(count, (i) => held[i] === 1);
  fillWithMoves(bound, holding, 0, "both hands hold one thing, go to it or leave it");
  return { balanced, bound };
}

/** Whether both hands move within two poses on one side of a sample. A pose that is held counts once. */
function isBusyNear(busy: Uint8Array, moving: Uint8Array, at: number, way: 1 | -1): boolean {
  let poses = 0;
  for (let i = at + way; i > 0 && i < busy.length && poses < 2; i += way) {
    if (busy[i] === 1) return true;
    poses += moving[i];
  }
  return false;
}
