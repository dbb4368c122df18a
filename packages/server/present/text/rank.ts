import type { ReportedNote } from "@keyside/core";
import { numbersInWords } from "@keyside/core/internal";
import { framesOf } from "./frames-of.ts";

/** Why a note stands where it does among those of its tier, in words; empty where it has no place to be told. */
export function rankText({ rank }: Pick<ReportedNote, "rank">): string {
  if (rank === undefined) return "";
  const { metres, size, of, seconds, excess, part } = rank;
  if (!(metres > 0)) return "nothing of it is seen, so it comes last in its tier";
  if (of === "picture" && !(size > 0)) return "the camera does not see it, so it is polish at most";
  const height = `${Number((100 * size).toPrecision(2))} % of the ${of === "picture" ? "picture" : "body"}'s height`;
  const past = excess === null ? "" : `, ${numbersInWords.times(excess)} its limit`;
  const where = part === null ? "" : `, on the ${inWords(part)}`;
  return `${numbersInWords.length(metres)} to the eye (${height}) for ${numbersInWords.seconds(seconds)}${past}${where}`;
}

/** "leftUpperArm" as "left upper arm"; the root carries the body. */
function inWords(part: string): string {
  return part === "root"
    ? "root of the body"
    : part.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** What a note speaks for, one entry for each: "minor hard-stop of left hand, frame 33". */
export function alsoTexts({ also = [] }: Pick<ReportedNote, "also">): string[] {
  return also.map((other) => `${other.tier} ${other.check} of ${other.part}${framesOf(other)}`);
}
