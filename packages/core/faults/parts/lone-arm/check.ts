import { inRadians } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf, minus, pointAt, type Vector, vectorLength } from "../../../base/vector.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { type Act, actsOf, type Carried, carriedIn } from "./acts.ts";

/** With numbers in working units. */
export interface LoneArmFinding extends Finding {
  readonly numbers: {
    /** Way of the hand, metres, and what the trunk gives of it. */
    readonly way: number;
    readonly given: number;
    /** What it would give at the least, metres, so that it is seen to take part. */
    readonly wanted: number;
    /** 1 for a throw, 0 for a reach. */
    readonly throws: 0 | 1;
    /** Rig index of the chest. */
    readonly chest: number;
  };
  /** Direction of the hand's way, a unit vector. */
  readonly along: Vector;
}

const settings = {
  stretch: {
    default: 0.9,
    unit: "share",
    what: "share of its length to which an arm reaches out, from which on the trunk goes along",
    source:
      "People change from the arm alone to arm and trunk at about nine tenths of the arm's reach (Mark and others 1997, J Exp Psychol HPP 23:1365; from memory)",
    min: 0,
    max: 1,
  },
  way: {
    default: 0.1,
    unit: "H",
    what: "least way of the hand in a reach, seen from the shoulder",
    source: "common practice: a hand that goes no farther than it is long only shifts",
    min: 0,
  },
  reach: {
    default: 0.1,
    unit: "share",
    what: "least share of a far reach that hips and trunk give",
    source: "common practice: 6 cm of a reach by 60 cm, the least by which a shoulder is seen to go along",
    min: 0,
    max: 1,
  },
  launch: {
    default: 4,
    unit: "m/s",
    what: "speed at which a light thing leaves the hand, from which on a throw is one of the whole body",
    source:
      "geometry: what forearm and hand of 0.38 m give that turn about the elbow by 600°/s. In a pitch it is four times as quick (2,300°/s, from memory).",
    min: 0,
  },
  throw: {
    default: 0.15,
    unit: "share",
    what: "least share of a throwing hand's way, seen from the hips, that the turning trunk gives",
    source:
      "A throw without a step has 84 % of its full speed, and one with the trunk held as well has 53 % (Toyoshima and others 1974, from memory). Turning gives 31 %; half of that.",
    min: 0,
    max: 1,
  },
  window: {
    default: 6,
    unit: "frames",
    what: "how long before the arm the trunk may begin",
    source: "common practice: parts of one body that overlap do so within a quarter of a second",
    min: 0,
  },
} as const;

/** How long after a reach the trunk may still answer, frames at 24 per second (common practice: a frame or two). */
const late = 2 / 24;
/** An arm that hangs by less than this from the upright, radians (30°), does not reach out. */
const hangs = inRadians(30);
/** A trunk that leans by this, radians (20°), towards where the arm reaches has gone into it already (common practice). */
const leans = inRadians(20);

/** What is measured of a throw; the other one is of a reach. */
export const turnedShare = "share of the throw that the trunk turns";

