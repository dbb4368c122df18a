// @ts-check
/** The page that lists the sheets. */
import { escaped, sheetShell } from "@keyside/server";

const tiers = /** @type {const} */ (["broken", "major", "minor", "polish"]);

/** @param {readonly import("./run.mjs").Entry[]} entries @returns {string} */
export function indexPage(entries) {
  const rows = entries.map(({ title, page, sheet, changes }) => {
    const counts = tiers.map((tier) => {
      const count = sheet.notes.filter(({ reported }) => reported.tier === tier).length;
      return `<td>${count || "·"}</td>`;
    });
    const biggest = sheet.notes[0]?.message ?? "none";
    return `<tr><th scope="row"><a href="${escaped(page)}">${escaped(title)}</a></th>${counts.join("")}<td>${escaped(biggest)}</td><td>${escaped(changes)}</td></tr>`;
  });
  const heads = ["shot", ...tiers, "biggest note", "against version 1"];
  return sheetShell(
    "Shots of the demo",
    "demo",
    `<h1>Shots of the demo</h1>
<p class="facts">Invented shots: a first version, a copy of it that the command fixed, and the animator's second version; and one captured extract. Checked with the default settings.</p>
<div class="wide" tabindex="0" role="region" aria-label="Shots"><table class="plain"><thead><tr>${heads.map((head) => `<th scope="col">${head}</th>`).join("")}</tr></thead>
<tbody>${rows.join("\n")}</tbody></table></div>`,
  );
}
