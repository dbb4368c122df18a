import type { Io } from "../base/io.ts";
import type { ProgressPlace } from "../judge/archive/progress.ts";
import type { Layout } from "../present/text/layout.ts";

/** Wider lines than this are hard to read. */
const widest = 110;

/** How text on stdout is laid out. */
export function layoutFor(io: Io): Layout {
  return { colour: isColoured(io), width: Math.max(40, Math.min(widest, io.columns)) };
}

/**
 * Colour only for a person at a terminal that shows it, who has not asked for none. `FORCE_COLOR` goes before all else,
 * as in Node itself: 0 or false for none, anything else for colour; empty, it asks for nothing, as `NO_COLOR` does.
 */
function isColoured({ env, isTTY }: Pick<Io, "env" | "isTTY">): boolean {
  const forced = env["FORCE_COLOR"] ?? "";
  if (forced !== "") return forced !== "0" && forced.toLowerCase() !== "false";
  return isTTY && !isDumb(env) && (env["NO_COLOR"] ?? "") === "";
}

/** Where progress is shown: a terminal that can move its cursor gets a bar, all else lines. */
export function progressPlaceFor({ env, columns, stderr, stderrIsTTY, now }: Io): ProgressPlace {
  return { write: stderr, isTTY: stderrIsTTY && !isDumb(env), columns, now };
}

/** Whether the terminal can do no more than write one line beneath the other. */
function isDumb(env: Io["env"]): boolean {
  return env["TERM"] === "dumb";
}
