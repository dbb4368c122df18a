import { tryEditShot } from "./edit/edited-shot.ts";
import type { KeyEdit } from "./edit/key-edit.ts";
import type { Problem, Shot } from "./model.ts";

export { type EditResult, tryEditShot } from "./edit/edited-shot.ts";
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
