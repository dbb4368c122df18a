import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { type Brake, brakesIn, type FreeFall, freeFallsOf, liftAt } from "../../../motion/body/free-fall.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { trunkBrakes } from "../shared/carrier-agrees.ts";
import { causeOr } from "../shared/cause-or.ts";
import { lifted } from "../shared/lifted.ts";
import { stallsOf } from "./stall.ts";
import { type StallNumbers, stallFinding, stallWords } from "./stall-finding.ts";

/** With numbers in working units. */
export interface EarlyStopFinding extends Finding {
  readonly numbers:
    | {
        readonly early: number;
        readonly lands: number;
        readonly lower: number;
        readonly foot: number;
        readonly lost: number;
      }
    | StallNumbers;
}

const settings = {
  brake: {
    default: 0.35,
    unit: "g",
    what: "upward acceleration beyond the body's own fall from which it is being stopped",
    source:
      "common practice: in the air it is nought; a third of the body's weight leaves room for an average body's masses",
    min: 0,
  },
  early: {
    default: 2,
    unit: "frames",
    what: "how many frames before anything carries the stop has to begin",
    source: "common practice: a foot may touch between two frames, and a stop shows a frame before it",
    min: 1,
  },
  floor: {
    default: 0.003,
    unit: "H",
    what: "least height by which the body hangs above where its fall would have brought it, at the contact",
    source: "common practice: about 5 mm of a grown person, three pixels where the figure fills 1,080 lines",
    min: 0,
  },
  fall: {
    default: 0.3,
    unit: "m/s",
    what: "speed of the fall from which its stop is judged",
    source: "common practice: a drop of half a centimetre",
    min: 0,
  },
  stall: {
    default: 1 / 3,
    unit: "share",
    what: "share of its speed over the ground under which a body that steps has all but stopped",
    source:
      "from memory: within a step of a walk people's speed goes up and down by about a sixth of it; under a third it is seen to stand",
    min: 0,
    max: 1,
  },
  pace: {
    default: 0.25,
    unit: "H/s",
    what: "least speed over the ground from which a stop in mid step is judged",
    source: "common practice: half of a slow walk; what is slower shifts its weight over feet that hold it",
    min: 0,
  },
} as const;

/** The body stops falling before anything carries it. */
export const earlyStop = defineCheck({
  name: "early-stop",
  title: "Early stop",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  hangsOn: ["unit", "body"],
  notBefore: "splining",
  what: "The body slows its fall while its feet are still in the air, or stops in mid step before the next foot is down.",
  why: "Only what touches can stop a fall. Hips that slow down before the foot carries look lowered on a wire: the step has no weight. A walk is a fall ahead, which the next foot catches.",
  computes:
    "While nothing supports the figure and it falls, the acceleration of its centre of mass (over three frames) is compared with that of its own fall. That is the lower quarter of the accelerations in the air, at most gravity. Where it exceeds it by more than 0.35 g, while it falls and at least two frames before the first contact, the stop comes early. The frames between are counted, and the height to which the fall would have gone on is inferred. In steps of a foot's length (0.152 body heights) and more, the hips' speed over the ground is judged as well. It must not fall under a third of the lesser of its peaks before and after: from six frames before to three frames behind the landing. At fault is a stop of four frames and more (at under half of that speed), at least two frames before the landing. The foot has to go on meanwhile, as fast as the body went. In the middle of the body's other steps, two and more, at least twice as much of the speed is left.",
  fix: "Let the centre of mass keep falling to the frame of the contact, and take the fall up after it with the knees.",
  notAFault: [
    "a body with its hips in water that is declared, which carries it",
    "supported by any contact that is declared, or by a part of the body near the ground",
    "wings or other propulsors that beat more strongly while the body slows",
    "a fall that is weak all through: that is hang time",
    "a body that is no human, whose trunk is not braked: how its mass is spread is a guess",
    "a body that stops in each of its steps: it takes them one by one; one that wades",
    "a step that pauses as a whole, foot and body, as in poses on step keys",
    "a body that turns back, or goes on more than 60 degrees aside",
  ],
  limits: [
    "Hands, seats and props carry only where contacts declare them.",
    "A trailing foot that still touches counts as carrying, even if it could not.",
  ],
  sources: ["Newton's second law: in the air the centre of mass falls freely"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    if (contactsOf(study, figure).length === 0) {
      excused(-1, 0, gridOf(study).count - 1, "no foot ever stands on anything");
      return [];
    }
    const found: EarlyStopFinding[] = [];
    for (const fall of freeFallsOf(study, figure)) {
      if (!fall.endsOnGround) {
        excused(-1, fall.from, fall.to, "the fall does not end on the ground");
        continue;
      }
      const finding = stopIn(study, figure, fall, values);
      if (finding !== null && finding.size > values.floor) found.push(finding);
    }
    const stalls = stallsOf(study, figure, values);
    const least = { min: values.stall, unit: "share", source: settings.stall.source } as const;
    return [...found, ...stalls.map((stall) => stallFinding(study, figure, stall, least))];
  },
  word(finding, words) {
    const { numbers, from } = finding;
    if ("left" in numbers) return stallWords(numbers, from, words);
    const frames = words.frames(numbers.early);
    const lands = numbers.foot >= 0 ? `the landing of ${words.name(numbers.foot)}` : "anything touches";
    return {
      message: `body stops falling at frame ${words.frame(from)}, ${frames} before ${lands} at frame ${words.frame(numbers.lands)}: nothing carries it there`,
      suggestion: `keep falling ${frames} more, to frame ${words.frame(numbers.lands)} (it would be ${words.length(numbers.lower)} lower by then), and stop after the contact`,
    };
  },
});

