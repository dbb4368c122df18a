import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { flightsOf } from "../../../motion/body/flight.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { heightOf, hipsOf, standsOnRoot } from "../../../motion/ground/foot-plant.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { handledOf } from "../../shared/things/handled.ts";
import { type Top, topAt, topsOf } from "./tops.ts";

/** With numbers in working units. */
export interface QuickTopFinding extends Finding {
  readonly numbers: {
    /** The sample of the top, the height that was looked at, and frames: in the top quarter, wanted there. */
    readonly top: number;
    readonly height: number;
    readonly frames: number;
    readonly wanted: number;
    /** Grid indices, with fractions, between which the part is over the lowest quarter. */
    readonly start: number;
    readonly end: number;
  };
}

const settings = {
  slow: {
    default: 0.75,
    unit: "ratio",
    what: "least time in the top quarter of the height over that in the half below it",
    source:
      "geometry: 1.37 under gravity, 1.26 for minimum-jerk moves (Flash & Hogan 1985), 1 for a sine, 0.5 for even spacing. The limit is the middle of the last two: what is under it is nearer to even spacing than to any turn by itself",
    min: 0,
  },
  flight: {
    default: 1,
    unit: "ratio",
    what: "the same for the hips of a body in the air, over the height of its flight",
    source:
      "computed: 1.37 under gravity, 1 with a sixth of the time in the top quarter gone. A clip that plays faster is seen from 18 % on (Scientific Reports 2017, 7:15379, abstract)",
    min: 0,
  },
  height: {
    default: 0.108,
    unit: "H",
    what: "least rise before a top, and fall after it, in body heights",
    source:
      "common practice: the length of a hand (0.108 body heights, from memory); what goes up by less is shifted, not raised",
    min: 0,
  },
  longest: {
    default: 8,
    unit: "frames",
    what: "longest time in the top quarter that is judged",
    source:
      "common practice: a third of a second at the top reads as slow, however slowly the part came there",
    min: 1,
  },
  shortest: {
    default: 6,
    unit: "frames",
    what: "shortest rise and fall, over its lowest quarter, that is judged",
    source: "common practice: in fewer frames there is no room for spacing at a top",
    min: 3,
  },
} as const;

