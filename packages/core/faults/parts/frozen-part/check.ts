import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { leftOutFellows } from "./fellows.ts";
import { leftOutParts, leftOutSource } from "./left-out.ts";
import { frozenLimbs, limbSource } from "./limbs.ts";
import { trunkMeanwhile } from "./meanwhile.ts";
import { frozenTrunks, trunkSource } from "./trunk.ts";

const settings = {
  still: {
    default: 0.25,
    unit: "deg/s",
    what: "angular speed under which a joint of the trunk or a head stands still",
    source:
      "common practice: 0.01° a frame moves the end of an arm by 0.1 mm, a tenth of a pixel where the figure fills a picture of 1080 lines",
    min: 0,
  },
  drift: {
    default: 2.5,
    unit: "deg/s",
    what: "angular speed under which an arm is frozen against what carries it",
    source:
      "common practice: 0.1° a frame moves the end of an arm by 1 mm, less than a pixel where the figure fills a picture of 1080 lines",
    min: 0,
  },
  motion: {
    default: 15,
    unit: "deg/s",
    what: "least angular speed of the part just before and just after",
    source:
      "common practice: 0.6° a frame, at which a forearm drifts in a moving hold; what is slower is at rest",
    min: 0,
  },
  body: {
    default: 12,
    unit: "deg/s",
    what: "angular speed from which the trunk moves on",
    source: "common practice: half a degree a frame, at which a chest drifts in a moving hold",
    min: 0,
  },
  shortest: {
    default: 12,
    unit: "frames",
    what: "shortest freeze of a part that is noted",
    source: limbSource,
    min: 1,
  },
  trunk: {
    default: 8,
    unit: "frames",
    what: "shortest freeze of the whole trunk that is noted",
    source: trunkSource,
    min: 1,
  },
  travel: {
    default: 0.1,
    unit: "H/s",
    what: "speed of the hips from which on the body moves on",
    source: "common practice: 7 mm a frame of a grown person; what drifts more slowly is in a moving hold",
    min: 0,
  },
  leftOut: {
    default: 2,
    unit: "deg",
    what: "turn of a joint against its parent, over the whole shot, up to which it counts as left out",
    source: leftOutSource,
    min: 0,
  },
} as const;

/** Frames (at 24 per second) beside a freeze in which the part has to move: a quarter of a second, as long as an ease (our choice). */
const directly = 6;

/** A part, or the trunk, that freezes in the middle of a body that moves on. */
export const frozenPart = defineCheck({
  name: "frozen-part",
  title: "Frozen part",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "A head, an arm, a hand or the whole trunk stops dead in a body that moves on, and moves again later. Or a limb never moves at all.",
  why: "What a moving body carries is shaken by it; a part that keeps its pose looks switched off.",
  computes:
    "How fast each joint of head and arms turns against its parent. A part is a joint with all that follow it up to head or hand. It is frozen where none of them turns by more than 0.25° a second for 12 frames and more. An arm hangs on what moves: there it is 2.5°. In the six frames before it and in the six after it one of them goes by 15° a second at least. In half of its frames at least the body moves on. Then a joint of the trunk turns in the world by more than 12° a second, or the hips travel by more than 0.1 body heights a second. What is drawn on twos or threes moves on between its drawings too. Of an arm the largest part that is frozen is told. The trunk with the head is frozen where all of it keeps its place in the world for 8 frames and more. It comes straight out of motion and goes into motion, and a limb turns meanwhile. Left out is a limb none of whose joints ever turns by more than 2° against its parent. The shot lasts for two seconds and more, and in half of it the body moves on. Limbs are the arms, a head on a neck, and chains of two links and more that come in pairs where no arms and legs are known, as fins. So is a chain that never turns by more than that while its like does. Alike are chains off one joint that have as many links and the same length within a tenth. Those like it turn by 15° and more, and in half of the frames, and are no fewer.",
  fix: "Let the part drift on, a frame or two behind the trunk.",
  notAFault: [
    "a part that is at rest before or after, and acts elsewhere in the shot: it was never in a move",
    "a hand that a contact holds for half of the time or more; of what is left out also one that holds a thing",
    "limbs of a body of which nothing acts: it is a thing that is moved about",
    "a body that stands still as well; see frozen-hold",
    "an ear that rests while the other one flicks: what is like it has to move for half of the shot",
    "a pose that step keys hold, where what goes on is not on twos or threes itself",
  ],
  limits: ["Legs are not judged, and of fingers nothing is asked."],
  sources: ["Common practice: a moving hold, in which no part of a living thing stops altogether"],
  since: "0.1.0",
  settings,
  // A hand that is still while its forearm sweeps.
  yieldsTo: ["still-wrist"],
  styles: {
    limited: { off: true, why: "A held drawing is the style: what does not act stays as it was drawn." },
    twos: { off: true, why: "A part that is held is one drawing, and has no moving hold." },
  },
  find(study, index, values) {
    if (gridOf(study).count < 2 || figuresOf(study)[index].nodes.length < 2) return [];
    const meanwhile = trunkMeanwhile(study, index, values);
    const leftOut = leftOutParts(study, index, meanwhile, values);
    return [
      ...frozenLimbs(study, index, meanwhile, directly, values),
      ...frozenTrunks(study, index, directly, values),
      ...leftOut,
      ...leftOutFellows(study, index, values).filter(({ node }) => leftOut.every((one) => one.node !== node)),
    ];
  },
  word(finding, words) {
    const { kind, before, carried, travelled, lag, turn } = finding.numbers;
    const trunk = words.name(finding.numbers.trunk);
    const carrier = words.name(finding.numbers.carrier);
    const late = `${words.frames(lag)} behind ${trunk}`;
    const goesOn = `${trunk} turns ${words.angle(carried)} and goes ${words.length(travelled)}`;
    const when = words.counted(finding.from, finding.to);
    if (kind === "left out") {
      return {
        message: `${words.part} turns by ${words.angle(turn)} at most against ${carrier} in all of ${when}, while ${goesOn}`,
        suggestion: `let ${words.part} answer what ${carrier} does, ${late}`,
      };
    }
    if (kind === "unlike") {
      return {
        message: `${words.part} turns by ${words.angle(turn)} at most in all of ${when}, while ${trunk}, which is like it, turns by ${words.angle(carried)}`,
        suggestion: `let ${words.part} act as ${trunk} does, but not in the same frames`,
      };
    }
    if (kind === "trunk") {
      // In the water the root alone is told.
      const isAlone = finding.numbers.trunk === finding.node;
      const upTo = isAlone ? "" : `, with all up to ${trunk},`;
      const after = isAlone ? "" : `, and ${trunk} ${words.frames(lag)} behind it`;
      return {
        message: `${words.part}${upTo} stands dead still in ${when}, straight out of a move, while ${carrier} moves on`,
        suggestion: `let ${words.part} drift on through it${after}`,
      };
    }
    return {
      message: `${words.part} freezes at frame ${words.frame(finding.from)} out of ${words.angularSpeed(before)} and keeps its pose for ${when}, while ${goesOn}`,
      suggestion: `let ${words.part} drift on through it, ${late}`,
    };
  },
});
