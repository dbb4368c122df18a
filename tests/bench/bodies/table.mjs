// @ts-check
/**
 * The table of the suite as it stands on docs/bodies.md.
 * @import { Judged, Told } from "./judge.mjs"
 */

/** @param {Told | null} told */
const cell = (told) => {
  if (told === null) return "—";
  const { says, isSure, isRight } = told;
  return `${says}${isSure ? "" : " (guess)"}${isRight ? "" : ", **wrong**"}`;
};

/** All that is told of a skeleton. @param {Judged} one @returns {readonly Told[]} */
export const toldOf = ({ plan, limbs, unit, up }) => [plan, ...(limbs === null ? [] : [limbs]), unit, up];

/** @param {readonly Judged[]} all */
export function page(all) {
  const right = all.filter((one) => toldOf(one).every(({ isRight }) => isRight)).length;
  const told = all.flatMap(toldOf);
  const sureWrong = told.filter(({ isSure, isRight }) => isSure && !isRight).length;
  const share = (/** @type {number} */ part, /** @type {number} */ of) => (part / of).toFixed(2);
  return [
    `Of ${all.length} skeletons ${right} are known for what they are in all respects (${share(right, all.length)}). Of ${told.length} verdicts ${share(told.filter(({ isRight }) => isRight).length, told.length)} are right; ${sureWrong} ${sureWrong === 1 ? "is" : "are"} wrong and called sure.`,
    "",
    "| skeleton | build | limbs | 1 unit | up |",
    "| --- | --- | --- | --- | --- |",
    ...all.map(
      ({ what, plan, limbs, unit, up }) =>
        `| ${what} | ${cell(plan)} | ${cell(limbs)} | ${cell(unit)} | ${cell(up)} |`,
    ),
    "",
  ].join("\n");
}
