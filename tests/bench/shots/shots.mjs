// @ts-check
/**
 * The shots of a seed, by their index: planned, and planted with faults.
 * @import { ShotPlan } from "./types.d.ts"
 * @import { PlantedShot } from "./planting/planting.d.ts"
 * @import { Stage } from "./scores/records.d.ts"
 */
import { build } from "./build.mjs";
import { faultKinds } from "./faults/index.mjs";
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

/** @param {string} seed @param {number} index @returns {PlantedShot} */
export function plantedShot(seed, index) {
  const plan = planAt(seed, index);
  const kinds = kindsInTurn(faultKinds, randomOf(`${seed}/kinds`), index);
  return plant(plan, kinds, build, randomOf(`${plan.seed}/faults`));
}
