import type { ReportedNote } from "@keyside/core";
import { numbersInWords } from "@keyside/core/internal";
import { framesOf } from "./frames-of.ts";

/** Why a note stands where it does, in words; empty where it has no place to be told. */
export function rankText({ rank, tier }: Pick<ReportedNote, "rank" | "tier">): string {
  if (rank === undefined) return "";
  const { metres, size, of, seconds, excess, part, plainness } = rank;
  if (!(metres > 0)) {
    return tier === "major"
      ? "how much of it is seen is not known: it stands as what is plainly seen"
      : `nothing of it is seen, so it comes last${tier === "polish" ? "" : ", before polish"}`;
  }
  if (of === "picture" && !(size > 0)) return "the camera does not see it, so it is polish at most";
  if (!(plainness > 0)) return "no key puts it right, so it comes behind what moves";
  const height = `${Number((100 * size).toPrecision(2))} % of the ${of === "picture" ? "picture" : "body"}'s height`;
  const past = excess === null ? "" : `, ${numbersInWords.times(excess)} its limit`;
  const where = part === null ? "" : `, on the ${inWords(part)}`;
  const half = tier === "minor" ? "; minor counts half" : "";
  return `${numbersInWords.length(metres)} to the eye (${height}) for ${numbersInWords.seconds(seconds)}${past}${where}${half}`;
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
