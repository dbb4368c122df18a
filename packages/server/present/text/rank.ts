import type { ReportedNote } from "@keyside/core";
import { numbersInWords } from "@keyside/core/internal";
import { framesOf } from "./frames-of.ts";

/** Why a note stands where it does, in words; empty where it has no place to be told. */
export function rankText(note: Pick<ReportedNote, "rank" | "tier" | "part">): string {
  const { rank, tier } = note;
  if (rank === undefined) return "";
  const { metres, size, of, seconds, excess, plainness, isOfAct } = rank;
  if (!(metres > 0)) {
    return tier === "major"
      ? "how much of it is seen is not known: it stands as what is plainly seen"
      : `nothing of it is seen, so it comes last${tier === "polish" ? "" : ", before polish"}`;
  }
  if (of === "picture" && !(size > 0)) return "the camera does not see it, so it is polish at most";
  if (!(plainness > 0)) return "no key puts it right, so it comes behind what moves";
  const height = `${Number((100 * size).toPrecision(2))} % of the ${of === "picture" ? "picture" : "body"}'s height`;
  const past = excess === null ? "" : `, ${numbersInWords.times(excess)} its limit`;
  // As the note is headed: of a dog that is its forefoot, where the body map has a hand.
  const where = rank.part === null ? "" : `, on ${withArticle(note.part)}`;
  const act = isOfAct ? "; the body's act counts three times" : "";
  const half = tier === "minor" ? "; minor counts half" : "";
  return `${numbersInWords.length(metres)} to the eye (${height}) for ${numbersInWords.seconds(seconds)}${past}${where}${act}${half}`;
}

/** "left hand" as "the left hand"; what goes by a name of its own, or by that of its figure, has none. */
function withArticle(part: string): string {
  return /^[a-z]+( [a-z]+)*$/.test(part) ? `the ${part}` : part;
}

/** What a note speaks for, one entry for each: "minor hard-stop of left hand, frame 33". */
export function alsoTexts({ also = [] }: Pick<ReportedNote, "also">): string[] {
  return also.map((other) => `${other.tier} ${other.check} of ${other.part}${framesOf(other)}`);
}
