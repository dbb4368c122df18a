import { counted } from "../../base/counted.ts";
import { shotCards, weightText } from "../look/shot-cards.ts";
import { escaped } from "../text/svg.ts";
import { table, tierCells, tierHeads } from "./archive-page-table.ts";
import { type ArchiveTally, type WorstShot, worstKept } from "./archive-tally.ts";

/** So many of the worst shots are shown as cards, with their pictures; the others as lines of a table. */
export const mostDrawn = 12;

type SheetFor = (shot: WorstShot) => string | null;

/** The worst shots, worst first. */
export function worstShots(
  tally: ArchiveTally,
  pictures: ReadonlyMap<WorstShot, string>,
  sheetFor: SheetFor,
): string {
  const worst = tally.worst();
  if (worst.length === 0) return "<p>No shot has a note that is shown.</p>";
  const more = tally.all.shots - tally.clean - worst.length;
  const left =
    more > 0
      ? ` These are the ${worstKept} worst; ${counted(more, "other shot")} with notes are in the other reports.`
      : "";
  const cards = worst.slice(0, mostDrawn).map((shot) => ({
    ...{ title: shot.name, sheet: sheetFor(shot), beneath: shot.file },
    ...{ tiers: shot.tiers, weight: shot.weight, first: shot.first, picture: pictures.get(shot) ?? null },
  }));
  const rest = worst.slice(mostDrawn);
  return `<p class="quiet">What is broken comes first, then most major notes, then most weight.${left}</p>
${shotCards(cards)}
${rest.length === 0 ? "" : restTable(rest, sheetFor)}
<p class="quiet">${escaped(weightText)}</p>`;
}

function restTable(rest: readonly WorstShot[], sheetFor: SheetFor): string {
  const rows = rest.map((shot) => {
    const sheet = sheetFor(shot);
    const name = escaped(shot.name);
    const title = sheet === null ? name : `<a href="${escaped(sheet)}">${name}</a>`;
    const { check, part, message } = shot.first;
    return `<tr><th scope="row">${title}<span class="quiet file">${escaped(shot.file)}</span></th>${tierCells(shot.tiers)}<td class="n">${shot.weight.toFixed(1)}</td><td class="said">${escaped(message)}<span class="quiet">${escaped(check)}, ${escaped(part)}</span></td></tr>`;
  });
  return table(
    "Further shots",
    `<th scope="col">Shot and file</th>${tierHeads}<th scope="col" class="n">Weight</th><th scope="col">Biggest note</th>`,
    rows,
  );
}
