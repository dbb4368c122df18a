import { plainText } from "./plain.ts";

/*
 * Text as Markdown is written (CommonMark), where names of others stand in it: on one line, shortened, and none of it a
 * mark.
 */

/** Text that Markdown, and HTML in it, take as it is: whatever they read as a mark is escaped. */
export function markdownText(text: string): string {
  return inOneLine(text)
    .replace(/[\\`*_{}[\]<>#|~&@$!^]/g, (mark) =>
      mark === "<" ? "&lt;" : mark === ">" ? "&gt;" : mark === "&" ? "&amp;" : `\\${mark}`,
    )
    .replace(/^(\d+)([.)])/, "$1\\$2")
    .replace(/^([-+])/, "\\$1");
}

/** Text as code, with more backticks around it than it holds in a row. */
export function markdownCode(text: string): string {
  const line = inOneLine(text);
  const longest = Math.max(0, ...[...line.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = "`".repeat(longest + 1);
  const space = line.includes("`") ? " " : "";
  return `${fence}${space}${line}${space}${fence}`;
}

function inOneLine(text: string): string {
  return plainText(text.replace(/\s+/g, " "));
}
