import type { Study } from "../../../base/study.ts";
import { figuresOf } from "../../../rig/body.ts";
import { type Lens, lensOf } from "../../../staging/camera.ts";
import { type Colour, contrastOf, differenceOf, noColour } from "../../../staging/colour.ts";
import { drawablesOf, drawSolids, wholePicture } from "../../../staging/draw.ts";
import { backgroundOf, colourOf, isPainted } from "../../../staging/painted.ts";
import { nothing, Raster } from "../../../staging/raster.ts";
import { screenOf, seenWidth } from "../../../staging/screen.ts";
import { solidsOf } from "../../../staging/solids.ts";
import { type Thing, thingsOf } from "../../../staging/things.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With numbers in working units. */
export interface BlendingColoursFinding extends Finding {
  /** Rig index of what it blends with; −1 for the background. */
  readonly other: number;
  readonly numbers: { readonly difference: number; readonly contrast: number; readonly share: number };
}

const settings = {
  difference: {
    default: 5,
    unit: "count",
    what: "least difference (ΔE₀₀) between a thing and what lies beside it in the picture",
    source:
      "differences that people accept as the same colour: 1.8 to 3.7 (studies in a review of 2023, abstract); common practice: up to 5 passes for one colour at a glance",
    min: 0,
    max: 100,
  },
  contrast: {
    default: 3,
    unit: "ratio",
    what: "contrast of luminance from which on nothing blends",
    source: "WCAG 2.2 (W3C 2023), success criterion 1.4.11: 3 to 1 for shapes that have to be told apart",
    min: 1,
    max: 21,
  },
  outline: {
    default: 0.5,
    unit: "share",
    what: "how much of a thing's outline has to blend",
    source: "common practice: a shape of which half the outline is lost is no longer read",
    min: 0,
    max: 1,
  },
  frames: {
    default: 12,
    unit: "frames",
    what: "how long it may blend",
    source:
      "common practice: half a second; what passes before its own colour for less is followed by its motion",
    min: 1,
  },
} as const;

/** A thing that cannot be told from what lies beside it in the picture. */
export const blendingColours = defineCheck({
  name: "blending-colours",
  title: "Blending colours",
  family: "staging",
  scope: "shot",
  looksAtColours: true,
  ceiling: "minor",
  hangsOn: ["body"],
  isElsewhere: true,
  what: "A figure or an object has the colour of what lies beside it in the picture, so that its outline is lost.",
  why: "Where two colours cannot be told apart there is no outline, and without one no pose is read.",
  computes:
    "All that has a shape is drawn flat through the camera, 72 places high, each in the display colour that the document gives to its node. Along the outlines, neighbouring places of different things are compared: ΔE₀₀ (CIEDE2000) and the contrast of relative luminance. Two blend under both limits. The number is the ΔE₀₀ of the two colours that blend along most of the outline.",
  fix: "Give the figure or what is behind it another colour or lightness.",
  notAFault: [
    "a shot without a camera, and things without a declared colour",
    "what passes before its own colour",
    "parts of one figure against each other",
  ],
  limits: [
    "It knows declared display colours alone: no light, no shading, no pattern.",
    "Bodies are drawn as capsules where their nodes have no shapes.",
  ],
  sources: [
    "CIEDE2000: Sharma, Wu, Dalal 2005, with the library color-diff",
    "Relative luminance and contrast: WCAG 2.2",
  ],
  since: "0.1.0",
  settings,
  find(study, _shot, values) {
    const lens = lensOf(study);
    if (lens === null || !isPainted(study)) return [];
    const blend = blendOf(values);
    if (!mayBlend(study, blend)) return [];
    const found = findingsOf(study, lens, blend, values);
    return found.filter((one) => !found.some((other) => speaksFor(other, one)));
  },
  word(finding, words) {
    const { difference, contrast, share } = finding.numbers;
    const other = finding.other < 0 ? "the background" : words.name(finding.other);
    return {
      message: `${words.part} cannot be told from ${other} at ${words.counted(finding.from, finding.to)}: ΔE₀₀ ${difference.toFixed(1)}, contrast ${contrast.toFixed(2)} to 1, along ${words.share(share)} of its outline`,
      suggestion: `make ${words.part} or ${other} lighter or darker`,
    };
  },
});

/** Of two things that blend with each other one is told: a figure before an object, else the first. */
function speaksFor(other: BlendingColoursFinding, one: BlendingColoursFinding): boolean {
  if (other.node !== one.other || one.node !== other.other || other.from > one.to || one.from > other.to)
    return false;
  return other.figure >= 0 === one.figure >= 0 ? other.node < one.node : other.figure >= 0;
}

type Blend = (a: Colour, b: Colour) => boolean;

/** Whether two colours cannot be told apart; each pair is worked out once. */
function blendOf({
  difference,
  contrast,
}: {
  readonly difference: number;
  readonly contrast: number;
}): Blend {
  const known = new Map<number, boolean>();
  return (a, b) => {
    if (a === noColour || b === noColour) return false;
    const pair = Math.min(a, b) * 0x1000000 + Math.max(a, b);
    let found = known.get(pair);
    if (found === undefined) {
      found = differenceOf(a, b) < difference && contrastOf(a, b) < contrast;
      known.set(pair, found);
    }
    return found;
  };
}

/** Whether any two things, or one and the background, have colours that blend: without that nothing is drawn. */
function mayBlend(study: Study, blend: Blend): boolean {
  const solids = solidsOf(study);
  const sets = thingsOf(study).map(
    ({ solids: own }) => new Set(own.flatMap((index) => [...new Set(colourOf(study, solids[index].node))])),
  );
  sets.push(new Set(backgroundOf(study)));
  return sets.some((one, n) =>
    sets.slice(n + 1).some((other) => [...one].some((a) => [...other].some((b) => blend(a, b)))),
  );
}

