import type { Problem, Shot } from "../model.ts";
import { editedCurve } from "./edited-curve.ts";
import type { KeyEdit } from "./key-edit.ts";
import { planEdits } from "./plan.ts";

/** What came of trying edits. */
export interface EditResult {
  /** The edited shot; the shot as it was if any of the edits cannot be made. */
  readonly shot: Shot;
  /** Why edits cannot be made; `path` names them: `edits/2`. Empty if all were. */
  readonly problems: readonly Problem[];
}

/**
 * Makes edits of keys, all or none. Curves that are not edited stay the same objects; an edited one is a new object
 * without a place, as no text holds it yet. The judged range stays as it is.
 * @param shot stays as it is
 * @param edits made at once: each names its key by the frame at which it stands before all of them
 * @returns the edited shot, and what cannot be made; such problems have no places
 */
export function tryEditShot(shot: Shot, edits: readonly KeyEdit[]): EditResult {
  const { plans, problems } = planEdits(shot, edits);
  if (problems.length > 0) return { shot, problems };
  if (plans.length === 0) return { shot, problems };
  const planOf = new Map(plans.map((plan) => [plan.curve, plan]));
  const curves = shot.curves.flatMap((curve) => {
    const plan = planOf.get(curve);
    const kept = plan === undefined ? curve : editedCurve(plan);
    return kept.frames.length > 0 ? [kept] : [];
  });
  for (const plan of plans) {
    if (plan.isNew) curves.push(editedCurve(plan));
  }
  return { shot: { ...shot, curves }, problems };
}
