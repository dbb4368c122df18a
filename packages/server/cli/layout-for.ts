import type { Io } from "../base/io.ts";
import type { Layout } from "../present/text/layout.ts";

/** Wider lines than this are hard to read. */
const widest = 110;

/** Colour only for a person at a terminal who has not asked for none (https://no-color.org). */
export function layoutFor(io: Io): Layout {
  const noColour = io.env["NO_COLOR"];
  const colour = io.isTTY && (noColour === undefined || noColour === "");
  return { colour, width: Math.max(40, Math.min(widest, io.columns)) };
}
