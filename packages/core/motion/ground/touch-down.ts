import type { Study } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import type { Span } from "../../time/span.ts";
import { type Contact, rollingOf } from "./contact.ts";

/**
 * Where a contact's point comes down and leaves. A declared contact of a foot may cover the flat stance alone: the heel has
 * landed some frames before, the toes leave some frames after. The foot comes down where it is stopped hardest on its way
 * to the stance, and leaves where it sets off hardest after it, while it rolls (see {@link rollingOf}). Any other
 * contact comes down at its first sample and leaves at its last.
 */
export function touchesOf(study: Study, figure: number, contact: Contact): Span {
  const { node, from, to, declared } = contact;
  if (!declared) return { from, to };
  const rolls = rollingOf(study, figure, contact);
  if (rolls.from === from && rolls.to === to) return { from, to };
  const { position } = worldOf(study, node);
  return {
    from: rolls.from < from ? hardestChange(position, rolls.from, from) : from,
    to: rolls.to > to ? hardestChange(position, to, rolls.to) : to,
  };
}

/** The sample of a stretch at which a path's velocity changes most from the step to it to the step from it. */
function hardestChange(path: Float64Array, from: number, to: number): number {
  let most = -1;
  let at = from;
  for (let i = Math.max(1, from); i <= Math.min(to, path.length / 3 - 2); i++) {
    let squared = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) squared += (path[k + 3] - 2 * path[k] + path[k - 3]) ** 2;
    if (squared <= most) continue;
    most = squared;
    at = i;
  }
  return at;
}
