import { type Check, checkNamed as programCheck, type ReportedNote, type Tier } from "@keyside/core";
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
  private readonly pageAt: (page: string) => string;

  /**
   * @param checkNamed gives a check of the run
   * @param pageAt gives the URI of a page of the docs
   */
  constructor(checkNamed: CheckNamed, pageAt: (page: string) => string) {
    this.checkNamed = checkNamed;
    this.pageAt = pageAt;
  }

  indexOf(note: ReportedNote): number {
    let index = this.indices.get(note.check);
    if (index === undefined) {
      index = this.rules.length;
      this.indices.set(note.check, index);
      const check = this.checkNamed(note.check);
      const { page, ...rule } = check === undefined ? ruleOfNote(note) : ruleOfCheck(check);
      this.rules.push({ ...rule, helpUri: this.pageAt(page) });
    }
    return index;
  }

  /** The rule under which people's remarks stand. */
  indexOfRemarks(): number {
    let index = this.indices.get("remark");
    if (index === undefined) {
      index = this.rules.push({ ...ruleOfRemarks, helpUri: this.pageAt("review.md") }) - 1;
      this.indices.set("remark", index);
    }
    return index;
  }

  all(): readonly object[] {
    return this.rules;
  }
}

/** A rule, and the page of the docs that tells of it. */
type Rule = Readonly<Record<string, unknown>> & { readonly page: string };

/**
 * The URI of a page of the docs: where they can be read, if somebody says so. Else a name and no address, as the ids of
 * the schemas are: the project has no host of its own, and a made-up one would lead people to a stranger.
 */
export function pageUri(docsAt: string | undefined): (page: string) => string {
  if (docsAt === undefined) return (page) => `urn:keyside:docs:${page}`;
  const folder = docsAt.endsWith("/") ? docsAt : `${docsAt}/`;
  return (page) => new URL(page, folder).href;
}

const ruleOfRemarks = {
  id: "remark",
  name: "ReviewRemark",
  shortDescription: { text: "What a person says of the shot." },
  help: { text: "It stands in the review file beside the shot. keyside review mark says what became of it." },
  defaultConfiguration: { level: "none" },
  properties: { tags: ["review"] },
};

function ruleOfCheck(check: Check): Rule {
  return {
    id: check.name,
    name: identifier(check.family, check.title),
    page: programCheck(check.name) === undefined ? "plugins.md" : `checks/${check.name}.md`,
    shortDescription: { text: check.what },
    fullDescription: { text: `${check.what} ${check.why}` },
    help: { text: helpText(check, false), markdown: helpText(check, true) },
    defaultConfiguration: { level: levels[check.ceiling] },
    properties: { tags: [check.family], since: check.since },
  };
}

/** A problem of a document, a waiver that answers nothing, or a studio's own check: what its note says is known of it. */
function ruleOfNote({ check, tier, why, suggestion, measured }: ReportedNote): Rule {
  const isOwn = measured !== null && check !== unusedWaiver;
  return {
    id: check,
    name: identifier(isOwn ? "own" : "document", check),
    page: isOwn ? "own-checks.md" : check === unusedWaiver ? "fixes.md" : "document.md",
    shortDescription: {
      text: isOwn || check === unusedWaiver ? why : `What is wrong in the document: ${check}.`,
    },
    help: { text: isOwn ? `${why}\n\nFix: ${suggestion}` : why },
    defaultConfiguration: { level: levels[tier] },
    properties: { tags: [isOwn ? "own" : "document"] },
  };
}

/** Words as one word, each with a capital, as names of rules are written; the first tells what it is about. */
function identifier(...words: readonly string[]): string {
  return words
    .flatMap((word) => word.match(/[\p{L}\p{N}]+/gu) ?? [])
    .map((word) => word.charAt(0).toUpperCase() + word.slice(1))
    .join("");
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
