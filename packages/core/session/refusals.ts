import type { Expected, Measured } from "../base/measured.ts";
import { inWords, trimmed } from "../base/number-words.ts";
import { type Unit, units } from "../base/quantity.ts";
import { sentence } from "../base/sentence.ts";
import type { Note } from "../faults/note.ts";
import type { KeyMove } from "./moves.ts";

/** What a check still measures after a change, and over which frames of the document. */
export interface Left {
  readonly measured: Measured;
  readonly expected: Expected;
  readonly frames: readonly [number, number];
}

/** Where something is, in frames of the document. */
export function framesInWords([first, last]: readonly [number, number]): string {
  const [a, b] = [trimmed(first, 1), trimmed(last, 1)];
  return a === b ? `at frame ${a}` : `over frames ${a} to ${b}`;
}

/** How much of a note would be left, where, and what would pass, as a clause. */
export function leftInWords({ measured, expected, frames }: Left): string {
  const { quantity, value, unit } = measured;
  return `${quantity}: ${amount(value, unit)} ${framesInWords(frames)}${passing(value, expected)}`;
}

function passing(value: number, { min, max, unit }: Expected): string {
  if (min !== undefined && (max === undefined || value < min))
    return `, where at least ${amount(min, unit)} passes`;
  return max === undefined ? "" : `, where at most ${amount(max, unit)} passes`;
}

function amount(value: number, unit: Unit): string {
  return inWords(value * units[unit].factor, unit);
}

/** What is said where no change clears a note, with what the nearest of them leaves. */
export function noneClears(tried: number, nearest: Left | null): string {
  if (tried === 0) return "no change of a few keys is known that would clear it";
  const left =
    nearest === null ? "" : `; ${tried === 1 ? "it" : "the nearest"} leaves ${leftInWords(nearest)}`;
  return tried === 1
    ? `the one change that was tried does not clear it${left}`
    : `none of the ${tried} changes that were tried clears it${left}`;
}

/** Why moves are a sketch: the curve that is keyed anew over the most keys, or how many curves change. */
export function rebuiltInWords(moves: readonly KeyMove[]): string {
  const anew = moves.filter(({ kind }) => kind === "rebuilt span").sort((a, b) => b.keys - a.keys);
  if (anew.length === 0) {
    const parts = new Set(moves.flatMap(({ nodes }) => nodes)).size;
    return `it would take ${moves.length} moves on ${parts} parts, more than three of which do not belong together`;
  }
  const [{ nodes, channel, keys, frames }] = anew;
  const curves = anew.length === 1 ? "a curve" : `${anew.length} curves`;
  return `it would key ${curves} anew, ${nodes[0]} ${channel ?? ""} with ${keys} keys ${framesInWords(frames)}${anew.length === 1 ? "" : " most of all"}`;
}

/** A refusal as it is read: why, and what to do by hand. */
export function refusal(why: string, { suggestion }: Pick<Note, "suggestion">): string {
  return suggestion === ""
    ? sentence(why)
    : `${sentence(why)} By hand: ${sentence(suggestion).replace(/^./, (first) => first.toLowerCase())}`;
}
