import { basename, resolve } from "node:path";
import {
  addRemark,
  decide,
  defaultSettings,
  emptyReview,
  type MarkState,
  markRemark,
  mergeReviews,
  partOfNode,
  printReview,
  ReviewError,
  type ReviewFile,
  type ReviewWeight,
  readReview,
  readReviewRows,
  reviewCsv,
  reviewJsonLines,
  reviewMisfits,
  reviewRows,
  reviewVersionOf,
  type Study,
  studyOf,
  takeReviewRows,
} from "@keyside/core";
import { counted } from "../base/counted.ts";
import { exitCodes, UnreadableError, WrongUse } from "../base/errors.ts";
import { bounds } from "../base/files/bounds.ts";
import { readText } from "../base/files/read.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { type LoadedShot, loadShot } from "../judge/shots/load.ts";
import { reviewProblems } from "../judge/shots/reviews.ts";
import { carry } from "./review-carry.ts";
import { rowText } from "./review-text.ts";
import type { ReviewVerb } from "./review-verbs.ts";
import { saveReview } from "./save-review.ts";
import { writeOut, writeWhole } from "./write-out.ts";

export interface ReviewOptions {
  readonly by?: string;
  readonly date?: string;
  readonly frames?: [number, number];
  readonly node?: string;
  readonly text?: string;
  readonly weight?: ReviewWeight;
  readonly check?: string;
  readonly verdict?: "kept" | "dropped";
  readonly reason?: string;
  readonly remark?: string;
  readonly state?: MarkState;
  readonly format: "csv" | "jsonl";
  readonly out?: string;
  readonly force: boolean;
}

/** `keyside review`: reads and writes the review file beside a shot. Gives the exit code. */
export async function review(
  verb: ReviewVerb,
  files: readonly string[],
  options: ReviewOptions,
  io: Io,
): Promise<number> {
  const expected = { merge: 3, import: 2, carry: 2 }[verb as "merge"] ?? 1;
  if (files.length !== expected) {
    const wants =
      { merge: "BASE OURS THEIRS", import: "SHOT FILE", carry: "OLD NEW" }[verb as "merge"] ?? "SHOT";
    throw new WrongUse(`keyside review ${verb} takes ${wants}; ${counted(files.length, "file")} given.`);
  }
  if (verb === "merge") return merge(files as [string, string, string], io);
  const [shot = "", rows = ""] = files;
  if (verb === "carry") {
    const by = needed(options.by, "--by", verb);
    const date = options.date ?? new Date().toISOString();
    return withSentences(() => carry(shot, rows, { ...options, by, date }, io));
  }
  const loaded = await loadShot(shot, io);
  const before = loaded.review?.review ?? emptyReview(loaded.name);
  tellProblems(loaded, io);
  if (verb === "list" || verb === "export") return show(verb, before, options, io);
  return withSentences(() => change(verb, before, { loaded, shot, rows }, options, io));
}

/** A change that cannot be made is a wrong use of the command. */
async function withSentences(work: () => Promise<number>): Promise<number> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof ReviewError) throw new WrongUse(error.message);
    throw error;
  }
}

function tellProblems(loaded: LoadedShot, io: Io): void {
  if (loaded.review == null) return;
  const study = studyIn(loaded, io);
  for (const problem of reviewProblems(loaded.review, study, loaded.name)) io.stderr(`keyside: ${problem}\n`);
}

function studyIn(loaded: LoadedShot, io: Io): Study {
  return studyOf(loaded.shot, defaultSettings(pluginsOf(io).registry));
}

async function show(
  verb: "list" | "export",
  before: ReviewFile,
  options: ReviewOptions,
  io: Io,
): Promise<number> {
  const rows = reviewRows(before);
  if (verb === "export") {
    const text = options.format === "csv" ? reviewCsv(rows) : reviewJsonLines(rows);
    await writeOut(text, { out: options.out, force: options.force }, io);
    return exitCodes.clean;
  }
  if (rows.length === 0) io.stdout("No remarks and no decisions.\n");
  const carried = new Map(before.decisions.map((decision) => [decision.id, decision.carried]));
  for (const row of rows) io.stdout(`${rowText(row, carried.get(row.id))}\n`);
  return exitCodes.clean;
}

