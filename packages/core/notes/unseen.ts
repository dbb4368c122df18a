import { excused } from "../base/excuse.ts";
import type { Study } from "../base/study.ts";
import type { Check, Finding } from "../faults/check.ts";
import { visibilityOf } from "../staging/visible.ts";

/**
 * Findings without those of what comes or goes, where it is not to be seen: a thing that is put away moves as it likes. What
 * is hidden in all of the shot is judged as if it were seen; and so is what lies in curves, and when something is seen.
 */
export function withoutUnseen(
  study: Study,
  { family }: Check,
  findings: readonly Finding[],
): readonly Finding[] {
  if (findings.length === 0 || family === "data" || family === "staging") return findings;
  return findings.some((finding) => isUnseen(study, finding))
    ? findings.filter((finding) => !isUnseen(study, finding))
    : findings;
}

function isUnseen(study: Study, { node, seenAt, from, to }: Finding): boolean {
  const nodes = seenAt ?? [node];
  const isSo =
    nodes.length > 0 &&
    nodes.every((at) => {
      const seen = at < 0 ? null : visibilityOf(study, at);
      return seen?.includes(1) === true && !seen.subarray(from, to + 1).includes(1);
    });
  if (isSo) excused(node, from, to, "it is not to be seen there");
  return isSo;
}
