import { inlineText } from "../document/write/value-text.ts";
import { fingerprintOf } from "../notes/fingerprint.ts";
import type { Decision } from "./schema.ts";

/** Of the Web Cryptography API, which browsers and Node have. */
declare const crypto: { getRandomValues(room: Uint32Array): Uint32Array };

/** Letters of ids: no vowels, so that no words come about, and none that look like digits. */
const letters = "bcdfghjkmnpqrstvwxz23456789";
const idLength = 14;

/**
 * A new id for a remark or a mark: 14 letters of 27, so that two people who write at once do not get the same one.
 * @param random gives numbers from 0 up to 1, by which ids can be foretold in tests
 * @returns the id
 */
export function newReviewId(random: () => number = randomNumber): string {
  let id = "";
  for (let i = 0; i < idLength; i++) id += letters[Math.floor(random() * letters.length)];
  return id;
}

function randomNumber(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0] / 2 ** 32;
}

/**
 * The id of a decision about a note. It follows from what the decision is about, so that two people who decide about
 * the same note change the same entry.
 * @param about check, node and frames of the note
 * @returns the id
 */
export function decisionIdOf({ check, node, frames }: Pick<Decision, "check" | "node" | "frames">): string {
  return fingerprintOf(["decision", check, node ?? "", ...(frames ?? [])]);
}

/** The id of what somebody else made of an entry at the same time; it follows from what stands in it. */
export function siblingId(id: string, entry: object): string {
  return `${id}.${fingerprintOf([inlineText(entry)]).slice(0, 6)}`;
}
