import { editedCurve } from "./edit/edited-curve.ts";
import type { KeyEdit } from "./edit/key-edit.ts";
import { planEdits } from "./edit/plan.ts";
import type { Problem, Shot } from "./model.ts";

export * from "./edit/key-edit.ts";

/** Edits that cannot be made; `problems` says which and why. */
export class KeyEditError extends Error {
  override readonly name = "KeyEditError";
  readonly problems: readonly Problem[];

  /**
   * Takes what is wrong, at least one problem.
   * @param problems which edits cannot be made, and why
   */
  constructor(problems: readonly Problem[]) {
    super(problems.map((problem) => problem.message).join(" "));
    this.problems = problems;
  }
}

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

/**
 * {@link tryEditShot} for edits that are known to fit.
 * @param shot stays as it is
 * @param edits made at once: each names its key by the frame at which it stands before all of them
 * @returns the edited shot
 * @throws KeyEditError if any cannot be made
 */
export function editShot(shot: Shot, edits: readonly KeyEdit[]): Shot {
  const { shot: edited, problems } = tryEditShot(shot, edits);
  if (problems.length > 0) throw new KeyEditError(problems);
  return edited;
}
