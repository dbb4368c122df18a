import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { type Flight, flightsOf } from "../../../motion/body/flight.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { footCountOf, footPointsOf } from "../../../motion/ground/feet.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isReachedAt } from "../../../settings/stage.ts";
import { settingsOf } from "../../../settings/study.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { causeOr } from "../shared/cause-or.ts";
import { drawnFlightsOf, type TakeOff } from "../shared/drawn-flights.ts";
import { extensionIn, standOf } from "./leg-extension.ts";
import { suddenStrikes } from "./strikes.ts";

/** With numbers in working units. */
export interface NoAnticipationFinding extends Finding {
  readonly numbers:
    | {
        /** How high the hips rise in the air, and by how much they go down before it. */
        readonly rise: number;
        readonly dip: number;
        readonly needed: number;
        /** By how much they would usually go down before it, and the first sample in the air. */
        readonly usual: number;
        readonly leaves: number;
        /** Seconds for which the body is crouched, and how many it takes to be seen. */
        readonly seen: number;
        readonly readable: number;
      }
    | {
        /** How far a hand goes from pose to pose, how far back it has gone before, and how far it usually would. */
        readonly way: number;
        readonly back: number;
        readonly usualBack: number;
      };
  /** Of a blow between poses of step keys: what turns into it, from the chest to the hand. */
  readonly chain?: readonly number[];
}

/** A usual jump goes down before it by 0.25 m at the least (force-plate literature, from memory), in body heights. */
const usualDip = 0.15;

const settings = {
  dip: {
    default: 0.05,
    unit: "H",
    what: "least way down of the hips before a jump out of standing",
    source:
      "common practice: a third of the least that is usual, 0.25 to 0.35 m of a grown person (force-plate literature, from memory). Deeper dips bring higher jumps (Sánchez-Sixto, Harrison & Floría 2018, abstract)",
    min: 0,
  },
  crouch: {
    default: 0.1,
    unit: "share",
    what: "share of their length by which legs extend into the take-off from which the body was crouched already",
    source: "geometry: knees of two equal bones that are bent by 50° shorten a leg by a tenth",
    min: 0,
    max: 1,
  },
  seen: {
    default: 0.2,
    unit: "s",
    what: "least time for which the body is seen to crouch: lower than half of its way down, or on legs that are bent by half of what they extend",
    source:
      "from memory: the whole push of a jump takes 0.7 to 0.9 s on force plates. For 0.4 s of that and more the body is below half of its depth; half of that is asked",
    min: 0,
  },
  effort: {
    default: 0.08,
    unit: "H",
    what: "least height of a jump that is judged: the rise of the hips in the air, and the height that their speed over the ground is worth",
    source: "common practice: 14 cm of a grown person; for less, ankles and a look will do",
    min: 0,
  },
  runUp: {
    default: 0.8,
    unit: "m/s",
    what: "speed along the ground, from 0.6 to 0.3 s before the take-off, from which the run is the anticipation",
    source: "common practice: half the speed of a walk",
    min: 0,
  },
  blow: {
    default: 0.25,
    unit: "H",
    what: "least way of a hand from pose to pose of step keys for a blow or a throw",
    source:
      "common practice: a gesture takes a hand up to a quarter of the body's height; what goes farther is thrown out",
    min: 0,
  },
  windUp: {
    default: 0.1,
    unit: "share",
    what: "least way back before it of the hand, or of its shoulder, as a share of the way that it goes then",
    source: "common practice: a wind-up is seen from a tenth of the action on; a quarter and more is usual",
    min: 0,
    max: 1,
  },
} as const;

/** Seconds before the take-off in which the body is lowest: a whole push takes 0.7 to 0.9 s (from memory); and the way down. */
const before = 0.8;
const wayDown = 0.6;
/** Seconds after a landing within which a take-off bounces off it (our choice). */
const bounce = 0.3;
/** Seconds before the take-off that have to be in the shot, and that a note covers at the least. */
const shown = 0.45;
/** Heights that differ by less, in body heights, are one. */
const alike = 1e-5;

