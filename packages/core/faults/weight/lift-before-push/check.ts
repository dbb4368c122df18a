import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { extremesOf } from "../../../motion/body/beat.ts";
import { beatStartsOf } from "../../../motion/body/beat-start.ts";
import { type Brake, brakesIn, type FreeFall, freeFallsOf, liftAt } from "../../../motion/body/free-fall.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { elevationOf, leastBeat, type Propulsor, propulsorsOf } from "../../../motion/body/propulsors.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bodySupportAt } from "../../../motion/ground/support.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { trunkBrakes } from "../shared/carrier-agrees.ts";
import { causeOr } from "../shared/cause-or.ts";
import { lifted } from "../shared/lifted.ts";

/** With numbers in working units. */
export interface LiftBeforePushFinding extends Finding {
  readonly numbers:
    | { readonly gained: number; readonly late: number }
    | {
        readonly wing: number;
        readonly stroke: number;
        readonly rise: number;
        readonly lead: number;
        readonly sooner: number;
        /** 1 where legs pushed the body off, and its lift is its take-off. */
        readonly takeOff: number;
      };
}

const settings = {
  lift: {
    default: 0.3,
    unit: "g",
    what: "upward acceleration, in the air beyond the body's own fall, from which it is being driven",
    source:
      "common practice: a third of the body's weight leaves room for the error of an average body's masses",
    min: 0,
  },
  gain: {
    default: 0.4,
    unit: "m/s",
    what: "upward speed that the body has to gain",
    source: "common practice: that of a hop of a centimetre",
    min: 0,
  },
  late: {
    default: 2,
    unit: "frames",
    what: "for how many frames the body may go on gaining speed after its feet have left",
    source: "common practice: a foot may leave between two frames, and the gain shows a frame after it",
    min: 1,
  },
  lead: {
    default: 0,
    unit: "frames",
    what: "how many frames before the body a wing has to start; a note suggests three",
    source:
      "common practice: a wing that leads by three to five frames is seen to lift; the check leaves room",
  },
  strike: {
    default: 1,
    unit: "frames",
    what: "how many frames after the feet have left the ground wings may begin their first stroke down",
    source:
      "starlings, quails, doves and finches begin it while their feet still push (Earls 2000, Provini and others 2012, from memory); one frame for what lies between two",
    min: 0,
  },
} as const;

/** Frames (at 24 per second) by which a wing leads the body it lifts: 3 to 5; common practice. */
const usualLead = 3;
/** Frames (at 24 per second) without a stroke after which beating starts anew: a third of a second (our choice). */
const pause = 8;
/**
 * Frames (at 24 per second) around the start of a beat in which the body's lift answers to it: twice the usual lead,
 * and some more (our choice).
 */
const around = 10;

