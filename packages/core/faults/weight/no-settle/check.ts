import { referenceRate, standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { type Flight, flightsOf } from "../../../motion/body/flight.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { hipsOf, standsOnRoot } from "../../../motion/ground/foot-plant.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { causeOr } from "../shared/cause-or.ts";
import { drawnLandingsOf } from "./drawn-landings.ts";

/** With numbers in working units. */
export interface NoSettleFinding extends Finding {
  readonly numbers: {
    /** How far the hips fell to the contact, and how far they give after it. */
    readonly fall: number;
    readonly give: number;
    readonly needed: number;
    /** What a usual landing gives, and the first sample in contact. */
    readonly usual: number;
    readonly lands: number;
  };
  /** Whether poses of step keys land. */
  readonly isDrawn?: boolean;
}

/**
 * Share of a fall that legs take up by bending: knees go from 19° to 83° in landings from 58 to 60 cm (British Journal of
 * Sports Medicine, table 3). With legs of 0.49 body heights that brings the hips of a grown person down by 20 cm.
 */
const usualShare = 0.35;

const settings = {
  give: {
    default: 0.17,
    unit: "share",
    what: "least share of its fall by which a body goes on sinking after the contact",
    source:
      "geometry: a spike jump's landing from 58 to 60 cm bends the knees by 64 ± 12° (British Journal of Sports Medicine, table 3). Two spreads below the mean the hips sink by 0.17 of the fall",
    min: 0,
    max: 1,
  },
  fall: {
    default: 0.05,
    unit: "H",
    what: "least fall of the hips, from their highest point to the contact, whose landing is judged",
    source: "common practice: 8 cm of a grown person, more than a run takes",
    min: 0,
  },
  most: {
    default: 0.15,
    unit: "H",
    what: "most by which hips are asked to sink, however far they fell",
    source:
      "legs are half as long as the body (Drillis & Contini 1966): bent to a right angle they give 0.15",
    min: 0,
  },
} as const;

/**
 * Seconds after the contact in which the body gives; the knees are bent most after 0.15 to 0.25 s (from memory), and a deep
 * landing takes longer.
 */
const longestGive = 0.4;
/** A body of fewer parts has nothing that gives: a ball, a crate (our choice). */
const fewestParts = 4;
/** Seconds on the ground after which a body that leaves it again was no landing but a bounce (our choice). */
const bounce = 0.2;

/** A landing that ends dead. */
export const noSettle = defineCheck({
  name: "no-settle",
  title: "No settle",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  what: "A body lands from the air and stops where it touches: legs and hips do not give.",
  why: "What falls has to be stopped, and legs stop it by bending. A body that stands as it touches has nothing in it that fell.",
  computes:
    "For each flight that ends on the ground: how far the hips fell, from their highest point to the contact. Where the body falls on as freely over its feet, it is to the moment at which it is braked. On more than two feet it is the centre of mass, and so it is where the root of the body is its foot. And how far they sink from the last frame in the air to their lowest within 0.4 s. That is to be what was left of the fall and, beyond it, at least 0.17 of the fall, but no more than 0.15 body heights. In blocked work poses of step keys are judged as well. Off the ground by 0.03 body heights, with nothing to carry it, the body is in flight. Within 0.4 s after it some pose is to bend the legs by as much as hips are to sink. That is by how much the straighter one of the legs on the ground is shorter than its bones. Falls of less than 0.05 body heights are not judged.",
  fix: "Let the hips sink on after the contact, lowest after four or five frames, and come up more slowly.",
  notAFault: [
    "a body that leaves the ground again within 0.2 s: it bounces",
    "figures with propulsors (wings, or declared ones): their beat carries them",
    "a stiff landing, as children land: half of what is usual is enough",
    "a figure of fewer than four parts, such as a ball",
    "one whose poses are held on twos, or cut by step keys at the landing where the work is past blocking",
    "in blocked work, a landing on more than two legs, or on what is no foot",
    "a fall of less than 8 cm of a grown person, as in running",
  ],
  limits: [
    "From pose to pose nobody knows when the body gives, only that some pose does.",
    "Stops and set-downs are judged by hard-stop and frozen-hold; this check looks at landings alone.",
    "What gives in the trunk alone, with stiff legs, is not seen as a give.",
  ],
  sources: [
    "British Journal of Sports Medicine, table 3: knees in landings of spike jumps, 19 ± 8° at the contact, 83 ± 15° at most",
    "PMC1088348: children bend hips and knees less, and land stiffer (abstract)",
  ],
  since: "0.1.0",
  settings,
  styles: {
    snappy: { times: { give: 0.5 }, why: "Poses are hit hard, and a landing is one of them." },
    limited: { off: true, why: "A landing may be one drawing that is held." },
    twos: { off: true, why: "A landing has given within two drawings, which tell of no course." },
  },
  find(study, figure, values) {
    if (propulsorsOf(study, figure).length > 0 || figuresOf(study)[figure].nodes.length < fewestParts)
      return [];
    const { dt, count } = gridOf(study);
    const flights = flightsOf(study, figure);
    const found = stiffDrawings(study, figure, values);
    flights.forEach((flight, i) => {
      const next = flights[i + 1];
      if (!flight.endsOnGround) return;
      const last = Math.min(count - 1, Math.ceil(flight.landing + longestGive / dt));
      if (next !== undefined && (next.takeOff - flight.landing) * dt < bounce) {
        excused(hipsOf(study, figure), flight.to, next.from, "the body bounces off again");
        return;
      }
      const finding = landingOf(study, figure, flight, last, values);
      if (finding !== null) found.push(finding);
    });
    return found;
  },
  word({ numbers }, words) {
    const { fall, give, needed, usual, lands } = numbers;
    const from = `lands at frame ${words.frame(lands)} from a fall of ${words.length(fall)}`;
    return {
      message: `${from} and ${give < 0.005 * fall ? "does not give at all" : `gives by ${words.length(give)} only`}, where legs take up at least ${words.length(needed)}`,
      suggestion: `let the hips sink on by ${words.length(usual - Math.max(0, give))} after frame ${words.frame(lands)}, lowest four or five frames later, and come up in about twice that time`,
    };
  },
});

type Values = { readonly [K in keyof typeof settings]: number };

/**
 * The moment from which on the ground brakes a body. A foot that settles slowly has no moment of touching, and carries from
 * its first sample near the ground on; but what falls on as freely as before is not carried yet, whatever its feet do.
 * @param to last sample in the air
 * @param last sample up to which a body may give
 */
function braked(height: (i: number) => number, to: number, landing: number, last: number, rate: number) {
  let at = to;
  while (at < last) {
    const fall = 2 * height(at) - height(at - 1) - height(at + 1);
    // Nearer to gravity than to none.
    if (!(fall * rate * rate > standardGravity / 2)) break;
    at++;
  }
  return at > to ? at : Math.min(landing, to + 1);
}

/** A landing whose give is too small; null where it is not, or cannot be judged. */
function landingOf(
  study: Study,
  figure: number,
  flight: Flight,
  last: number,
  values: Values,
): NoSettleFinding | null {
  const { from, to } = flight;
  const { frames, step, count, rate } = gridOf(study);
  const hips = hipsOf(study, figure);
  if (onTwosOf(study, hips) > 1 || isCutBetween(cutsOf(study, hips), to, last)) return null;
  // What lands on more than two legs comes down on the one pair before the other: its hips alone do not tell. Nor does the
  // root of a body that has its foot there: it is what touches.
  const isUpright = footCountOf(study, figure) <= 2 && !standsOnRoot(study, figure);
  const path = isUpright ? worldOf(study, hips).position : massCentreOf(study, figure);
  const what = isUpright ? "hips" : "centre of mass";
  const height = (i: number) => path[3 * i + 1];
  const landing = braked(height, to, flight.landing, last, rate);
  let top = height(from);
  for (let i = from; i <= to; i++) top = Math.max(top, height(i));
  const before = Math.ceil(landing) - 1;
  const touch = height(before) + (landing - before) * (height(before + 1) - height(before));
  const fall = top - touch;
  if (fall < values.fall) return null;
  // Where the shot ends in the landing it may give behind the cut.
  const needed = Math.min(values.give * fall, values.most);
  let lowest = to + 1;
  for (let i = to + 1; i <= last; i++) if (height(i) < height(lowest)) lowest = i;
  if (last === count - 1 && last - to < (longestGive * rate) / 2) return null;
  const sink = height(to) - height(lowest);
  const give = touch - height(lowest);
  if (give >= needed) return null;
  const usual = Math.min(usualShare * fall, values.most);
  const lo = to;
  const hi = last;
  const values_: number[] = [];
  for (let i = from; i <= hi; i++) values_.push(height(i));
  const wanted = height(to) - touch + needed;
  return {
    node: hips,
    figure,
    from: to,
    to: lowest,
    notBefore: "splining",
    measured: { quantity: `sinking of the ${what} from the last frame in the air`, value: sink, unit: "m" },
    expected: { min: wanted, unit: "m", source: settings.give.source },
    excess: needed / Math.max(give, needed / 4),
    size: usual - give,
    numbers: { fall, give: Math.max(0, give), needed, usual, lands: before + 1 },
    fault: causeOr(
      study,
      {
        ...(isUpright
          ? { kind: "position" as const, subject: hips }
          : { kind: "massCentre" as const, subject: figure }),
        lo,
        hi,
        from: to,
        to: Math.min(hi, to + Math.round((6 * rate) / referenceRate)),
        sees: ["settle", touch, usual],
        strength: (series) => {
          let low = series[1];
          for (let k = 4; k < series.length; k += 3) low = Math.min(low, series[k]);
          return Math.max(0, 2 * usual - (touch - low));
        },
      },
      [hips],
      to,
      lowest,
      "height",
    ),
    evidence: [
      { label: `height of the ${what}`, unit: "m", firstFrame: frames[from], step, values: values_ },
    ],
  };
}

/** Landings of blocked work on legs that no pose bends. */
function stiffDrawings(study: Study, figure: number, values: Values): NoSettleFinding[] {
  const hips = hipsOf(study, figure);
  return drawnLandingsOf(study, figure, longestGive).flatMap(({ air, lands, lowest, fall, bent }) => {
    const needed = Math.min(values.give * fall, values.most);
    if (fall < values.fall || bent >= needed) return [];
    const usual = Math.min(usualShare * fall, values.most);
    return [
      {
        node: hips,
        figure,
        from: lands,
        to: Math.max(lowest, lands),
        measured: {
          quantity: "bend of the legs in the poses after the landing",
          value: bent,
          unit: "m" as const,
        },
        expected: { min: needed, unit: "m" as const, source: settings.give.source },
        excess: needed / Math.max(bent, needed / 4),
        size: usual - bent,
        isDrawn: true,
        numbers: { fall, give: bent, needed, usual, lands },
        fault: { kind: "keys" as const, keys: keysOfNodes(study, [hips], air, lands) },
      },
    ];
  });
}
