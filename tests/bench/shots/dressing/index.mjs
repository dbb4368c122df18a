// @ts-check
/**
 * How a shot is dressed as a document.
 * @import { Dressing, Performance, Random } from "../types.d.ts"
 */
import { drawHabit, namesOf } from "./names.mjs";

/** Lengths of a unit in metres: metre, centimetre, decimetre, inch, and one that is nobody's. */
const units = [1, 0.01, 0.01, 0.01, 0.1, 0.0254];
const oddUnit = 0.0375;

/**
 * Draws a dressing. A unit is left undeclared only where a reader of the document can tell it: metres or centimetres, and
 * grown people.
 * @param {Performance} performance the clean one: names are made from its joints
 * @param {Random} random
 * @returns {Dressing & { habit: string }} `habit` says how joints are named, for reports
 */
export function dressingFor(performance, random) {
  const metresPerUnit = random.chance(0.1) ? oddUnit : random.pick(units);
  const isGrown = performance.figures.every(
    ({ body }) => body.plan === "two legs" && body.stature >= 1.5 && body.stature <= 2,
  );
  const { name, habit } = drawHabit(random.fork("names"));
  const names = namesOf(performance, habit);
  const isTold = isGrown && (metresPerUnit === 1 || metresPerUnit === 0.01);
  return {
    habit: name,
    metresPerUnit,
    declaresUnit: !(isTold && random.chance(0.4)),
    up: random.chance(0.3) ? "z" : "y",
    turnsRoots: random.chance(0.5),
    rename: (joint) => names.get(joint) ?? joint,
    declaresFigures: random.chance(0.5),
    declaresGround: random.chance(0.4),
    declaresContacts: random.chance(0.2),
    declaresProps: random.fork("props").chance(0.6),
  };
}
