import type { Check, ReportedNote, Tier } from "@keyside/core";
import { unusedWaiver } from "@keyside/core/internal";
import type { CheckNamed } from "./writer-options.ts";

/** SARIF's levels for tiers. */
export const levels = {
  broken: "error",
  major: "warning",
  minor: "note",
  polish: "note",
} as const satisfies Readonly<Record<Tier, string>>;

/** The rules that results refer to, in the order in which they first occur. */
export class Rules {
  private readonly indices = new Map<string, number>();
  private readonly rules: object[] = [];
  private readonly checkNamed: CheckNamed;

  /** @param checkNamed gives a check of the run */
  constructor(checkNamed: CheckNamed) {
    this.checkNamed = checkNamed;
  }

  indexOf(note: ReportedNote): number {
    let index = this.indices.get(note.check);
    if (index === undefined) {
      index = this.rules.length;
      this.indices.set(note.check, index);
      const check = this.checkNamed(note.check);
      this.rules.push(check === undefined ? ruleOfNote(note) : ruleOfCheck(check));
    }
    return index;
  }

  all(): readonly object[] {
    return this.rules;
  }
}

function ruleOfCheck(check: Check): object {
  return {
    id: check.name,
    name: check.title,
    shortDescription: { text: check.what },
    fullDescription: { text: `${check.what} ${check.why}` },
    help: { text: helpText(check, false), markdown: helpText(check, true) },
    defaultConfiguration: { level: levels[check.ceiling] },
    properties: { tags: [check.family], since: check.since },
  };
}

/** A problem of a document, a waiver that answers nothing, or a studio's own check: what its note says is known of it. */
function ruleOfNote({ check, tier, why, suggestion, measured }: ReportedNote): object {
  const isOwn = measured !== null && check !== unusedWaiver;
  return {
    id: check,
    shortDescription: {
      text: isOwn || check === unusedWaiver ? why : `What is wrong in the document: ${check}.`,
    },
    help: { text: isOwn ? `${why}\n\nFix: ${suggestion}` : why },
    defaultConfiguration: { level: levels[tier] },
    properties: { tags: [isOwn ? "own" : "document"] },
  };
}

function helpText(check: Check, markdown: boolean): string {
  const head = (title: string) => (markdown ? `**${title}**` : `${title}:`);
  const list = (title: string, points: readonly string[]) =>
    points.length === 0 ? [] : [`${head(title)}\n${points.map((point) => `- ${point}`).join("\n")}`];
  return [
    check.what,
    `${head("Why it matters")} ${check.why}`,
    `${head("Computes")} ${check.computes}`,
    `${head("Fix")} ${check.fix}`,
    ...list("Not a fault", check.notAFault),
    ...list("Limits", check.limits),
    ...list("Sources", check.sources),
  ].join("\n\n");
}