interface Target {
  readonly loaded: LoadedShot;
  readonly shot: string;
  /** File of rows, for import. */
  readonly rows: string;
}

async function change(
  verb: ReviewVerb,
  before: ReviewFile,
  { loaded, shot, rows }: Target,
  options: ReviewOptions,
  io: Io,
): Promise<number> {
  const { by, frames, node, text, weight, check, verdict, reason, remark, state } = options;
  const date = options.date ?? new Date().toISOString();
  const who = needed(by, "--by", verb);
  const version = reviewVersionOf(loaded.shot, basename(shot));
  let after: ReviewFile;
  let said: string;
  if (verb === "add") {
    const part = node === undefined ? null : partOfNode(studyIn(loaded, io), node);
    const made = addRemark(before, {
      ...part,
      ...{ text: needed(text, "--text", verb), frames, node, weight, version },
      by: who,
      date,
    });
    [after, said] = [made.review, `Added ${made.remark.id}.`];
  } else if (verb === "decide") {
    if (weight === "keep") throw new WrongUse("A note cannot be praise; --weight is must, should or could.");
    const made = decide(before, {
      ...{ check: needed(check, "--check", verb), verdict: needed(verdict, "--verdict", verb) },
      ...{ frames, node, reason, text, weight, version, by: who, date },
    });
    [after, said] = [made.review, `Decided ${made.decision.id}: ${made.decision.verdict}.`];
  } else if (verb === "mark") {
    const of = needed(remark, "--remark", verb);
    after = markRemark(before, {
      of,
      state: needed(state, "--state", verb),
      text,
      version,
      by: who,
      date,
    }).review;
    said = `Marked ${of}: ${state}.`;
  } else {
    const content = await readText(io.files, resolve(io.cwd, rows), rows, bounds.settings);
    const taken = takeReviewRows(before, readReviewRows(content, options.format), { by: who, date });
    for (const problem of taken.problems) io.stderr(`keyside: ${rows}: ${problem}\n`);
    after = taken.review;
    said = `${counted(taken.added, "remark")} added, ${taken.changed} changed, ${taken.marked} marked.`;
  }
  await saveReview(shot, before, after, io);
  // What was wrong before has been told already.
  const study = studyIn(loaded, io);
  const known = new Set(reviewMisfits(study, before, loaded.name).map(({ message }) => message));
  for (const { message } of reviewMisfits(study, after, loaded.name))
    if (!known.has(message)) io.stderr(`keyside: ${message}\n`);
  io.stdout(`${said}\n`);
  return exitCodes.clean;
}

function needed<T>(value: T | undefined, option: string, verb: ReviewVerb): T {
  if (value === undefined) throw new WrongUse(`keyside review ${verb} needs ${option}.`);
  return value;
}

/** Merges two review files into the second of three, as Git asks of a merge driver. */
async function merge([base, ours, theirs]: readonly [string, string, string], io: Io): Promise<number> {
  const [was, one, two] = await Promise.all(
    [base, ours, theirs].map(async (file) => {
      const path = resolve(io.cwd, file);
      if ((await io.files.kind(path)) === null) throw new UnreadableError(file, "There is no such file.");
      const { review: read, problems } = readReview(await readText(io.files, path, file, bounds.settings));
      for (const { line, message } of problems)
        io.stderr(`keyside: ${file}${line === null ? "" : `, line ${line}`}: ${message}\n`);
      return read;
    }),
  );
  const { review: merged, conflicts } = mergeReviews(was as ReviewFile, one as ReviewFile, two as ReviewFile);
  await writeWhole(ours, printReview(merged), { force: true, isInput: true }, io);
  for (const [id, other] of conflicts)
    io.stderr(`keyside: ${ours}: ${id} was changed by both; the other one stands beside it as ${other}.\n`);
  return exitCodes.clean;
}