/** The body rises before what drives it. */
export const liftBeforePush = defineCheck({
  name: "lift-before-push",
  title: "Lift before push",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["unit", "body"],
  notBefore: "splining",
  what: "The body starts up before a leg, a hand or a wing drives it, or goes on gaining speed after the feet have left the ground.",
  why: "A body moves because something pushed it. Where the push comes after, the body is pulled up by a string and the push is a gesture.",
  computes:
    "In the air, after a take-off: stretches in which the centre of mass is accelerated upward by 0.3 g beyond its own fall, gaining 0.4 m/s and more. What counts is how long after the last contact they go on. For wings and declared propulsors that start to beat after a pause: the onset of the upward acceleration (a third of its peak) against the onset of the first stroke. Where legs push the body off, the frame on which they leave the ground against that on which the wings begin their first stroke down.",
  fix: "Start the push, or the wings, earlier by the frames that are named; keep the feet on the ground until the body has its speed.",
  notAFault: [
    "a body with its hips in water that is declared, which carries it",
    "pulled by a contact that is declared",
    "legs that push the body off while the wings are raised, if these strike down as the feet leave",
    "beats that go on: only starts are judged",
    "a body that is no human, whose trunk gains nothing there: how its mass is spread is a guess",
    "wings and a body that step keys cut from pose to pose",
  ],
  limits: [
    "Pulls by ropes and hands have to be declared as contacts.",
    "A foot that is known by its ankle alone carries while the ankle is slow and within 0.06 body heights of where a declared contact ends.",
  ],
  sources: ["Newton's second law: in the air the centre of mass falls freely"],
  since: "0.1.0",
  settings,
  yieldsTo: ["early-stop"],
  repeats: "steps",
  find(study, figure, values) {
    if (propulsorsOf(study, figure).length > 0) return wingFindings(study, figure, values);
    if (contactsOf(study, figure).length === 0) return [];
    const { dt } = gridOf(study);
    const found: LiftBeforePushFinding[] = [];
    for (const fall of freeFallsOf(study, figure)) {
      if (!fall.startsOnGround) continue;
      // What drives a body off shows at once after the contact.
      const brake = brakesIn(fall, values.lift, dt).find(({ from }) => from <= fall.from + 3 * fall.reach);
      if (brake === undefined || brake.gained < values.gain) continue;
      const late = brake.to - fall.from + 1;
      if (late < Math.round(values.late) || !rises(study, figure, fall, brake)) continue;
      if (lifted(study, figure, brake.from, brake.to)) continue;
      if (!trunkBrakes(study, figure, fall, brake, values.lift)) continue;
      found.push(legFinding(study, figure, fall, brake, late, values));
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    if ("wing" in numbers) {
      const late = words.frames(Math.abs(numbers.lead));
      const by = words.frames(numbers.sooner);
      if (numbers.takeOff === 1) {
        return {
          message: `body leaves the ground at frame ${words.frame(numbers.rise)}, ${late} before ${words.name(numbers.wing)} begins its first stroke down at frame ${words.frame(numbers.stroke)}`,
          suggestion: `let the wings strike down ${by} sooner, at frame ${words.frame(numbers.stroke - numbers.sooner)}, while the feet still push`,
        };
      }
      const when = numbers.lead === 0 ? "in the same frame as" : `${late} before`;
      return {
        message: `body lifts at frame ${words.frame(numbers.rise)}, ${when} the ${words.name(numbers.wing)} starts its stroke at frame ${words.frame(numbers.stroke)}`,
        suggestion: `start the wings ${by} sooner, at frame ${words.frame(numbers.stroke - numbers.sooner)}, so that they lead by three`,
      };
    }
    return {
      message: `body gains ${words.speed(numbers.gained)} upward after its feet have left the ground, ${words.counted(from, to)}`,
      suggestion: `start the push of the legs ${words.frames(numbers.late)} sooner, or keep the feet down to frame ${words.frame(to)}`,
    };
  },
});

type Values = {
  readonly lift: number;
  readonly gain: number;
  readonly late: number;
  readonly lead: number;
  readonly strike: number;
};

/** Whether the body is on its way up at the end of what drives it. */
function rises(study: Study, figure: number, fall: FreeFall, brake: Brake): boolean {
  const path = massCentreOf(study, figure);
  return path[3 * (brake.to + 1) + 1] > path[3 * (brake.to + 1 - fall.reach) + 1];
}

function legFinding(
  study: Study,
  figure: number,
  fall: FreeFall,
  brake: Brake,
  late: number,
  values: Values,
): LiftBeforePushFinding {
  const { dt } = gridOf(study);
  const { own, reach } = fall;
  const hips = hipsOf(study, figure);
  const lo = brake.from - reach;
  const hi = brake.to + reach;
  const from = fall.from;
  return {
    node: hips,
    figure,
    from,
    to: brake.to,
    measured: { quantity: "frames of gain after the last contact", value: late, unit: "frames" },
    expected: { max: values.late, unit: "frames", source: settings.late.source },
    excess: brake.gained / values.gain,
    // What the body rises by with the speed that nothing gave it.
    size: 0.5 * brake.gained * late * dt,
    numbers: { gained: brake.gained, late },
    fault: causeOr(
      study,
      {
        kind: "massCentre",
        subject: figure,
        lo,
        hi,
        from,
        to: brake.to,
        sees: ["lift", reach, dt, own],
        strength: (series) => {
          let sum = 0;
          for (let i = reach; i <= hi - lo - reach; i++)
            sum += Math.max(0, liftAt(series, i, reach, dt) - own);
          return sum;
        },
      },
      [hips],
      from,
      brake.to,
      "height",
    ),
  };
}

function wingFindings(study: Study, figure: number, values: Values): LiftBeforePushFinding[] {
  const { count, rate, dt } = gridOf(study);
  const frame = rate / referenceRate;
  const hips = hipsOf(study, figure);
  const reach = Math.max(1, Math.round(2 * frame), onTwosOf(study, hips));
  // The body itself: the mass of the wings goes down as they lift it.
  const path = worldOf(study, hips).position;
  const cuts = cutsOf(study, hips);
  const carried = bodySupportAt(study, figure);
  const found: LiftBeforePushFinding[] = [];
  for (const propulsor of propulsorsOf(study, figure)) {
    const { node, series } = propulsor;
    for (const onset of beatStartsOf(series, Math.round(pause * frame))) {
      const first = Math.max(reach, onset - Math.round(around * frame));
      const last = Math.min(count - 1 - reach, onset + Math.round(around * frame));
      if (last - first < 2) continue;
      if (isCutBetween(cuts, first - reach, last + reach)) {
        excused(hips, first, last, "step keys cut from pose to pose, which tells of no lead in frames");
        continue;
      }
      const off = takeOffOf(study, figure, propulsor, onset, [first, last]);
      if (off !== null && off.gained >= values.gain && off.lead < -values.strike * frame) {
        found.push(wingFinding(study, figure, { node, ...off }, values));
        break;
      }
      const lift = floats(last - first + 1);
      let peak = 0;
      for (let i = 0; i < lift.length; i++) {
        lift[i] = liftAt(path, first + i, reach, dt);
        if (lift[i] > lift[peak]) peak = i;
      }
      if (lift[peak] < values.lift) continue;
      let start = peak;
      while (start > 0 && lift[start - 1] > onsetShare * lift[peak]) start--;
      let gained = 0;
      for (let i = start; i < lift.length && lift[i] > 0; i++) gained += lift[i] * dt;
      const rise = first + start;
      if (gained < values.gain || start === 0 || carried[rise] === 1) continue;
      const lead = rise - onset;
      // An onset between two frames is as early as the frame before.
      if (lead >= values.lead) continue;
      found.push(wingFinding(study, figure, { node, onset, rise, lead, gained }, values));
      break;
    }
    if (found.length > 0) break;
  }
  return found;
}

/** Frames (at 24 per second) without the ground after which a body has left it: a foot may come down again within. */
const offFrames = 3;

/**
 * When legs push a body off the ground, and when its wings begin their first stroke down: wings that are unfolded or raised
 * lift nothing yet. Null where the body does not take off, or nothing strikes down.
 * @param started sample at which the wings begin to move @param range samples, ends included, in which the body may leave
 */
function takeOffOf(
  study: Study,
  figure: number,
  propulsor: Propulsor,
  started: number,
  [first, last]: readonly [number, number],
): Omit<WingLift, "node"> | null {
  const { rate, dt } = gridOf(study);
  const carried = bodySupportAt(study, figure);
  const path = worldOf(study, hipsOf(study, figure)).position;
  const enough = Math.round((offFrames * rate) / referenceRate);
  const leaves = (i: number) => carried[i - 1] === 1 && !carried.subarray(i, i + enough).includes(1);
  let rise = first;
  while (rise <= last && !leaves(rise)) rise++;
  if (rise > last || rise + enough >= carried.length) return null;
  const height = elevationOf(study, figure, propulsor);
  const turns = extremesOf(height, leastBeat).filter((at) => at > started);
  if (turns.length === 0) return null;
  const top = height[turns[0]] < height[started] ? started : turns[0];
  if (top !== started && turns.length < 2) return null;
  const gained = (path[3 * rise + 1] - path[3 * rise - 2]) / dt;
  return { onset: top, rise, lead: rise - top, gained, isTakeOff: true };
}

/**
 * Share of the peak from which the lift has begun: the acceleration is taken over four frames, which blurs its onset.
 */
const onsetShare = 1 / 3;

interface WingLift {
  readonly node: number;
  readonly onset: number;
  readonly rise: number;
  /** Frames from the onset of the stroke to that of the lift; negative where the body is first. */
  readonly lead: number;
  readonly gained: number;
  /** Whether legs pushed the body off: the lift is its take-off, and the onset that of the first stroke down. */
  readonly isTakeOff?: boolean;
}

function wingFinding(study: Study, figure: number, lift: WingLift, values: Values): LiftBeforePushFinding {
  const { rate, dt } = gridOf(study);
  const wanted = Math.max(values.lead, (usualLead * rate) / referenceRate);
  const sooner = Math.ceil((lift.isTakeOff ? 1 : wanted) - lift.lead);
  const from = Math.min(lift.rise, lift.onset);
  const to = Math.max(lift.rise, lift.onset);
  const nodes = propulsorsOf(study, figure).map(({ node }) => node);
  return {
    node: hipsOf(study, figure),
    figure,
    from,
    to,
    measured: {
      quantity: lift.isTakeOff
        ? "frames by which the wings' first stroke down leads the take-off"
        : "frames by which the wings lead the body",
      value: lift.lead,
      unit: "frames",
    },
    expected: lift.isTakeOff
      ? { min: -values.strike, unit: "frames", source: settings.strike.source }
      : { min: values.lead, unit: "frames", source: settings.lead.source },
    excess: 1 + (values.lead - lift.lead) / wanted,
    size: 0.5 * lift.gained * Math.abs(lift.lead) * dt,
    numbers: {
      wing: lift.node,
      stroke: lift.onset,
      rise: lift.rise,
      lead: lift.lead,
      sooner,
      takeOff: lift.isTakeOff ? 1 : 0,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, nodes, Math.max(0, to - 1), to) },
  };
}
