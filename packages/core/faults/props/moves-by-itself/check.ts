import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { type Start, startsOf } from "./starts.ts";

/** With numbers in working units. */
export interface MovesByItselfFinding extends Finding {
  readonly start: Start;
  /** Frames by which the thing moves before it is touched. */
  readonly numbers: { readonly ahead: number };
}

const settings = {
  lead: {
    default: 2,
    unit: "frames",
    what: "by how many frames a thing may move before somebody is at it",
    source: "common practice: two frames either way read as together",
    min: 0,
  },
} as const;

/** A thing that moves before anything moves it. */
export const movesByItself = defineCheck({
  name: "moves-by-itself",
  title: "Moves by itself",
  family: "props",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  hangsOn: ["body", "unit"],
  what: "A thing that rests begins to move before the body that moves it is at it.",
  why: "What rests stays at rest until something pushes it. A door that opens ahead of the hand is pulled on a string, and the hand pushes nothing.",
  computes:
    "Looked at are things with shapes that do not hang on something that moves. A thing rests while no point of its outside moves by more than 0.001 body heights in a quarter of a second and more. It starts where it then moves on by 0.02 body heights. Its start has a cause where a body is at it, or was up to a quarter of a second before. A body is at it with flesh that is as near as a hand is thick, 0.016 body heights. So it has where another thing that moves is as near, or where a hand beside it goes along. What sinks by a twentieth of its way falls, rolls or swings down by itself. A thing that lies or hangs on something may go on when a body lets go of it. Where it gets faster by 18 % and more, it starts anew. Of all others the first frame is looked for at which a body is at it, or is to be by its contacts and holds. It has to come within a second, while the thing still moves. Told is by how many frames the thing is ahead.",
  fix: "Let the thing rest until the hand is there, or bring the hand there sooner.",
  notAFault: [
    "a thing that falls, rolls down or swings down",
    "a thing that another one pushes or carries, or that water carries",
    "a thing that a hand takes along by a handle which no shape shows",
    "a machine, a lift, a car: nobody comes to it while it moves",
    "poses in step keys",
  ],
  limits: [
    "A door that a motor opens for somebody who then holds it is told as well.",
    "A thing on a thread that is not in the shot is taken to be pulled by nothing.",
  ],
  sources: [
    "Newton's first law: what rests stays at rest, and what moves gets no faster, unless a force acts on it",
    "Scientific Reports 2017, 7:15379: a change of speed of 18 % is noticed by naive viewers (abstract)",
  ],
  since: "0.1.0",
  settings,
  notBefore: "splining",
  find(study, figure, values) {
    return startsOf(study).flatMap((start): MovesByItselfFinding[] => {
      const { thing, at, touched, way } = start;
      const ahead = touched - at;
      if (start.figure !== figure || !(ahead > values.lead)) return [];
      return [
        {
          node: thing,
          figure,
          from: at,
          to: Math.min(touched, gridOf(study).count - 1),
          measured: { quantity: "thing ahead of what moves it", value: ahead, unit: "frames" },
          expected: { max: values.lead, unit: "frames", source: settings.lead.source },
          excess: values.lead > 0 ? ahead / values.lead : 1 + ahead,
          size: way,
          start,
          numbers: { ahead },
          fault: { kind: "keys", keys: keysOfNodes(study, [thing], at, touched, 3) },
        },
      ];
    });
  },
  word({ start, numbers, from, to }, words) {
    const ahead = words.frames(numbers.ahead);
    if (start.isLeft) {
      return {
        message: `${words.part} gets faster by itself from frame ${words.frame(from)} on, ${ahead} before anybody is at it again at frame ${words.frame(to)}`,
        suggestion: `let it slow down where the hand leaves it, or keep the hand on it for these ${ahead}`,
      };
    }
    return {
      message: `${words.part} moves by itself from frame ${words.frame(from)} on, ${ahead} before anybody is at it at frame ${words.frame(to)}`,
      suggestion: `let it rest ${ahead} longer, or bring the hand to it ${ahead} sooner`,
    };
  },
});
