// @ts-check
/** The page that lists the sheets, the worst shot first. */
import { escaped, sheetShell, shotCards, shotPicture, weightText } from "@keyside/server";

/** @param {readonly import("./run.mjs").Entry[]} entries @returns {string} */
export function indexPage(entries) {
  const cards = entries.map(cardOf).sort((a, b) => b.tiers.major - a.tiers.major || b.weight - a.weight);
  return sheetShell(
    "Shots of the demo",
    "demo",
    `<h1>Shots of the demo</h1>
<p class="facts">Invented shots: a first version, a copy of it that the command fixed, and the animator's second version; and one captured extract. Checked with the default settings. Each name leads to a sheet that plays.</p>
<p class="quiet">Most major notes come first, then most weight.</p>
${shotCards(cards)}
<p class="quiet">${escaped(weightText)}</p>`,
  );
}

/** @param {import("./run.mjs").Entry} entry @returns {import("@keyside/server").ShotCard} */
function cardOf({ title, page, sheet, changes }) {
  const { notes } = sheet;
  const count = (/** @type {string} */ tier) => notes.filter(({ reported }) => reported.tier === tier).length;
  const [first] = notes;
  return {
    title,
    sheet: page,
    beneath: changes === "" ? "" : `against version 1: ${changes}`,
    tiers: { broken: count("broken"), major: count("major"), minor: count("minor"), polish: count("polish") },
    weight: notes.reduce((sum, { reported }) => sum + reported.weight, 0),
    first:
      first === undefined
        ? null
        : {
            check: first.title,
            part: [first.reported.part, first.frames].join(", "),
            message: first.message,
          },
    picture: shotPicture(sheet.version, null),
  };
}
