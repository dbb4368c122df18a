import { isAlive } from "./alive.ts";
import { keepsElsewhere, keepsOthers } from "./elsewhere.ts";
import { keepsGrips } from "./grips.ts";
import { softensJolt } from "./jolt.ts";
import type { Law, Made } from "./law.ts";
import { meetsItsLaw } from "./physics.ts";
import { keepsRolls } from "./rolls.ts";
import { keepsShape } from "./shape.ts";
import { isOnlyShifted } from "./shifted.ts";
import { keepsSoles } from "./soles.ts";
import { keepsStances } from "./stances.ts";

/** What nothing that is offered may do to the motion, in the order in which it costs to find out. */
const always: readonly Law[] = [
  keepsOthers,
  softensJolt,
  isAlive,
  keepsStances,
  keepsSoles,
  keepsRolls,
  keepsGrips,
  meetsItsLaw,
];
/** What a fix may not do, and a sketch may: it changes the acting. */
const ofFixes: readonly Law[] = [keepsElsewhere, keepsShape];

/** What is said against a change of keys. */
export interface Objection {
  /** What it would do, as a clause. */
  readonly reason: string;
  /** Whether it may still be offered as a sketch: what stands and what is held stays, but other motion changes. */
  readonly allowsSketch: boolean;
}

/** The first of the laws that a change breaks; null where it keeps to all of them. */
export function objectionTo(made: Made): Objection | null {
  for (const law of always) {
    const reason = law(made);
    if (reason !== null) return { reason, allowsSketch: false };
  }
  // A part that is only set off in time shows no other poses than it showed.
  if (isOnlyShifted(made)) return null;
  for (const law of ofFixes) {
    const reason = law(made);
    if (reason !== null) return { reason, allowsSketch: true };
  }
  return null;
}