/** Frames (at 24 per second) before a contact in which a stop is one for that contact; common practice. */
const longestEarly = 16;

/** The stop within one free fall, null where the fall goes on to the contact. */
function stopIn(
  study: Study,
  figure: number,
  fall: FreeFall,
  values: { readonly brake: number; readonly early: number; readonly fall: number },
): EarlyStopFinding | null {
  const { dt } = gridOf(study);
  const path = massCentreOf(study, figure);
  const { own, reach } = fall;
  let worst: Brake | null = null;
  for (const brake of brakesIn(fall, values.brake, dt)) {
    const falling = fallingPart(path, fall, brake, values.fall, dt);
    if (falling !== null && (worst === null || falling.gained > worst.gained)) worst = falling;
  }
  const lands = fall.to + 1;
  if (worst === null || lands - worst.from < Math.round(values.early)) return null;
  // A fall that was stopped long before the ground goes on: something carries that is not declared.
  if (lands - worst.from > longestEarly * reach || lifted(study, figure, worst.from, worst.to)) return null;
  if (!trunkBrakes(study, figure, fall, worst, values.brake)) return null;
  return finding(
    study,
    figure,
    { onset: worst.from, end: worst.to, lost: worst.gained, own, lands, reach },
    values,
  );
}

/**
 * The part of a brake in which the body falls. One that sets in before, at the top, and ends in the air is no stop but
 * a hang; held until the contact it stops the fall all the same. Null where the body does not fall.
 */
function fallingPart(
  path: Float64Array,
  fall: FreeFall,
  brake: Brake,
  least: number,
  dt: number,
): Brake | null {
  const { accelerations, own, reach } = fall;
  let { from } = brake;
  while (from <= brake.to && !(speedAt(path, from, reach, dt) < -least)) from++;
  if (from === brake.from) return brake;
  if (from > brake.to || brake.to < fall.to - 2 * reach) return null;
  let gained = 0;
  for (let i = from; i <= brake.to; i++) gained += (accelerations[i - fall.from - reach] - own) * dt;
  return { from, to: brake.to, gained };
}

interface Stop {
  readonly onset: number;
  readonly end: number;
  /** Falling speed lost before the contact, m/s. */
  readonly lost: number;
  readonly own: number;
  readonly lands: number;
  readonly reach: number;
}

function finding(
  study: Study,
  figure: number,
  stop: Stop,
  values: { readonly brake: number; readonly early: number },
): EarlyStopFinding {
  const { dt, frames, step, count } = gridOf(study);
  const { onset, end, lost, own, lands, reach } = stop;
  const path = massCentreOf(study, figure);
  const time = (lands - onset) * dt;
  const speed = speedAt(path, onset, reach, dt);
  const kept = path[3 * onset + 1] + speed * time + 0.5 * own * time * time;
  const lower = Math.max(0, path[3 * lands + 1] - kept);
  const hips = hipsOf(study, figure);
  const foot = contactsOf(study, figure).find(
    (contact) => contact.from >= lands - 1 && contact.from <= lands + 1,
  );
  const lo = Math.max(0, onset - reach);
  const hi = Math.min(count - 1, end + reach);
  const values_: number[] = [];
  for (let i = lo; i <= Math.min(count - 1, lands); i++) values_.push(path[3 * i + 1]);
  return {
    node: hips,
    figure,
    from: onset,
    to: lands,
    measured: { quantity: "frames from the stop to the contact", value: lands - onset, unit: "frames" },
    expected: { max: values.early, unit: "frames", source: settings.early.source },
    excess: lost / (values.brake * values.early * dt),
    size: lower,
    numbers: { early: lands - onset, lands, lower, foot: foot?.node ?? -1, lost },
    fault: causeOr(
      study,
      {
        kind: "massCentre",
        subject: figure,
        lo,
        hi,
        from: onset,
        to: lands,
        sees: ["stop", end, reach, dt, own],
        strength: (series) => {
          let sum = 0;
          for (let i = onset; i <= end; i++) {
            if (i - reach < lo || i + reach > hi) continue;
            sum += Math.max(0, liftAt(series, i - lo, reach, dt) - own) * dt;
          }
          return sum;
        },
      },
      [hips],
      onset,
      lands,
      "height",
    ),
    evidence: [
      { label: "height of the centre of mass", unit: "m", firstFrame: frames[lo], step, values: values_ },
    ],
  };
}

function speedAt(path: Float64Array, i: number, reach: number, dt: number): number {
  return (path[3 * i + 1] - path[3 * (i - reach) + 1]) / (reach * dt);
}
