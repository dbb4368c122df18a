import { tiers } from "@keyside/core";
import type { TierCounts } from "./archive-tally.ts";

/** Heads of the columns of tiers. */
export const tierHeads = tiers.map((tier) => `<th scope="col" class="n">${tier}</th>`).join("");

export function tierCells(counts: TierCounts): string {
  return tiers
    .map((tier) => `<td class="n${counts[tier] === 0 ? " zero" : ` tier ${tier}`}">${counts[tier]}</td>`)
    .join("");
}

/** A table that may be wider than the page. */
export function table(name: string, heads: string, rows: readonly string[]): string {
  return `<div class="wide" tabindex="0" role="region" aria-label="Table: ${name}"><table>
<thead><tr>${heads}</tr></thead>
<tbody>
${rows.join("\n")}
</tbody></table></div>`;
}
