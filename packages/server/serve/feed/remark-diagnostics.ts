import {
  nodeOfRemark,
  type Remark,
  type ReviewWeight,
  rigOf,
  type Study,
  stateOfRemark,
  targetFitOf,
} from "@keyside/core";
import { partHeading, sentence } from "@keyside/core/internal";
import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
} from "vscode-languageserver";
import { targetText } from "../../present/text/review.ts";
import type { DiagnosticAbilities } from "./client.ts";
import { keySpan, placeOfNode, rangeOf } from "./places.ts";
import { keysSpokenOf } from "./remark-keys.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Who says what people say, so that nobody takes it for what was computed. */
export const reviewSource = "keyside review";

const severities: Readonly<Record<ReviewWeight, DiagnosticSeverity>> = {
  must: DiagnosticSeverity.Warning,
  should: DiagnosticSeverity.Information,
  could: DiagnosticSeverity.Hint,
  keep: DiagnosticSeverity.Hint,
};

/** What the diagnostic of a remark carries for whoever acts on it. */
export interface RemarkData {
  /** Id of the remark. */
  readonly remark: string;
  readonly weight: ReviewWeight;
  readonly text: string;
  readonly by: string;
  readonly date: string;
  readonly node: string | null;
  readonly frames: readonly [number, number] | null;
  /** How far parts are from the paths that were drawn for them; metres and frames. */
  readonly targets: readonly NonNullable<ReturnType<typeof targetFitOf>>[];
}

/** What people say of a document and is not done, beside the keys and frames of which they speak. */
export function diagnosticsOfRemarks(document: ShotDocument, takes: DiagnosticAbilities): Diagnostic[] {
  const { review } = document;
  const study = review === null || review.remarks.length === 0 ? null : document.study();
  if (review === null || study === null) return [];
  return review.remarks.flatMap((remark) =>
    stateOfRemark(remark, review.marks).state === "done" ? [] : ofRemark(document, study, remark, takes),
  );
}

function ofRemark(
  document: ShotDocument,
  study: Study,
  remark: Remark,
  takes: DiagnosticAbilities,
): Diagnostic {
  const { id, weight, text, by, date, frames, strokes = [] } = remark;
  const node = nodeOfRemark(study, remark);
  const { shot } = document.read();
  const [first, ...others] = (shot === null ? [] : keysSpokenOf(shot, node, frames)).flatMap((key) => {
    const span = keySpan(document, key);
    return span === undefined ? [] : [{ ...key, span }];
  });
  const targets = strokes.flatMap((stroke) => targetFitOf(study, stroke) ?? []);
  const related: DiagnosticRelatedInformation[] = !takes.related
    ? []
    : others.map(({ channel, frame, span }) => ({
        location: { uri: document.uri, range: rangeOf(document, span) },
        message: `${node} ${channel}, frame ${Math.round(frame * 1000) / 1000}`,
      }));
  const { indexOf } = rigOf(study);
  const paths = targets.map((fit) => {
    const part = partHeading(study, indexOf.get(fit.node) as number);
    const [from, to] = fit.frames;
    const [start, end] = fit.late;
    return sentence(targetText({ ...fit, part, frames: [from, to], late: [start, end] }));
  });
  const data: RemarkData = {
    ...{ remark: id, weight, text, by, date, node, targets },
    frames: frames === undefined ? null : [frames[0], frames[1]],
  };
  return {
    range: rangeOf(document, first?.span ?? placeOfNode(document, node)),
    severity: severities[weight],
    code: weight,
    source: reviewSource,
    message: [`${by}: ${text}`, ...paths].join(" "),
    ...(related.length === 0 ? {} : { relatedInformation: related }),
    ...(takes.data ? { data } : {}),
  };
}