/** A jump with no crouch before it, or, in poses of blocked work, a blow with no wind-up. */
export const noAnticipation = defineCheck({
  name: "no-anticipation",
  title: "No anticipation",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  what: "A body jumps from where it stands, with no way down before the way up, or one that nobody sees. In blocked work, an arm strikes out and no pose goes back before it.",
  why: "Legs can only push what they have let down. A body that leaves the ground out of straight legs is thrown, and nobody saw it coming. A blow without a wind-up has come before anybody looks.",
  computes:
    "For each flight that starts on the ground: how far the hips go down before it. They are lowest within the 0.8 s before the take-off, and highest within the 0.6 s before that. On more than two feet it is the centre of mass. That is to be 0.05 body heights, and the body is to be seen down for 0.2 s. Judged are jumps with an effort of 0.08 body heights or more. It is the rise of the hips in the air over the take-off, and v²/(2g) of their speed over the ground there. Legs that extend by a tenth of their length between their most bent and the take-off were crouched already, if they are bent by half of that for 0.2 s. On more than two feet they are not, up to where they stand in a quarter of their time on the ground. There the way down is reckoned by how high the body stands, as long trunks and tails push nothing. Its centre of mass is that high in a quarter of its time on the ground, since it last landed, and counts as at 0.55 body heights. A body that is lower than that by the way down that is asked lies in wait already. It is seen down while it is lower than half of its way down in the 0.8 s before the take-off. A body that travels before is not judged. In blocked work only poses of step keys are judged. Off the ground by 0.03 body heights, with nothing to carry it, the body is in flight. There a run is told by the 0.8 s before a take-off, and the speed over the ground is no effort. Blows and throws are judged there as well. An arm strikes out where its hand goes by 0.25 body heights. The arm grows by a quarter of its length, to 85 % and more, and the chest turns by 30° and takes the shoulder along. Within the second before, the hand is to have been ahead of where it sets out, along its way, by a tenth of that way. Or its shoulder has, by a tenth of its own way.",
  fix: "Put a breakdown some five frames before the take-off, with the hips down by 0.15 body heights; let them go down more slowly than they come up. Before a blow, put in a pose in which chest and arm go back by a quarter of its way.",
  notAFault: [
    "a body that is crouched already when it jumps",
    "a jump out of a run, at 0.8 m/s and more: the run is its anticipation",
    "a take-off within 0.3 s of a landing: it bounces",
    "figures with propulsors (wings, or declared ones): their beat carries them",
    "a figure without legs, such as a sack or a spring",
    "one whose poses are held on twos, or cut by step keys at the take-off where the work is past blocking",
    "in blocked work, a leap on more than two legs",
    "a hop of less than 14 cm of a grown person, a reaction, a stumble",
    "a hand that is drawn back behind its shoulder already, one that touches or takes something where it goes, and an arm that goes out while the chest stays",
  ],
  limits: [
    "Who is thrown or pulled into the air, by something that is not declared, is taken to jump.",
    "Heaves and turns are not looked at, and blows and throws from pose to pose alone.",
    "From motion alone nobody can tell a blow from a reaction in which an arm goes out with the chest: its note is minor at most.",
    "Where the shot starts less than 0.45 s before the take-off or the blow, nothing is said.",
  ],
  sources: [
    "Sánchez-Sixto, Harrison & Floría 2018: larger counter-movements and higher jumps (abstract)",
    "Force-plate literature (from memory): a counter-movement jump goes down by 0.25 to 0.35 m in 0.7 to 0.9 s",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["lift-before-push"],

  styles: {
    limited: { off: true, why: "A crouch may be one drawing, held before the jump." },
    twos: { off: true, why: "Half as many poses tell too little of a push." },
  },
  find(study, figure, values) {
    return [...jumpsOf(study, figure, values), ...blowsOf(study, figure, values)];
  },
  word({ numbers, to }, words) {
    if ("way" in numbers) {
      const { way, back, usualBack } = numbers;
      return {
        message: `${words.part} strikes out by ${words.length(way)} at frame ${words.frame(to)} with the chest behind it, and no pose goes back before it`,
        suggestion: `put in a pose some five frames before, with chest and arm turned back until the hand has gone back by ${words.length(usualBack - back)}`,
      };
    }
    const { rise, dip, usual, leaves, seen, readable } = numbers;
    if (seen > 0) {
      return {
        message: `jumps at frame ${words.frame(leaves)}, ${words.length(rise)} high, out of a crouch that is there for ${words.seconds(seen)} only, where it takes ${words.seconds(readable)} to be seen`,
        suggestion: `let the body go down earlier and stay down, for ${words.seconds(readable - seen)} longer before frame ${words.frame(leaves)}`,
      };
    }
    const how =
      dip < 0.05 * usual ? "with no crouch before it" : `out of a crouch of ${words.length(dip)} only`;
    return {
      message: `jumps at frame ${words.frame(leaves)}, ${words.length(rise)} high, ${how}, where bodies go down by ${words.length(usual)}`,
      suggestion: `let the hips go down by ${words.length(usual - dip)} before it, lowest four to six frames before frame ${words.frame(leaves)}, over about twice that time`,
    };
  },
});

type Values = { readonly [K in keyof typeof settings]: number };

/** Jumps with too little before them. */
function jumpsOf(study: Study, figure: number, values: Values): NoAnticipationFinding[] {
  if (propulsorsOf(study, figure).length > 0 || !hasLegs(study, figure)) return [];
  const { dt } = gridOf(study);
  const flights = flightsOf(study, figure);
  const drawn = drawnFlightsOf(study, figure);
  if (drawn.length > 0) return drawn.flatMap((flight) => takeOffOf(study, figure, flight, values, true));
  return flights.flatMap((flight, i) => {
    if (!flight.startsOnGround || !isSplined(study, flight)) return [];
    const last = flights[i - 1];
    if (last !== undefined && (flight.takeOff - last.landing) * dt < bounce) {
      excused(hipsOf(study, figure), last.to, flight.from, "the body bounces off from its landing");
      return [];
    }
    return takeOffOf(study, figure, flight, values, false);
  });
}

/** How far a hand usually goes back before a blow, as a share of the blow's way: a quarter (common practice). */
const usualBack = 0.25;

/** Blows from pose to pose of blocked work with nothing before them. */
function blowsOf(study: Study, figure: number, values: Values): NoAnticipationFinding[] {
  return suddenStrikes(study, figure, values).map(({ arm, carrier, from, at, way, back }) => {
    const chain = [carrier, arm.root, arm.middle, arm.end];
    return {
      node: arm.end,
      figure,
      from,
      to: at,
      seenAt: [arm.end, arm.middle, arm.root, carrier],
      measured: { quantity: "way back of the hand before it strikes out", value: back, unit: "m" },
      expected: { min: values.windUp * way, unit: "m", source: settings.windUp.source },
      excess: (values.windUp * way) / Math.max(back, 0.25 * values.windUp * way),
      size: usualBack * way - back,
      ceiling: "minor",
      numbers: { way, back, usualBack: usualBack * way },
      chain,
      fault: { kind: "keys", keys: keysOfNodes(study, chain, Math.max(0, at - 1), at) },
    };
  });
}

/** Whether a take-off is judged as a motion: from splining on, and earlier where the check is asked for. */
function isSplined(study: Study, { from, to }: Flight): boolean {
  const isAsked = settingsOf(study).checks.get("no-anticipation")?.isAsked === true;
  return isAsked || isReachedAt(study, "splining", from, to);
}

/** Whether a figure has feet that are known to be feet, not by resting alone. */
function hasLegs(study: Study, figure: number): boolean {
  return footPointsOf(study, figure).some(({ isNamed }) => isNamed);
}

/** A take-off with too little before it; none where it is enough, or cannot be judged. */
function takeOffOf(
  study: Study,
  figure: number,
  flight: TakeOff,
  values: Values,
  isDrawn: boolean,
): NoAnticipationFinding[] {
  const { from, to } = flight;
  const { dt, frames, step } = gridOf(study);
  const hips = hipsOf(study, figure);
  const first = Math.max(0, from - Math.round(before / dt));
  const isTold = onTwosOf(study, hips) <= 1 && (isDrawn || !isCutBetween(cutsOf(study, hips), first, from));
  if ((from - first) * dt < shown || !isTold) return [];
  // What lies on more than two legs rears to jump: its hips alone do not tell how far it goes down.
  const isUpright = footCountOf(study, figure) <= 2;
  const path = isUpright ? worldOf(study, hips).position : massCentreOf(study, figure);
  const what = isUpright ? "hips" : "centre of mass";
  const height = (i: number) => path[3 * i + 1];
  // A foot that leaves slowly has no moment of leaving: until its last sample it carries.
  const takeOff = Math.max(flight.takeOff, from - 1);
  const off = height(from - 1) + (takeOff - (from - 1)) * (height(from) - height(from - 1));
  let top = off;
  for (let i = from; i <= to; i++) top = Math.max(top, height(i));
  const rise = top - off;
  const way = (a: number, b: number) =>
    lengthOf(path[3 * a] - path[3 * b], 0, path[3 * a + 2] - path[3 * b + 2]);
  // From pose to pose nobody goes at any speed.
  const speed = isDrawn ? 0 : way(from - 1, from) / dt;
  if (rise + (speed * speed) / (2 * standardGravity) < values.effort) return [];
  const tiny = alike * statureOf(study, figure);
  let lowest = from - 1;
  for (let i = from - 1; i >= first; i--) if (height(i) < height(lowest) - tiny) lowest = i;
  const earliest = Math.max(0, lowest - Math.round(wayDown / dt));
  let highest = lowest;
  for (let i = lowest; i >= earliest; i--) if (height(i) > height(highest) + tiny) highest = i;
  const dip = height(highest) - height(lowest);
  const stand = isUpright ? null : standOf(study, figure, path, from);
  const needed = values.dip * (stand?.size ?? 1);
  const readable = isDrawn ? 0 : values.seen;
  let seen = 0;
  if (dip >= needed) {
    for (let i = first; i < from; i++) if (height(i) <= height(highest) - dip / 2) seen += dt;
    if (seen >= readable - dt / 2) return [];
  }
  if (dip < needed && stand !== null && stand.height - height(lowest) >= needed) {
    excused(hips, lowest, from, "the body lies in wait already, lower than it stands");
    return [];
  }
  const legs = extensionIn(study, figure, first, from - 1);
  if (legs.share >= values.crouch) {
    seen = Math.max(seen, legs.bent * dt);
    if (seen >= readable - dt / 2) {
      excused(hips, lowest, from, "the body is crouched already");
      return [];
    }
  }
  const isBrief = seen > 0;
  // A jump forward gets its way from the push; a run has it before.
  const [early, late] = isDrawn
    ? [first, from - 1]
    : [from - Math.round(0.6 / dt), from - Math.round(0.3 / dt)].map((i) => Math.max(first, i));
  if (way(early, late) > values.runUp * (late - early) * dt) {
    excused(hips, lowest, from, "the body jumps out of a run");
    return [];
  }
  const usual = usualDip * statureOf(study, figure) * (stand?.size ?? 1);
  const values_: number[] = [];
  for (let i = Math.min(first, highest); i <= to; i++) values_.push(height(i));
  return [
    {
      node: hips,
      figure,
      from: Math.min(highest, from - Math.round(shown / dt)),
      to: from,
      ...(isBrief
        ? {
            measured: {
              quantity: "time for which the body is crouched before the take-off",
              value: seen,
              unit: "s" as const,
            },
            expected: { min: readable, unit: "s" as const, source: settings.seen.source },
            excess: readable / Math.max(seen, readable / 4),
            size: usual * (1 - seen / readable),
          }
        : {
            measured: {
              quantity: `way down of the ${what} before the take-off`,
              value: dip,
              unit: "m" as const,
            },
            expected: { min: needed, unit: "m" as const, source: settings.dip.source },
            excess: needed / Math.max(dip, needed / 4),
            size: usual - dip,
          }),
      numbers: { rise, dip, needed, usual, leaves: from, seen, readable },
      fault: causeOr(
        study,
        {
          ...(isUpright
            ? { kind: "position" as const, subject: hips }
            : { kind: "massCentre" as const, subject: figure }),
          lo: first,
          hi: from,
          from: Math.max(first, from - Math.round(0.5 / dt)),
          to: from,
          sees: ["anticipation", usual, isBrief ? 1 : 0],
          strength: (series) => {
            let high = series[1];
            let dipped = 0;
            let up = 0;
            for (let k = 4; k < series.length; k += 3) {
              high = Math.max(high, series[k]);
              dipped = Math.max(dipped, high - series[k]);
              // A crouch that is soon over leaves the body high for most of the time.
              if (isBrief) up += Math.max(0, usual - (high - series[k]));
            }
            return isBrief ? up : Math.max(0, 2 * usual - dipped);
          },
        },
        [hips],
        Math.min(lowest, Math.max(first, from - Math.round(0.5 / dt))),
        from,
        "height",
      ),
      evidence: [
        {
          label: `height of the ${what}`,
          unit: "m",
          firstFrame: frames[Math.min(first, highest)],
          step,
          values: values_,
        },
      ],
    },
  ];
}
