import { resolve } from "node:path";
import { mergeReviews, printReview, type ReviewFile, readReview } from "@keyside/core";
import type { Io } from "../base/io.ts";
import { reviewFileOf, reviewTextBeside } from "../judge/shots/reviews.ts";
import { writeWhole } from "./write-out.ts";

/**
 * Writes the review beside a shot, with what somebody else has written there meanwhile.
 * @param before what was read from there
 * @throws UnreadableError where it cannot be written
 */
export async function saveReview(shot: string, before: ReviewFile, after: ReviewFile, io: Io): Promise<void> {
  const now = readReview(await reviewTextBeside(io.files, resolve(io.cwd, shot), shot)).review;
  const { review: merged } = mergeReviews(before, after, now);
  await writeWhole(reviewFileOf(shot), printReview(merged), { force: true, isInput: true }, io);
}
