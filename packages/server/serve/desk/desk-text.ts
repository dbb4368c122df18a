import {
  type KeyEdit,
  KeyEditError,
  keyEditPatches,
  type ReadResult,
  readShot,
  type Shot,
} from "@keyside/core";
import { rereadSteps } from "@keyside/core/internal";
import type { Budget } from "../../base/budget.ts";
import { UnreadableError } from "../../base/errors.ts";
import { refuseHeavy, weightOf } from "../../judge/shots/weigh.ts";

/** Pieces from which on reading the whole text once costs less than reading them one by one. */
const fewPieces = 64;

/** How many times as many frames an edit may leave as there were, and how many it may leave in any case. */
const growth = { times: 4, frames: 10_000 } as const;

/** A text with what was read from exactly it. A version is never changed: an edit makes another. */
export interface TextVersion {
  readonly text: string;
  readonly shot: Shot;
  readonly read: ReadResult;
}

/** Edits, or a text, that cannot be taken; the message is a sentence or more for whoever made them. */
export class NotTaken extends Error {
  override readonly name = "NotTaken";
}

/** How much a shot may be. */
export interface Measure {
  readonly budget: Budget;
  /** Frames per second at which it is judged; undefined for its own. */
  readonly rate: number | undefined;
}

/** @throws NotTaken for what is no curve document, or more work than is allowed */
export function versionOf(text: string, measure: Measure): TextVersion {
  return taken(text, readShot(text), measure);
}

/**
 * Makes edits of keys in the text, and touches nothing else.
 * @param edits made at once, all or none
 * @throws NotTaken where any cannot be made, or the shot would be more work than is allowed
 */
export function edited(version: TextVersion, edits: readonly KeyEdit[], measure: Measure): TextVersion {
  let pieces: ReturnType<typeof keyEditPatches>;
  try {
    pieces = keyEditPatches(version.text, version.shot, edits);
  } catch (error) {
    if (error instanceof KeyEditError) throw new NotTaken(error.message);
    throw error;
  }
  // From the end on, so that the places of those before stay what they are.
  const last = [...pieces].sort((a, b) => a.start - b.start || a.end - b.end).reverse();
  const steps: { text: string; change: (typeof last)[number] }[] = [];
  let { text } = version;
  for (const change of last) {
    steps.push({ text, change });
    text = text.slice(0, change.start) + change.text + text.slice(change.end);
  }
  const reread = steps.length > fewPieces ? null : rereadSteps(version.read, steps);
  const next = taken(text, reread ?? readShot(text), measure);
  refuseThrow(version.shot, next.shot);
  return next;
}

/**
 * A key that is dragged far beyond the end of a shot whose range follows its keys is a slip, and all of the frames up to
 * it would be posed and judged.
 * @throws NotTaken
 */
function refuseThrow(before: Shot, after: Shot): void {
  const framesOf = ({ range }: Shot) => range[1] - range[0] + 1;
  if (framesOf(after) <= Math.max(growth.frames, growth.times * framesOf(before))) return;
  throw new NotTaken(
    `The shot would go from frame ${after.range[0]} to ${after.range[1]}; an edit may make it ${growth.times} times as long at most. Go there in steps if that is meant.`,
  );
}

function taken(text: string, read: ReadResult, { budget, rate }: Measure): TextVersion {
  const { shot } = read;
  if (shot === null) throw new NotTaken(read.problems[0]?.message ?? "Nothing in it can be judged.");
  try {
    refuseHeavy("", weightOf(shot, rate), budget);
  } catch (error) {
    if (error instanceof UnreadableError) throw new NotTaken(error.message);
    throw error;
  }
  return { text, shot, read };
}
