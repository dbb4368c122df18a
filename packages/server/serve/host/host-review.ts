import {
  addRemark,
  changeRemark,
  decide,
  decisionAbout,
  markRemark,
  type Note,
  nodeOfRemark,
  printReview,
  type Remark,
  ReviewError,
  type ReviewFile,
  removeEntry,
  reviewVersionOf,
  type Shot,
  type Study,
  stateOfRemark,
  targetFitOf,
} from "@keyside/core";
import { keysSpokenOf } from "../feed/remark-keys.ts";
import { refused } from "./errors.ts";
import type { Params, SentRemark } from "./messages.ts";
import type { methods } from "./protocol.ts";

type Change = Params<typeof methods.changeReview>["changes"][number];

/** A review after changes, and the id of what each of them made or changed. */
export interface ChangedReview {
  readonly review: ReviewFile;
  readonly ids: readonly string[];
}

/**
 * Makes changes of a review, all or none.
 * @param noteCalled gives a note by its fingerprint
 * @throws ResponseError with reason "bad-review" where one of them cannot be made
 */
export function reviewAfter(
  review: ReviewFile,
  { changes, by, date }: { readonly changes: readonly Change[]; readonly by: string; readonly date: string },
  shot: Shot,
  noteCalled: (fingerprint: string) => Note,
): ChangedReview {
  const version = reviewVersionOf(shot);
  const ids: string[] = [];
  let next = review;
  changes.forEach((change, at) => {
    try {
      switch (change.kind) {
        case "add": {
          const added = addRemark(next, {
            ...known(change.remark),
            text: change.remark.text,
            by,
            date,
            version,
          });
          next = added.review;
          ids.push(added.remark.id);
          return;
        }
        case "change": {
          const to = Object.entries(change.to).map(([name, value]) => [name, value ?? undefined]);
          next = changeRemark(next, change.id, Object.fromEntries(to), { by, date });
          ids.push(change.id);
          return;
        }
        case "remove":
          next = removeEntry(next, change.id);
          ids.push(change.id);
          return;
        case "mark": {
          const { of, state } = change;
          next = markRemark(next, { of, state, by, date, version }).review;
          ids.push(of);
          return;
        }
        case "decide": {
          const note = noteCalled(change.fingerprint);
          const before = decisionAbout(next, note);
          const { check, node, frames, fingerprint } = note;
          const { verdict, reason, text, weight } = change;
          const made = decide(next, {
            check: before?.check ?? check,
            ...(before === null
              ? { ...(node === null ? {} : { node }), frames: [frames[0], frames[1]] }
              : known({ node: before.node, frames: before.frames })),
            ...known({ reason, text, weight }),
            ...{ verdict, fingerprint, by, date, version },
          });
          next = made.review;
          ids.push(made.decision.id);
        }
      }
    } catch (error) {
      if (!(error instanceof ReviewError)) throw error;
      throw refused(
        "bad-review",
        `None of the changes was made, as changes/${at} cannot be: ${error.message}`,
        { problems: [{ code: "bad-review", path: `changes/${at}`, message: error.message }] },
      );
    }
  });
  return { review: next, ids };
}

/** Members that have a value. */
function known<T extends object>(members: T): { [Name in keyof T]: Exclude<T[Name], undefined> } {
  const given = Object.entries(members).filter(([, value]) => value !== undefined);
  return Object.fromEntries(given) as { [Name in keyof T]: Exclude<T[Name], undefined> };
}

/** A review as the JSON of its file. */
export function reviewToSend(review: ReviewFile): Record<string, unknown> {
  return JSON.parse(printReview(review)) as Record<string, unknown>;
}

/** What people say of a shot as it is now, beside the keys of which they speak. */
export function remarksToSend(review: ReviewFile, shot: Shot, study: Study): SentRemark[] {
  return review.remarks.map((remark: Remark) => {
    const { id, text, weight, by, date, frames, strokes = [] } = remark;
    const node = nodeOfRemark(study, remark);
    return {
      ...{ id, text, weight, by, date, node },
      frames: frames === undefined ? null : [frames[0], frames[1]],
      state: stateOfRemark(remark, review.marks).state,
      keys: keysSpokenOf(shot, node, frames).map((key) => ({ ...key })),
      targets: strokes.flatMap((stroke, at) => {
        const fit = targetFitOf(study, stroke);
        if (fit === null) return [];
        const [from, to] = fit.frames;
        const [start, end] = fit.late;
        return [{ ...fit, stroke: at, frames: [from, to], late: [start, end] }];
      }),
    };
  });
}
