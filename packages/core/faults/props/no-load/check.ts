import { excused } from "../../../base/excuse.ts";
import type { Seen } from "../../../base/memo-cell.ts";
import type { Study } from "../../../base/study.ts";
import { bodyMassOf, heavyShare, holdersAt, massOf } from "../../../motion/parts/loads.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { bodyRiseOf, halfOf, type Lift, liftsOf } from "../shared/lifts.ts";
import { counterOf, effortOf, mostEffort } from "./effort.ts";
import { takenUpOf } from "./taken.ts";

/** With numbers in working units. */
export interface NoLoadFinding extends Finding {
  readonly lift: Lift;
  readonly numbers:
    | {
        readonly kind: "ahead";
        /** Frames by which the load is half way up before the body is; kilograms of the load. */
        readonly ahead: number;
        readonly mass: number;
        /** Sample, with a fraction, at which the body is half way up. */
        readonly body: number;
      }
    /** Frames in which a load gains its height and speed, and in which a body could give them to it. */
    | { readonly kind: "leap"; readonly took: number; readonly takes: number }
    /** Metres by which a load moves the common centre of mass, and the body goes against it. */
    | { readonly kind: "unanswered"; readonly shift: number; readonly answer: number }
    /** Metres by which a load is off its place in the first pose in which hands hold it. */
    | { readonly kind: "taken"; readonly rise: number };
}

const settings = {
  lead: {
    default: 2,
    unit: "frames",
    what: "by how many frames a load may be half way up before the body that lifts it",
    source:
      "common practice: a body leads its load by three frames and more; two frames either way read as together",
    min: 0,
  },
  heavy: {
    default: heavyShare,
    unit: "share",
    what: "from which share of the body's mass on a thing is a load",
    source: "ISO 11228-1 (2021, from memory) counts objects from 3 kg on as loads: 0.043 of a body of 70 kg",
    min: 0,
  },
  power: {
    default: 1.1,
    unit: "m/s",
    what: "how fast a body may lift a load as heavy as itself; lighter ones go up as much faster",
    source:
      "Maud & Shultz 1989 (from memory): over five seconds, 95 of 100 active young men give at most 11 W for each kilogram of themselves",
    min: 0.1,
  },
  shift: {
    default: 0.038,
    unit: "H",
    what: "from which shift of the common centre of mass on a body has to lean against a load",
    source:
      "common practice: a quarter of a foot's length (0.152 body heights), by which weight comes from mid-foot to the ball",
    min: 0.005,
  },
  answer: {
    default: 0.25,
    unit: "share",
    what: "least share of that shift by which hips and shoulders go against it",
    source: "common practice: less than a quarter is what a body that stands sways by itself",
    min: 0,
    max: 1,
  },
  taken: {
    default: 0.02,
    unit: "H",
    what: "how far a load may be up in the first pose in which hands hold it",
    source:
      "common practice: who lifts takes hold and strains first, and has a pose for it; 0.02 body heights are what a thing has to be moved by to be carried",
    min: 0,
  },
  density: {
    default: 0.167,
    unit: "ratio",
    what: "how dense a thing is whose mass is not declared, against water",
    source:
      "common practice: freight is reckoned at 6,000 cubic centimetres a kilogram, which packed goods weigh about",
    min: 0,
  },
} as const;

