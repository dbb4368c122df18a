import { basename, dirname, resolve } from "node:path";
import {
  type Carried,
  carryDecisions,
  type Decision,
  emptyReview,
  type NotCarried,
  type ReviewFile,
  resolveSettings,
  reviewRows,
} from "@keyside/core";
import { counted } from "../base/counted.ts";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { type JudgedVersion, judgeVersion } from "../judge/shots/judged-version.ts";
import { loadShot } from "../judge/shots/load.ts";
import { reviewFileOf } from "../judge/shots/reviews.ts";
import { configsFor } from "./configs-for.ts";
import { limitsFor, usualTime } from "./limits.ts";
import { rowText } from "./review-text.ts";
import { saveReview } from "./save-review.ts";
import { tellFailures } from "./tell-failures.ts";

export interface CarryOptions {
  /** Who carries them, and when (ISO 8601). */
  readonly by: string;
  readonly date: string;
  /** Whether decisions that are there already are replaced. */
  readonly force: boolean;
}

/**
 * `keyside review carry`: takes what people decided about computed notes to the review file of the next version, where
 * the notes are still there. Both are judged by the settings of the newer one. Gives the exit code.
 */
export async function carry(
  older: string,
  newer: string,
  { by, date, force }: CarryOptions,
  io: Io,
): Promise<number> {
  if (resolve(io.cwd, older) === resolve(io.cwd, newer)) {
    throw new WrongUse("Both versions are the same file; name the older one first, then the newer one.");
  }
  const { config } = await (await configsFor(undefined, io))(dirname(resolve(io.cwd, newer)));
  const settings = resolveSettings(pluginsOf(io).registry, config, {});
  const judged = async (file: string): Promise<JudgedVersion> => {
    const { guard, budget } = limitsFor(file, {}, usualTime.judging);
    const loaded = await loadShot(file, { ...io, rate: settings.rate ?? undefined, guard, budget });
    return guard(() => judgeVersion(loaded, settings));
  };
  const [before, after] = [await judged(older), await judged(newer)];
  const revisions = [before, after].map(({ loaded }) => loaded.shot.header.shot.revision);
  const [was = Number.NEGATIVE_INFINITY, is = Number.POSITIVE_INFINITY] = revisions;
  if (was > is) {
    throw new WrongUse(
      `${older} is revision ${was} and ${newer} is revision ${is}; name the older one first.`,
    );
  }
  for (const { report } of [before, after])
    for (const problem of report.review?.problems ?? []) io.stderr(`keyside: ${problem}\n`);
  const held = before.loaded.review?.review;
  if (held === undefined) {
    throw new WrongUse(
      `${older} has no review file: there is no ${reviewFileOf(older)}, and nothing to carry.`,
    );
  }
  const there = after.loaded.review?.review ?? emptyReview(after.loaded.name);
  const result = carryDecisions(versionOf(before, held), versionOf(after, there), {
    ...{ by, date, from: basename(older), replaces: force },
  });
  if (result.carried.length > 0) await saveReview(newer, there, result.review, io);
  io.stdout(textOf(result, newer));
  return [before, after].reduce(
    (code, { report }, index) => tellFailures([older, newer][index], report.failures, io, code),
    exitCodes.clean as number,
  );
}

function versionOf({ loaded, notes, waived }: JudgedVersion, review: ReviewFile) {
  return { shot: loaded.shot, notes, waived, review };
}

const reasons: Readonly<Record<NotCarried, string>> = {
  gone: "its note is gone",
  worse: "it was dropped and has become worse; decide again",
  ended: "it held to an earlier revision",
  contested: "people disagree about it; choose one first",
  decided: "there is a decision about it already; --force replaces it",
  waived: "a waiver answers its note already",
};

function textOf({ carried, left }: Carried, newer: string): string {
  const line = (decision: Decision) => rowText(rowOf(decision), undefined);
  const lines =
    carried.length === 0 && left.length === 0
      ? ["There are no decisions to carry."]
      : carried.length === 0
        ? ["Carried no decision."]
        : [`Carried ${counted(carried.length, "decision")} to ${reviewFileOf(newer)}.`];
  for (const decision of carried) lines.push(`  ${line(decision)}`);
  if (left.length > 0) lines.push(`Not carried: ${left.length}.`);
  for (const { decision, why } of left) lines.push(`  ${line(decision)}`, `    ${reasons[why]}`);
  return `${lines.join("\n")}\n`;
}

function rowOf(decision: Decision) {
  return reviewRows({ ...emptyReview(), decisions: [decision] })[0];
}
