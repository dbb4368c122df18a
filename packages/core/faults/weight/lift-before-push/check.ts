import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { type Brake, brakesIn, type FreeFall, freeFallsOf, liftAt } from "../../../motion/body/free-fall.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { trunkBrakes } from "../shared/carrier-agrees.ts";
import { causeOr } from "../shared/cause-or.ts";
import { lifted } from "../shared/lifted.ts";
import { type WingLift, wingLiftOf } from "./wings.ts";

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
/** The body rises before what drives it. */
export const liftBeforePush = defineCheck({
  name: "lift-before-push",
  title: "Lift before push",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
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
    if (propulsorsOf(study, figure).length > 0) {
      const lift = wingLiftOf(study, figure, values);
      return lift === null ? [] : [wingFinding(study, figure, lift, values)];
    }
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