/** A load goes up as if it weighed nothing. */
export const noLoad = defineCheck({
  name: "no-load",
  title: "No load",
  family: "props",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  hangsOn: ["body"],
  caution: "bodies",
  what: "Something heavy goes up before the body that has to lift it, or faster than anybody could. Or the body does not answer it, or it is up in the pose in which it is first held.",
  why: "A load comes up with the body that lifts it, slowly at first, and pulls it over. One that does not weighs nothing.",
  computes:
    "Looked at are lifts: a prop that hands hold rises by 0.1 body heights and more. Its mass is what the document says, else what its shapes hold at the density of packed goods. A body without a declared mass has 22 kg for each square metre of its stature. Three things are asked, and the first that is at fault is told. First, the order. The body's rise is that of its shoulders' middle, from half a second before the load leaves its place to a quarter of a second after it is up. Where the shoulders rise by a quarter of the load's way or more, legs and back do the lifting. The moments at which load and shoulders are half way up are then compared. A rise ends where the prop sinks by a quarter of it. Second, the power. What a load has gained is its height, and with it v² / 2g, what its speed would still carry it up. Over a stretch from where it leaves its place, an eighth of a second and longer, that gain takes a time. A body needs at least the gain times the load's mass, over its own mass and over the speed of the setting. Figures that lift together share the mass. Told is the stretch in which the load is farthest ahead of that. Third, the answer, where the shoulders do not rise. The load's share in the mass of both, times its distance from the body's centre of mass over the ground, is the shift that it makes. Hips and shoulders have to go against it by a quarter, between half a second before and a quarter of a second after. Where step keys cut to the first pose in which hands hold a load, it is not to be higher in it than before by more than 0.02 body heights. It has to have rested for a quarter of a second before, with none of these hands within a hand's length of it.",
  fix: "Let the load leave its place later and more slowly, and come up with the body: the arms stay long until knees and back have taken it.",
  notAFault: [
    "things that weigh little",
    "loads that the arms lift by themselves close to the body, as off a table",
    "loads that come up with the body, or after it",
    "who lifts and walks",
    "poses in step keys: nothing is told there of power",
    "a thing that another one hands over, or that the hands have reached in the pose before",
  ],
  limits: [
    "The mass of a thing without a shape has to be declared.",
    "Observers do not tell natural lifts of other masses apart: what is told is what no body could do, not the weight.",
    "Who lifts for a living is stronger: raise the setting of power for weight lifters.",
  ],
  sources: [
    "Johansson & Westling 1988 (abstract): force grows before a thing moves, longer for heavier ones",
    "Hoyet, Multon, Komura, Lécuyer 2010: natural lifts of other masses are not told apart",
    "Maud & Shultz 1989: norms of the most power in five seconds, 9.2 W/kg in the mean of active young men (from memory)",
    "World Health Organization: a body mass index of 18.5 to 25 is usual; 22 is about its middle (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: NoLoadFinding[] = [];
    const own = bodyMassOf(study, figure);
    for (const lift of liftsOf(study, figure)) {
      const mass = massOf(study, lift.thing, values.density);
      if (!(mass >= values.heavy * own)) {
        excused(lift.thing, lift.from, lift.to, "it weighs too little, or its mass is not known");
        continue;
      }
      const share = mass / own / holdersAt(study, lift.thing, Math.round(lift.half));
      const body = bodyRiseOf(study, figure, lift);
      const finding =
        aheadOf(study, figure, lift, mass, body?.half ?? null, values.lead) ??
        leapOf(study, figure, lift, share, values.power) ??
        (body === null ? unansweredOf(study, figure, lift, share, values) : null);
      if (finding !== null) found.push(finding);
      else if (body === null)
        excused(lift.thing, lift.from, lift.to, "the body hardly rises: the arms do the lifting");
    }
    for (const lift of takenUpOf(study, figure, values.taken * statureOf(study, figure)))
      if (massOf(study, lift.thing, values.density) >= values.heavy * own)
        found.push(takenFinding(study, figure, lift, values.taken * statureOf(study, figure)));
    return found;
  },
  word({ numbers, lift, from, to }, words) {
    if (numbers.kind === "leap") {
      return {
        message: `${words.part} shoots up within ${words.frames(numbers.took)}, ${words.span(from, to)}: it weighs nothing. A strong body takes ${words.frames(numbers.takes)}`,
        suggestion: `give it ${words.frames(numbers.takes - numbers.took)} more to leave its place, slow at first, with knees and back`,
      };
    }
    if (numbers.kind === "unanswered") {
      return {
        message: `${words.part} goes up at the end of the arms, ${words.counted(lift.from, lift.to)}, and the body does not answer: it weighs nothing`,
        suggestion: `bring hips and shoulders ${words.length(numbers.shift - numbers.answer)} back against it, or the load closer`,
      };
    }
    if (numbers.kind === "taken") {
      return {
        message: `${words.part} is ${words.length(numbers.rise)} off its place at frame ${words.frame(to)}, in the pose in which the hands first take it: it weighs nothing`,
        suggestion: "leave it where it lies for a pose in which hands, back and legs take the strain",
      };
    }
    return {
      message: `${words.part} goes up ${words.frames(numbers.ahead)} ahead of the body that lifts it, ${words.counted(lift.from, lift.to)}: it weighs nothing`,
      suggestion: `let it be half way up ${words.frames(numbers.ahead)} later, with the knees and the back`,
    };
  },
});

