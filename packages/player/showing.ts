/** Which motion is shown where a note has a fix: as it is, with the fix, both over each other, or side by side. */
export type Showing = "before" | "after" | "over" | "beside";

/** What stands on the left and on the right of the picture. */
export const sides: Readonly<Record<Showing, readonly [string, string]>> = {
  before: ["", ""],
  after: ["with the fix", ""],
  over: ["", "dashed: with the fix"],
  beside: ["as it is", "with the fix"],
};
