import { basename, dirname, join } from "node:path";
import {
  agendaOf,
  figureOfNode,
  figuresOf,
  isOfAnotherShot,
  nodeOfRemark,
  type Remark,
  type ReportedNote,
  type ReportedReview,
  type ReviewFile,
  type ReviewProblem,
  readReview,
  reviewMisfits,
  rigOf,
  type Study,
  targetFitOf,
  type Waiver,
  waiversOfReview,
} from "@keyside/core";
import { bounds } from "../../base/files/bounds.ts";
import { type Files, readText } from "../../base/files/read.ts";
import { shotName } from "./readers.ts";

/** Ending of the name of a review file. */
export const reviewExtension = ".review.json";

/** The review file that stands beside a shot if there is one: `jetty.review.json` beside `jetty.curves.json`. */
export function reviewFileOf(shotPath: string): string {
  return join(dirname(shotPath), `${shotName(basename(shotPath))}${reviewExtension}`);
}

/**
 * The text of the review file beside a shot, "" where there is none.
 * @param shown the shot's file as errors name it
 * @throws UnreadableError naming the review file
 */
export async function reviewTextBeside(files: Files, shotPath: string, shown: string): Promise<string> {
  const path = reviewFileOf(shotPath);
  if ((await files.kind(path)) !== "file") return "";
  return readText(files, path, reviewFileOf(shown), bounds.settings);
}

/** A review file as it was read from beside a shot. */
export interface LoadedReview {
  readonly review: ReviewFile;
  /** The file as it is shown. */
  readonly file: string;
  readonly problems: readonly ReviewProblem[];
}

/** The review in the text of a file beside a shot; null where there is none. */
export function reviewIn(text: string, shown: string): LoadedReview | null {
  return text === "" ? null : { ...readReview(text), file: reviewFileOf(shown) };
}

/** What a review drops, as waivers; nothing where it is of another shot. */
export function waiversFrom(loaded: LoadedReview | null, name: string): readonly Waiver[] {
  return loaded === null || isOfAnotherShot(loaded.review, name) ? [] : waiversOfReview(loaded.review);
}

/** What is wrong with a review file, in sentences that name it and the line. */
export function reviewProblems(loaded: LoadedReview, study: Study, name: string): readonly string[] {
  const { review, problems, file } = loaded;
  return [...problems, ...reviewMisfits(study, review, name)].map(({ line, message }) =>
    line === null ? `${file}: ${message}` : `${file}, line ${line}: ${message}`,
  );
}

/**
 * What people say of a shot, as reports hold it.
 * @param notes notes that nothing waives, with their parts
 * @param partOf the part under which something stands
 */
export function reportReview(
  loaded: LoadedReview,
  study: Study,
  name: string,
  notes: readonly ReportedNote[],
  partOf: (about: Pick<ReportedNote, "node" | "figure" | "tier">) => string,
): ReportedReview {
  const part = (node: string | null, figure: string | null = null) => partOf({ node, figure, tier: "minor" });
  const figureAt = (node: string | null) => {
    const index = node === null ? undefined : rigOf(study).indexOf.get(node);
    return index === undefined ? null : (figuresOf(study)[figureOfNode(study, index)]?.id ?? null);
  };
  const targetsOf = ({ strokes = [] }: Remark) =>
    strokes.flatMap((stroke) => {
      const fit = targetFitOf(study, stroke);
      if (fit === null) return [];
      const { frames, late, ...rest } = fit;
      return [
        {
          ...rest,
          part: part(fit.node),
          frames: [frames[0], frames[1]] as [number, number],
          late: [late[0], late[1]] as [number, number],
        },
      ];
    });
  const list = agendaOf(loaded.review, notes).map((item): ReportedReview["list"][number] => {
    const { weight } = item;
    if (item.kind === "note") {
      const { note, decision } = item;
      return {
        kind: "note",
        fingerprint: note.fingerprint,
        frames: note.frames,
        weight,
        text: decision?.text ?? null,
        by: decision?.by ?? null,
        isWeighed: decision?.weight !== undefined,
      };
    }
    const { remark, state } = item;
    const { id, text, by, date, figure = null, frames = null, strokes = [], conflicts } = remark;
    const node = nodeOfRemark(study, remark);
    return {
      ...{
        kind: "remark",
        id,
        weight,
        text,
        by,
        date,
        figure: figure ?? figureAt(node),
        node,
        part: part(node, figure),
        frames,
        state,
      },
      strokes: strokes.length,
      targets: targetsOf(remark),
      ...(conflicts === undefined ? {} : { conflicts }),
    };
  });
  return { list, problems: [...reviewProblems(loaded, study, name)] };
}
