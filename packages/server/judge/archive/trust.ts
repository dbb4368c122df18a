/** By what a run tells that a shot is unchanged: by its bytes, or by the size and the times of its file. */
export const trusts = ["content", "stat"] as const;
export type Trust = (typeof trusts)[number];