/** A rise and fall with no slow spacing at its top. */
export const quickTop = defineCheck({
  name: "quick-top",
  title: "Quick top",
  family: "paths",
  scope: "figure",
  ceiling: "minor",
  isOfAct: true,
  notBefore: "splining",
  what: "A part rises and falls again without slowing down at the top.",
  why: "What goes up slows down, stands for a moment and falls. Spacing that is as wide at the top as below it has neither weight nor a will.",
  computes:
    "Heights of the hips, the head and the hands, frame by frame. A top has a rise before it and a fall after it of at least 0.108 body heights. The smaller of the two is the height that is looked at. Told is the time in the top quarter of it over the time in the half below that, both ways together. It is to be 0.75 at least. Between frames the height counts as changing evenly. Of hips in the air the height is that of the flight over the frames on the ground beside it, 0.03 body heights or more. There it is to be 1 at least. A body whose root is its foot pulls that up in the air as it likes.",
  fix: "Put the keys beside the top nearer to it in height: half of the time of a fall under gravity belongs to its top quarter.",
  notAFault: [
    "a part that is in a contact at its top, or struck there",
    "figures with propulsors (wings, or declared ones), whose beat carries them",
    "a rise and fall of fewer than six frames, and one that is at its top for more than a third of a second",
    "hands on which the body walks, and one that lets a thing fly at its top: it throws",
    "poses held on twos, and step keys that cut at the top",
  ],
  limits: [
    "Only hips, head and hands are judged; a prop that is tossed is not.",
    "A part that bounces off a ceiling that is not declared is taken to turn by itself.",
  ],
  sources: [
    "A fall from rest spends half of its time in the top quarter of its height (computed)",
    "Flash & Hogan 1985: minimum-jerk movements",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["hang-time", "hitch", "spacing-jump"],
  styles: {
    snappy: { times: { slow: 0.7 }, why: "Few frames lie between the poses, at a top too." },
    limited: { off: true, why: "A top is one drawing, and has no spacing." },
    twos: { off: true, why: "Half as many poses show no spacing at a top." },
  },
  find: (study, figure, values) =>
    propulsorsOf(study, figure).length > 0
      ? []
      : judgedOf(study, figure).flatMap((node) => findingsOn(study, figure, node, values)),
  word({ numbers }, words) {
    const { top, height, frames, wanted } = numbers;
    const least = words.frames(Math.max(1, Math.ceil(wanted)));
    return {
      message: `${words.part} does not slow down at its top, frame ${words.frame(top)}: ${words.frames(Math.max(1, Math.round(frames)))} in the top quarter of ${words.length(height)}, where an eased move takes ${least}`,
      suggestion: `bring the keys beside frame ${words.frame(top)} nearer to its height, so that the top quarter takes ${least}`,
    };
  },
});

type Values = { readonly [K in keyof typeof settings]: number };

/** What of a chain hangs on one of its nodes. */
function belowOf(chain: readonly number[], node: number): readonly number[] {
  return chain.slice(chain.indexOf(node) + 1);
}

/** Hips, head and hands of a figure. */
function judgedOf(study: Study, figure: number): number[] {
  const head = figuresOf(study)[figure].parts.get("head")?.[0];
  const feet = footPointsOf(study, figure);
  const isWalkedOn = (root: number) => feet.some((point) => isAbove(rigOf(study), root, point.node));
  const hands = limbsOf(study, figure).filter(({ kind, root }) => kind === "arm" && !isWalkedOn(root));
  return [
    hipsOf(study, figure),
    ...(head === undefined ? [] : [head]),
    ...hands.map(({ end }) => end),
  ].filter((node, i, all) => all.indexOf(node) === i && !worldOf(study, node).still);
}

function findingsOn(study: Study, figure: number, node: number, values: Values): QuickTopFinding[] {
  const { count } = gridOf(study);
  if (onTwosOf(study, node) > 1) return [];
  const height = heightOf(study, node);
  const { shortest, longest } = values;
  const cuts = cutsOf(study, node);
  const contact = nodeContactAt(study, node);
  const thrown = handledOf(study).flatMap(({ hand, at, isCatch }) => (hand === node && !isCatch ? [at] : []));
  const found: QuickTopFinding[] = [];
  for (const { top, isFlight } of judgedTops(study, figure, node, height, values.height)) {
    const ratio = top.upper / top.middle;
    const least = isFlight ? values.flight : values.slow;
    if (top.end - top.start < shortest || top.upper > longest || ratio >= least) continue;
    const lo = Math.floor(top.start);
    const hi = Math.min(count - 1, Math.ceil(top.end));
    if (isCutBetween(cuts, lo, hi)) continue;
    if (contact[top.at] === 1) {
      excused(node, top.at, top.at, "the part is in a contact at its top");
      continue;
    }
    if (thrown.some((at) => at >= top.upperFrom - 1 && at <= top.upperTo + 1)) {
      excused(node, top.at, top.at, "the hand throws a thing there, and is quick for it");
      continue;
    }
    found.push(findingOf(study, figure, node, top, { lo, hi, ratio, least, isFlight }, height));
  }
  return found;
}

/** Least height of a flight whose top is judged, in body heights: as far as a body in the air gets off the ground (5 cm). */
const flightShare = 0.03;

/** The tops of a part; those of the hips in the air over the height of their flight. */
function judgedTops(
  study: Study,
  figure: number,
  node: number,
  height: Float64Array,
  least: number,
): { readonly top: Top; readonly isFlight: boolean }[] {
  const flights =
    node === hipsOf(study, figure)
      ? flightsOf(study, figure).filter(({ startsOnGround, endsOnGround }) => startsOnGround && endsOnGround)
      : [];
  const own = topsOf(height, least)
    .filter(({ at }) => !flights.some(({ from, to }) => at >= from && at <= to))
    .map((top) => ({ top, isFlight: false }));
  // A body that stands on its root pulls that up in the air as it likes.
  const flown = (standsOnRoot(study, figure) ? [] : flights).flatMap(({ from, to }) => {
    let at = from;
    for (let i = from; i <= to; i++) if (height[i] > height[at]) at = i;
    const rise = height[at] - Math.max(height[from - 1], height[to + 1]);
    const top = rise < flightShare * statureOf(study, figure) ? null : topAt(height, at, rise);
    return top === null ? [] : [{ top, isFlight: true }];
  });
  return [...own, ...flown].sort((a, b) => a.top.at - b.top.at);
}

function findingOf(
  study: Study,
  figure: number,
  node: number,
  top: Top,
  {
    lo,
    hi,
    ratio,
    least,
    isFlight,
  }: {
    readonly lo: number;
    readonly hi: number;
    readonly ratio: number;
    readonly least: number;
    readonly isFlight: boolean;
  },
  height: Float64Array,
): QuickTopFinding {
  const { frames, step } = gridOf(study);
  const from = Math.floor(top.upperFrom);
  const to = Math.min(hi, Math.ceil(top.upperTo));
  // What carries a hand or a head may rise and fall with it: its own joints are asked.
  const hips = hipsOf(study, figure);
  const chain = node === hips ? [hips] : belowOf(chainOf(rigOf(study), node), hips);
  // Those of each trial are written over the last one's.
  const heights = floats(hi - lo + 1);
  const fault: Fault = {
    kind: "position",
    subject: node,
    top: chain[0],
    lo,
    hi,
    from: lo,
    to: hi,
    sees: ["quick top", top.at - lo, top.height],
    strength: (series) => {
      for (let i = 0; i < heights.length; i++) heights[i] = series[3 * i + 1];
      const again = topAt(heights, top.at - lo, top.height);
      return again === null ? 0 : Math.max(0, 2 - again.upper / again.middle);
    },
  };
  // Keys that make a top together go one by one without help: those that move the part most are named then.
  const causes = causesOf(study, fault);
  return {
    node,
    figure,
    from,
    to,
    measured: {
      quantity: `time in the top quarter${isFlight ? " of the flight" : ""} over that in the half below`,
      value: ratio,
      unit: "ratio",
    },
    expected: { min: least, unit: "ratio", source: (isFlight ? settings.flight : settings.slow).source },
    excess: least / ratio,
    size: top.height * (1 - ratio / 2) * 0.25,
    numbers: {
      top: top.at,
      height: top.height,
      frames: top.upper,
      // An eased move has as much time there as in the half below.
      wanted: (top.upper + top.middle) / 2,
      start: top.start,
      end: top.end,
    },
    fault:
      causes.length > 0 ? keysFault(causes) : { kind: "keys", keys: keysOfNodes(study, chain, lo, hi, 3) },
    evidence: [
      {
        label: "height",
        unit: "m",
        firstFrame: frames[lo],
        step,
        values: Array.from(height.subarray(lo, hi + 1)),
      },
    ],
  };
}