/** An arm reaches far or throws, and hips and trunk take no part. */
export const loneArm = defineCheck({
  name: "lone-arm",
  title: "Lone arm",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "An arm reaches as far as it can, or throws, and hips and trunk take no part.",
  why: "Far reaches and throws come from the ground up: hips and chest lean or turn into them. Out of the shoulder alone they have no force.",
  computes:
    "A reach is the way of a hand to what it takes, or to where it lets go of what it holds. It counts where the arm ends stretched to 0.9 of its length, 30° and more away from hanging. The hand has to go 0.1 body heights as seen from the shoulder. Hips and trunk have to give a tenth of its way in the world. By so much a point goes along that is fixed to the chest where the hand is at first. It is looked at from six frames before the reach to two after it. A throw goes from where the hand is farthest back, at most a second before it lets go. It counts from 4 m/s on; of heavy things from less, by the same work. The turning trunk has to give 15 % of the hand's way as seen from the hips. It may do so from six frames before the throw to the release.",
  fix: "Let the trunk turn or lean into it by so much, a frame or two before the arm.",
  notAFault: [
    "reaches and work within the arm's length, waves, and gestures that touch nothing",
    "tosses from the elbow",
    "a hand that catches a thing that flies",
    "a trunk that leans there already",
    "a cut by step keys, and poses on twos",
  ],
  limits: [
    "Blows and points of an empty hand are not looked at.",
    "What is thrown, taken and given has to be a declared prop.",
    "That the trunk turns before the arm is not asked for, only that it has turned by the release.",
  ],
  sources: [
    "Mark and others 1997, J Exp Psychol HPP 23:1365 (from memory): from which distance on a trunk takes part in a reach",
    "Toyoshima and others 1974, Biomechanics IV (from memory): what step and trunk give to a throw",
    "Roberton 1977 (from memory): the first stage of children's throws is that of the arm alone",
    "de Leva 1996: masses of hand and forearm",
  ],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "An arm may be a drawing of its own on a body that is held." },
    snappy: {
      times: { window: 1.5 },
      why: "Poses are hit: the body may be there long before the arm.",
    },
  },
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const root = carrierOf(figure);
    const chest = figure.parts.get("chest")?.at(-1) ?? figure.parts.get("spine")?.at(-1);
    const { count, rate } = gridOf(study);
    if (chest === undefined || chest === root) {
      excused(-1, 0, count - 1, "no chest is known above the hips");
      return [];
    }
    const found: LoneArmFinding[] = [];
    for (const act of actsOf(study, index)) {
      const isThrow = act.launch > 0;
      const { hand, from, to } = act;
      if (isThrow ? act.launch < values.launch : !isFarReach(study, act, values)) continue;
      const within = {
        from: Math.max(0, from - Math.round(values.window)),
        to: isThrow ? to : Math.min(count - 1, to + Math.round(late * rate)),
      };
      const carried = carriedIn(study, act, chest, isThrow ? root : -1, within);
      if (carried === null) continue;
      const least = isThrow ? values.throw : values.reach;
      const share = carried.given / carried.way;
      if (share >= least) continue;
      if (!isThrow && isLeaning(study, root, chest, carried, to)) {
        excused(hand, from, to, "the trunk leans there already");
        continue;
      }
      // One act is told once: a hand that takes a thing meets a contact as well.
      if (found.some((other) => other.node === hand && other.from <= to && other.to >= from)) continue;
      const trunk = chainOf(rigOf(study), chest).filter(
        (node) => node === root || isAbove(rigOf(study), root, node),
      );
      const wanted = 2 * least * carried.way;
      found.push({
        node: hand,
        figure: index,
        from,
        to,
        seenAt: [hand, chest, root],
        measured: {
          quantity: isThrow ? turnedShare : "share of the reach that hips and trunk give",
          value: share,
          unit: "share",
        },
        expected: { min: least, unit: "share", source: settings[isThrow ? "throw" : "reach"].source },
        excess: 2 - share / least,
        size: 0.25 * carried.way,
        amiss: wanted - carried.given,
        numbers: { way: carried.way, given: carried.given, wanted, throws: isThrow ? 1 : 0, chest },
        along: carried.along,
        fault: { kind: "keys", keys: keysOfNodes(study, trunk, within.from, within.to) },
      });
    }
    return found;
  },
  word({ from, to, numbers: { way, given, wanted, throws } }, words) {
    const act = throws === 1 ? "throws" : "reaches out";
    const body = throws === 1 ? "the turning trunk gives" : "hips and trunk give";
    return {
      message: `${words.part} ${act} alone in ${words.span(from, to)}: of its way of ${words.length(way)} ${body} ${words.length(given)}`,
      suggestion: `let the trunk turn or lean into it by about ${words.length(wanted)} at the hand, a frame or two before the arm`,
    };
  },
});

/** Whether an arm goes a long way, out to where it ends stretched, and not down to where it hangs. */
function isFarReach(
  study: Study,
  { hand, shoulder, length, from, to }: Act,
  { stretch, way }: { readonly stretch: number; readonly way: number },
): boolean {
  const at = (i: number) =>
    minus(pointAt(worldOf(study, hand).position, i), pointAt(worldOf(study, shoulder).position, i));
  const arm = at(to);
  const reach = vectorLength(arm);
  if (reach < stretch * length || vectorLength(minus(arm, at(from))) < way) return false;
  return Math.acos(-arm[1] / reach) >= hangs;
}

/** Whether the line from the hips to the chest leans to where a reach goes. */
function isLeaning(study: Study, root: number, chest: number, { along }: Carried, at: number): boolean {
  const [x, y, z] = minus(
    pointAt(worldOf(study, chest).position, at),
    pointAt(worldOf(study, root).position, at),
  );
  const level = lengthOf(along[0], along[2]);
  if (!(level > 0)) return false;
  return Math.atan2((x * along[0] + z * along[2]) / level, y) >= leans;
}
