import type { Finding } from "../../check.ts";

/** With numbers in working units. */
export interface HangTimeFinding extends Finding {
  readonly numbers:
    | { readonly frames: number; readonly air: number; readonly ratio: number }
    | { readonly off: number; readonly at: number; readonly isThing?: boolean }
    /** Of a thing: times gravity that it falls, and metres by which it would rise over the line between its ends. */
    | { readonly fall: number; readonly rise: number; readonly middle: number }
    | { readonly change: number; readonly step: number; readonly isThing?: boolean };
}
