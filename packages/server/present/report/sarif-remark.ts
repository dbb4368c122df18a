import type { ReportedRemark } from "@keyside/core";
import { remarkDetails, remarkSource } from "../text/review.ts";
import { uriReference } from "../text/uri.ts";
import { ended, inMessage, logicalName, type ResultContext } from "./sarif-result.ts";

/**
 * What a person says as a SARIF result. It is no failure of a rule: what is open asks for a look (`review`), praise and
 * what is done inform. Of such kinds the level is `none` (SARIF 2.1.0, 3.27.10).
 */
export function remarkResult(remark: ReportedRemark, { shot, index, rules }: ResultContext): object {
  const { id, weight, text, by, date, figure, part, frames, state } = remark;
  const isClosed = weight === "keep" || state === "done";
  const details = remarkDetails(remark).map(ended);
  return {
    ruleId: "remark",
    ruleIndex: rules.indexOfRemarks(),
    kind: isClosed ? "informational" : "review",
    level: "none",
    message: { text: inMessage([`${remarkSource(remark)}: ${ended(text)}`, ...details].join(" ")) },
    locations: [
      {
        physicalLocation: {
          artifactLocation: { uri: uriReference(shot.file), ...(index === undefined ? {} : { index }) },
          region: { startLine: 1 },
        },
        logicalLocations: [{ fullyQualifiedName: logicalName(shot, remark) }],
      },
    ],
    partialFingerprints: { "keysideRemark/v1": `${shot.name}:${id}` },
    properties: { weight, state, by, date, part, frames, ...(figure === null ? {} : { figure }) },
  };
}