/** A load that is half way up before the body is. */
function aheadOf(
  study: Study,
  figure: number,
  lift: Lift,
  mass: number,
  body: number | null,
  lead: number,
): NoLoadFinding | null {
  if (body === null) return null;
  const ahead = body - lift.half;
  if (!(ahead > lead)) return null;
  return {
    node: lift.thing,
    figure,
    from: lift.from,
    to: lift.to,
    measured: { quantity: "load ahead of the body", value: ahead, unit: "frames" },
    expected: { max: lead, unit: "frames", source: settings.lead.source },
    excess: lead > 0 ? ahead / lead : 1 + ahead,
    size: aheadBy(study, lift, ahead),
    lift,
    numbers: { kind: "ahead", ahead, mass, body },
    fault: causeOf(study, lift, lift.to, ["lift", body], (height, last) =>
      Math.max(0, body - lift.from - halfOf(height, 0, last)),
    ),
  };
}

/** A load that gains height and speed faster than a body can give them. */
function leapOf(
  study: Study,
  figure: number,
  lift: Lift,
  share: number,
  power: number,
): NoLoadFinding | null {
  const effort = effortOf(study, lift);
  if (effort === null || !(share * effort.speed > power)) return null;
  const { from, to } = effort;
  const took = to - from;
  const takes = (took * share * effort.speed) / power;
  const { rate } = gridOf(study);
  return {
    node: lift.thing,
    figure,
    from,
    to,
    measured: { quantity: "time in which a load gains its height and speed", value: took, unit: "frames" },
    expected: { min: takes, unit: "frames", source: settings.power.source },
    excess: takes / took,
    size: heightBetween(study, lift.thing, from + (took * took) / takes, to),
    lift,
    numbers: { kind: "leap", took, takes },
    fault: causeOf(study, lift, to + 1, ["effort"], (height, last) => mostEffort(height, last, rate).speed),
  };
}

/** A load that arms lift away from a body that stays as it stood. */
function unansweredOf(
  study: Study,
  figure: number,
  lift: Lift,
  share: number,
  values: { readonly shift: number; readonly answer: number },
): NoLoadFinding | null {
  const counter = counterOf(study, figure, lift, share / (1 + share));
  if (counter === null || !(counter.shift > values.shift)) return null;
  const { shift, answer } = counter;
  if (answer >= values.answer * shift) return null;
  const { root, parts } = figuresOf(study)[figure];
  const trunk = (["root", "spine", "chest"] as const).flatMap((part) => parts.get(part) ?? []);
  return {
    node: lift.thing,
    figure,
    from: lift.from,
    to: lift.to,
    measured: { quantity: "lean against the load", value: answer, unit: "m" },
    expected: { min: values.answer * shift, unit: "m", source: settings.answer.source },
    excess: shift / values.shift,
    size: shift - answer,
    // A body may brace itself in ways that joints do not show.
    ceiling: "minor",
    lift,
    numbers: { kind: "unanswered", shift, answer },
    fault: { kind: "keys", keys: keysOfNodes(study, [root, ...trunk, lift.thing], lift.from, lift.to, 3) },
  };
}

/** A load that is off its place in the pose in which it is first held. */
function takenFinding(study: Study, figure: number, lift: Lift, least: number): NoLoadFinding {
  const { thing, from, to, rise } = lift;
  return {
    node: thing,
    figure,
    from,
    to,
    measured: { quantity: "rise into the first pose of a hold", value: rise, unit: "m" },
    expected: { max: least, unit: "m", source: settings.taken.source },
    excess: rise / least,
    size: rise,
    // The pose between may be none yet.
    ceiling: "minor",
    lift,
    numbers: { kind: "taken", rise },
    fault: { kind: "keys", keys: keysOfNodes(study, [thing], to, to, 3) },
  };
}

/** How much higher a load is half way up than it would be as many frames later, metres. */
function aheadBy(study: Study, { thing, half }: Lift, ahead: number): number {
  return heightBetween(study, thing, half - ahead, half);
}

function heightBetween(study: Study, thing: number, from: number, to: number): number {
  const { position } = worldOf(study, thing);
  const last = position.length / 3 - 1;
  const height = (i: number) => position[3 * Math.max(0, Math.min(last, Math.round(i))) + 1];
  return height(to) - height(from);
}

/** The load's keys, by which it is early, or fast: by the height over its samples, numbered from where it leaves its place. */
function causeOf(
  study: Study,
  { thing, from }: Lift,
  to: number,
  sees: readonly Seen[],
  strength: (height: (i: number) => number, last: number) => number,
): Fault {
  const hi = Math.min(to, gridOf(study).count - 1);
  const causes = causesOf(study, {
    kind: "position",
    subject: thing,
    lo: from,
    hi,
    from,
    to: hi,
    strength: (series) => strength((i) => series[3 * i + 1], hi - from),
    sees,
  });
  return causes.length > 0
    ? keysFault(causes)
    : { kind: "keys", keys: keysOfNodes(study, [thing], from, hi, 3) };
}
