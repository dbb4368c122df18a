import { type Tier, tiers } from "@keyside/core";
import { counted } from "../../base/counted.ts";
import { escaped } from "../text/svg.ts";

/** A shot as a page lists it. */
export interface ShotCard {
  readonly title: string;
  /** Where its sheet is; null where it has none. */
  readonly sheet: string | null;
  /** What stands beneath its name: its file, say. */
  readonly beneath: string;
  readonly tiers: Readonly<Record<Tier, number>>;
  /** Sum of its notes' weights. */
  readonly weight: number;
  /** What its biggest note says; null where it has none. */
  readonly first: { readonly check: string; readonly part: string; readonly message: string } | null;
  /** SVG of the shot; null where nothing is drawn. */
  readonly picture: string | null;
}

/** What a page that shows weights says of them. */
export const weightText =
  "A note's weight, 0 to 1, says how much it matters: how large it is seen counts most, then how far it is past its limit, then how long it lasts, all by how much of the figure hangs on the part. Its tier follows from it. A shot's weight is the sum over its notes.";

/** Shots with their pictures, in the order in which they are given. */
export function shotCards(cards: readonly ShotCard[]): string {
  return `<ol class="shots">\n${cards.map(card).join("\n")}\n</ol>`;
}

function card({ title, sheet, beneath, tiers: counts, weight, first, picture }: ShotCard): string {
  const heaviest = tiers.find((tier) => counts[tier] > 0);
  const name = sheet === null ? escaped(title) : `<a href="${escaped(sheet)}">${escaped(title)}</a>`;
  const told =
    first === null
      ? ""
      : `<p>${escaped(first.message)}</p><p class="quiet">${escaped(first.check)}, ${escaped(first.part)}</p>`;
  return `<li class="shot${heaviest === undefined ? "" : ` ${heaviest}`}">
<div class="shot-text"><h3>${name}</h3>
${beneath === "" ? "" : `<p class="quiet file">${escaped(beneath)}</p>`}
<p class="shot-counts">${countsOf(counts)}${heaviest === undefined ? "" : `<span class="quiet">weight ${weight.toFixed(1)}</span>`}</p>
${told}</div>
<figure>${picture ?? ""}</figure>
</li>`;
}

function countsOf(counts: ShotCard["tiers"]): string {
  const parts = tiers
    .filter((tier) => counts[tier] > 0)
    .map((tier) => `<span class="${tier}"><strong class="tier-name">${counts[tier]} ${tier}</strong></span>`);
  return parts.length === 0 ? `<span>${counted(0, "note")}</span>` : parts.join(" ");
}

export const shotCardsStyle = `
.shots { list-style: none; margin: .8rem 0 0; padding: 0; }
.shot { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 26rem); gap: .4rem 1.6rem; align-items: center;
  background: var(--card); border: 1px solid var(--line); border-left: .35rem solid var(--tier, var(--line)); border-radius: .4rem;
  margin: 0 0 .8rem; padding: .7rem 1rem; break-inside: avoid; }
.shot.minor { border-left-style: double; } .shot.polish { border-left-style: dotted; }
.shot h3 { font-size: 1.12rem; line-height: 1.25; margin: 0; overflow-wrap: anywhere; }
.shot p { margin: .15rem 0; overflow-wrap: anywhere; }
.shot-counts { display: flex; flex-wrap: wrap; gap: .1rem 1rem; }
@media (max-width: 46rem) { .shot { grid-template-columns: minmax(0, 1fr); } }
`.trim();