/** Places of the picture's height, and of the widest picture that is drawn. */
const high = 72;
const wide = 192;
const raster = new Raster(wide, high);
/** Fewer places of outline tell nothing. */
const leastOutline = 12;
/** Pictures looked at a second. */
const looks = 12;

/** What was seen of a thing at a sample. */
interface Look {
  readonly share: number;
  /** The two colours and the other thing that most of the lost outline is between. */
  readonly own: Colour;
  readonly others: Colour;
  readonly other: number;
  readonly places: number;
}

function findingsOf(
  study: Study,
  lens: Lens,
  blend: Blend,
  values: { readonly outline: number; readonly frames: number; readonly difference: number },
): BlendingColoursFinding[] {
  const things = thingsOf(study);
  const { count, rate } = gridOf(study);
  const step = Math.max(1, Math.round(rate / looks));
  const seenBy = looker(study, lens, things, blend);
  const found: BlendingColoursFinding[] = [];
  const open: (Look & { at: number })[][] = things.map(() => []);
  const close = (thing: number) => {
    const run = open[thing];
    if (run.length > 0 && run[run.length - 1].at - run[0].at + step > values.frames)
      found.push(findingOf(study, things, thing, run, step, values.difference));
    open[thing] = [];
  };
  for (let i = 0; i < count; i += step) {
    const look = lens.seen[i] === 1 ? seenBy(i) : [];
    things.forEach((_, thing) => {
      const seen = look[thing] ?? null;
      if (seen !== null && seen.share > values.outline) open[thing].push({ ...seen, at: i });
      else close(thing);
    });
  }
  things.forEach((_, thing) => {
    close(thing);
  });
  return found;
}

/** Draws a sample and tells what is seen of each thing's outline; null where there is too little of it. */
function looker(study: Study, lens: Lens, things: readonly Thing[], blend: Blend) {
  const solids = solidsOf(study);
  const drawables = drawablesOf(study, solids);
  const thingOf = drawables.map(({ solid }) =>
    things.findIndex(({ solids: own }) => own.some((index) => solids[index] === solid)),
  );
  const colours = drawables.map(({ solid }) => colourOf(study, solid.node));
  const background = backgroundOf(study);
  return (i: number): (Look | null)[] => {
    drawSolids(study, lens, drawables, i, wholePicture(lens, i, raster), raster);
    const width = Math.min(wide, Math.floor(lens.aspect[i] * high));
    const outline = new Int32Array(things.length);
    const places = new Int32Array(things.length);
    const lost = things.map(
      () => new Map<string, { count: number; own: Colour; others: Colour; other: number }>(),
    );
    const meet = (a: number, b: number) => {
      const p = a === nothing ? -1 : thingOf[a];
      const q = b === nothing ? -1 : thingOf[b];
      if (p === q) return;
      const [x, y] = [a, b].map((owner) => (owner === nothing ? background[i] : colours[owner][i]));
      if (x === noColour || y === noColour) return;
      const isLost = blend(x, y);
      for (const [one, other, own, others] of [
        [p, q, x, y],
        [q, p, y, x],
      ]) {
        if (one < 0) continue;
        outline[one]++;
        if (!isLost) continue;
        const name = `${other} ${own} ${others}`;
        const pair = lost[one].get(name) ?? { count: 0, own, others, other };
        pair.count++;
        lost[one].set(name, pair);
      }
    };
    for (let y = 0; y < high; y++) {
      for (let x = 0; x < width; x++) {
        const at = y * wide + x;
        const owner = raster.owner[at];
        if (owner !== nothing) places[thingOf[owner]]++;
        if (x + 1 < width) meet(owner, raster.owner[at + 1]);
        if (y + 1 < high) meet(owner, raster.owner[at + wide]);
      }
    }
    return things.map((_, n) => {
      const pairs = [...lost[n].values()];
      if (outline[n] < leastOutline || pairs.length === 0) return null;
      const most = pairs.reduce((a, b) => (b.count > a.count ? b : a));
      const share = pairs.reduce((sum, { count }) => sum + count, 0) / outline[n];
      return { share, own: most.own, others: most.others, other: most.other, places: places[n] };
    });
  };
}

function findingOf(
  study: Study,
  things: readonly Thing[],
  thing: number,
  run: readonly (Look & { readonly at: number })[],
  step: number,
  least: number,
): BlendingColoursFinding {
  const { figure, node } = things[thing];
  const { own, others, other } = run[run.length >> 1];
  const difference = differenceOf(own, others);
  const share = run.reduce((sum, look) => sum + look.share, 0) / run.length;
  const from = run[0].at;
  const last = run[run.length - 1].at;
  const middle = run[run.length >> 1];
  const scale = screenOf(study, node)?.[seenWidth * middle.at + 3] ?? Number.NaN;
  const height = Math.sqrt(middle.places) / high;
  return {
    node,
    figure,
    from,
    to: Math.min(gridOf(study).count - 1, last + step - 1),
    ...(figure < 0 ? {} : { isOfFigure: figuresOf(study).length > 1 }),
    measured: { quantity: "difference of the two colours (ΔE₀₀)", value: difference, unit: "count" },
    expected: { min: least, unit: "count", source: settings.difference.source },
    excess: least > 0 ? 2 - difference / least : 1,
    size: scale > 0 ? (share * height) / scale : 0,
    other: other < 0 ? -1 : things[other].node,
    numbers: { difference, contrast: contrastOf(own, others), share },
    fault: null,
  };
}
