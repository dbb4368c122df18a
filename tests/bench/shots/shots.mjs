// @ts-check
/**
 * The shots of a seed, by their index: planned, and planted with faults.
 * @import { FaultKind, ShotPlan } from "./types.d.ts"
 * @import { PlantedShot } from "./planting/planting.d.ts"
 * @import { Stage } from "./scores/records.d.ts"
 */
import { build } from "./build.mjs";
import { faultKinds } from "./faults/index.mjs";
import { stagingFaults } from "./faults/staging.mjs";
import { plansFor } from "./plans.mjs";
import { kindsInTurn } from "./planting/choose.mjs";
import { plant } from "./planting/plant.mjs";
import { posesOf } from "./poses.mjs";
import { randomOf } from "./random.mjs";
import { ours, undressed } from "./scores/undress.mjs";

/** @type {Stage} */
export const stage = { posesOf, ours, undressed };

/** @param {string} seed @param {number} index @returns {ShotPlan} */
export const planAt = (seed, index) => plansFor(seed, index + 1)[index];

/** Faults of the picture that come first in a shot with a camera: without one they have no place, so few shots have them. */
const stagedFirst = 3;

/**
 * The kinds of a shot in the order in which they are tried: of a deck that is the same whether there is a camera or not, behind
 * some of the picture where there is one.
 * @param {ShotPlan} plan @param {string} seed @param {number} index @returns {FaultKind[]}
 */
function kindsFor(plan, seed, index) {
  const others = faultKinds.filter((kind) => !stagingFaults.includes(kind));
  const usual = kindsInTurn(others, randomOf(`${seed}/kinds`), index);
  if (plan.perform().view === undefined) return usual;
  const own = randomOf(`${plan.seed}/kinds of the picture`).shuffled(stagingFaults);
  return [...own.slice(0, stagedFirst), ...usual, ...own.slice(stagedFirst)];
}

/** @param {string} seed @param {number} index @returns {PlantedShot} */
export function plantedShot(seed, index) {
  const plan = planAt(seed, index);
  return plant(plan, kindsFor(plan, seed, index), build, randomOf(`${plan.seed}/faults`));
}
