import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { propsOf } from "../../../motion/parts/props.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { bodyRiseOf, halfOf, type Lift, liftsOf } from "../shared/lifts.ts";

/** With numbers in working units. */
export interface NoLoadFinding extends Finding {
  readonly lift: Lift;
  readonly numbers: {
    /** Frames by which the load is half way up before the body is; kilograms of the load. */
    readonly ahead: number;
    readonly mass: number;
    /** Sample, with a fraction, at which the body is half way up. */
    readonly body: number;
  };
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
    default: 0.043,
    unit: "share",
    what: "from which share of the body's mass on a thing is a load",
    source: "ISO 11228-1 (2021, from memory) counts objects from 3 kg on as loads: 0.043 of a body of 70 kg",
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

/** A load goes up before the body that lifts it. */
export const noLoad = defineCheck({
  name: "no-load",
  title: "No load",
  family: "props",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  caution: "bodies",
  what: "Something heavy goes up before the knees and the back that have to lift it.",
  why: "A load comes up with the body that lifts it, and a little later. One that leads the body weighs nothing.",
  computes:
    "Looked at are lifts: a prop that hands hold rises by 0.1 body heights and more. Its mass is what the document says, else what its shapes hold at the density of packed goods. A body without a declared mass has 22 kg for each square metre of its stature. The body's rise is that of its shoulders' middle, from half a second before the load leaves its place to a quarter of a second after it is up. Where the shoulders rise by a quarter of the load's way or more, legs and back do the lifting. The moments at which load and shoulders are half way up are then compared. A rise ends where the prop sinks by a quarter of it.",
  fix: "Let the load leave its place later, and come up with the body: the arms stay long until knees and back have taken it.",
  notAFault: [
    "things that weigh little",
    "loads that the arms lift by themselves, as from a table: the body hardly rises",
    "loads that come up with the body, or after it",
  ],
  limits: [
    "Arms that lift a heavy thing with nothing of the body answering are not told yet.",
    "The mass of a thing without a shape has to be declared.",
    "Observers do not tell natural lifts of other masses apart: what is told is the order, not the weight.",
  ],
  sources: [
    "Johansson & Westling 1988 (abstract): force grows before a thing moves, longer for heavier ones",
    "Hoyet, Multon, Komura, Lécuyer 2010: natural lifts of other masses are not told apart",
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
      const body = bodyRiseOf(study, figure, lift);
      if (body === null) {
        excused(lift.thing, lift.from, lift.to, "the body hardly rises: the arms do the lifting");
        continue;
      }
      const ahead = body.half - lift.half;
      if (!(ahead > values.lead)) continue;
      found.push({
        node: lift.thing,
        figure,
        from: lift.from,
        to: lift.to,
        measured: { quantity: "load ahead of the body", value: ahead, unit: "frames" },
        expected: { max: values.lead, unit: "frames", source: settings.lead.source },
        excess: values.lead > 0 ? ahead / values.lead : 1 + ahead,
        size: aheadBy(study, lift, ahead),
        lift,
        numbers: { ahead, mass, body: body.half },
        fault: causeOf(study, lift, body.half),
      });
    }
    return found;
  },
  word({ numbers, lift }, words) {
    return {
      message: `${words.part} goes up ${words.frames(numbers.ahead)} ahead of the body that lifts it, ${words.counted(lift.from, lift.to)}: it weighs nothing`,
      suggestion: `let it be half way up ${words.frames(numbers.ahead)} later, with the knees and the back`,
    };
  },
});

/** Kilograms of a prop; NaN where nothing tells them. */
function massOf(study: Study, node: number, density: number): number {
  const prop = propsOf(study).find((one) => one.node === node);
  if (prop === undefined) return Number.NaN;
  if (!Number.isNaN(prop.mass)) return prop.mass;
  return prop.volume > 0 ? density * water * prop.volume : Number.NaN;
}

/** Kilograms in a cubic metre of water. */
const water = 1000;

/** Kilograms for each square metre of stature. */
const massIndex = 22;

function bodyMassOf(study: Study, figure: number): number {
  const { id } = figuresOf(study)[figure];
  return (
    headerOf(study).figures?.find((one) => one.id === id)?.mass ?? massIndex * statureOf(study, figure) ** 2
  );
}

/** How much higher a load is half way up than it would be as many frames later, metres. */
function aheadBy(study: Study, { thing, half }: Lift, ahead: number): number {
  const { position } = worldOf(study, thing);
  const last = position.length / 3 - 1;
  const height = (i: number) => position[3 * Math.max(0, Math.min(last, Math.round(i))) + 1];
  return height(half) - height(half - ahead);
}

/** The load's keys, by which it is early. */
function causeOf(study: Study, { thing, from, to }: Lift, body: number): Fault {
  const causes = causesOf(study, {
    kind: "position",
    subject: thing,
    lo: from,
    hi: to,
    from,
    to,
    strength: (series) => Math.max(0, body - from - halfOf((i) => series[3 * i + 1], 0, to - from)),
    sees: ["lift", body],
  });
  return causes.length > 0
    ? keysFault(causes)
    : { kind: "keys", keys: keysOfNodes(study, [thing], from, to, 3) };
}
