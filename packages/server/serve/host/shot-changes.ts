import { methods } from "./protocol.ts";

/** Requests that change a shot. */
export const shotChanges: readonly string[] = [
  methods.editKeys,
  methods.replaceShot,
  methods.configureShot,
  methods.setWaivers,
  methods.setReview,
  methods.changeReview,
  methods.closeShot,
];

/** The name by which changes of a shot are counted as they arrive: no URI begins like it. */
export function hostArrival(params: unknown): string {
  return `shot ${String((params as { shot?: unknown } | null | undefined)?.shot)}`;
}
