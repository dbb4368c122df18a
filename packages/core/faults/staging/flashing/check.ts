import type { Study } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { lensOf } from "../../../staging/camera.ts";
import { flashesIn } from "../../../staging/flashes.ts";
import { backgroundOf, colourOf, isPainted } from "../../../staging/painted.ts";
import { screenOf, seenWidth } from "../../../staging/screen.ts";
import { solidsOf } from "../../../staging/solids.ts";
import { visibilityOf } from "../../../staging/visible.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With numbers in working units. */
export interface FlashingFinding extends Finding {
  readonly numbers: { readonly flashes: number };
}

const settings = {
  flashes: {
    default: 3,
    unit: "Hz",
    what: "how many flashes there may be in any second",
    source: "WCAG 2.2 (W3C 2023), success criterion 2.3.1: no more than three in any one second",
    min: 0,
  },
  area: {
    default: 0.25,
    unit: "share",
    what: "how much of a field of a third of the picture's width and height may flash more often",
    source:
      "WCAG 2.2 (W3C 2023), general flash: 25 % of any 10° of the field of view, which is 341 by 256 of 1,024 by 768 places",
    min: 0,
    max: 1,
  },
} as const;

/** Light that flickers fast enough, and over enough of the picture, to harm. */
export const flashing = defineCheck({
  name: "flashing",
  title: "Flashing",
  family: "staging",
  scope: "shot",
  looksAtColours: true,
  ceiling: "major",
  caution: "flicker",
  what: "Visibility or colour makes a large part of the picture flash more than three times a second.",
  why: "Flashes of this rate and size can set off seizures in people who are sensitive to light.",
  computes:
    "Where nodes or the background change their visibility or colour often enough, the picture is drawn flat, 36 places high, in the declared display colours. A flash is a pair of opposed changes at a place. In each, relative luminance changes by a tenth of white's or more and the darker is under 0.8, or a saturated red comes or goes. Counted are those within any second, for more than a quarter of a field of a third of the picture's width and height. The number is the most in any second.",
  fix: "Slow the change to three a second and fewer, or make it smaller or weaker.",
  notAFault: [
    "a shot without a camera, and things without a declared colour",
    "three flashes a second and fewer, and small lights",
    "changes that are not opposed: steps that all go brighter",
  ],
  limits: [
    "It is a first look at declared colours and visibility alone: no light, no shading, no effects, no patterns.",
    "Broadcasters' rules, local codes and a certified test decide, on the finished picture.",
  ],
  sources: [
    "WCAG 2.2 (W3C 2023), success criterion 2.3.1 and its general and red flash thresholds; ITU-R BT.1702 is alike",
  ],
  since: "0.1.0",
  settings,
  find(study, _shot, values) {
    const lens = lensOf(study);
    if (lens === null || !isPainted(study)) return [];
    const flickering = flickeringIn(study, values.flashes);
    if (flickering.length === 0) return [];
    const { count, rate } = gridOf(study);
    const second = Math.max(1, Math.round(rate));
    const from = Math.max(0, Math.min(...flickering.map(({ changes }) => changes[0])) - 1);
    const to = Math.min(count - 1, Math.max(...flickering.map(({ changes }) => changes[changes.length - 1])));
    const seen = flashesIn(study, lens, from, to);
    const found: FlashingFinding[] = [];
    for (let start = from; start <= to; start++) {
      if (!(seen.within(start, values.area) > values.flashes)) continue;
      let last = start;
      let most = 0;
      for (; last <= to; last++) {
        const flashes = seen.within(last, values.area);
        if (!(flashes > values.flashes)) break;
        most = Math.max(most, flashes);
      }
      found.push(
        findingOf(study, flickering, [start, Math.min(to, last - 1 + second - 1)], most, values.flashes),
      );
      start = last + second - 1;
    }
    return found;
  },
  word(finding, words) {
    const { flashes } = finding.numbers;
    return {
      message: `${words.part} makes a large part of the picture flash ${flashes} times in a second at ${words.span(finding.from, finding.to)}; this is a screening only`,
      suggestion: "let it change three times a second at most, or by less light",
    };
  },
});

/** What changes how it is seen, and at which samples. */
interface Flickering {
  readonly node: number;
  readonly changes: readonly number[];
}

/** Nodes with a shape, and cameras with a background, that change more often in some second than flashes may come. */
function flickeringIn(study: Study, flashes: number): Flickering[] {
  const { count, rate } = gridOf(study);
  const { indexOf } = rigOf(study);
  const found: Flickering[] = [];
  const look = (node: number, state: (i: number) => number) => {
    const changes: number[] = [];
    for (let i = 1; i < count; i++) if (state(i) !== state(i - 1)) changes.push(i);
    const isFast = changes.some((at, n) => {
      const last = changes[n + Math.floor(2 * flashes)];
      return last !== undefined && last - at < rate;
    });
    if (isFast) found.push({ node, changes });
  };
  for (const node of new Set(solidsOf(study).map((solid) => solid.node))) {
    const colour = colourOf(study, node);
    const visible = visibilityOf(study, node);
    if (visible !== null || colour.some((one) => one !== colour[0]))
      look(node, (i) => (visible !== null && visible[i] === 0 ? -2 : colour[i]));
  }
  const background = backgroundOf(study);
  const [camera] = headerOf(study).cameras ?? [];
  if (camera !== undefined) look(indexOf.get(camera.node) ?? -1, (i) => background[i]);
  return found;
}

function findingOf(
  study: Study,
  flickering: readonly Flickering[],
  [start, end]: readonly [number, number],
  flashes: number,
  most: number,
): FlashingFinding {
  const within = ({ changes }: Flickering) => changes.filter((at) => at >= start && at <= end);
  const quickest = flickering.reduce((a, b) => (within(b).length > within(a).length ? b : a));
  const all = within(quickest);
  const from = all.length > 0 ? all[0] : start;
  const to = all.length > 0 ? all[all.length - 1] : end;
  const scale =
    quickest.node < 0 ? Number.NaN : (screenOf(study, quickest.node)?.[seenWidth * from + 3] ?? Number.NaN);
  return {
    node: quickest.node,
    figure: quickest.node < 0 ? -1 : figureOfNode(study, quickest.node),
    from,
    to,
    measured: { quantity: "flashes in a second", value: flashes, unit: "Hz" },
    expected: { max: most, unit: "Hz", source: settings.flashes.source },
    excess: most > 0 ? flashes / most : 2,
    // Half of the picture's height, as metres where it is.
    size: scale > 0 ? 0.5 / scale : 1,
    numbers: { flashes },
    fault: null,
  };
}
