// @ts-check
/**
 * From a plan and faults to a shot as a document.
 * @import { BuiltShot, PlannedFault, ShotPlan, Performance } from "./types.d.ts"
 * @import { Keying } from "./keying/index.mjs"
 */
import { writeDocument } from "@keyside/core";
import { documentOf, namesOf } from "./dressing/document.mjs";
import { keyed, keyedAfter } from "./keying/index.mjs";
import { copy } from "./motion/performance.mjs";
import { posesOf } from "./poses.mjs";
import { randomOf } from "./random.mjs";

/** The clean performance and its keying, kept as long as the plan is. @type {WeakMap<ShotPlan, { performance: Performance, keying: Keying }>} */
const cleans = new WeakMap();

/** @param {ShotPlan} plan */
function cleanOf(plan) {
  const before = cleans.get(plan);
  if (before !== undefined) return before;
  const performance = plan.perform();
  const random = randomOf(`${plan.seed}/keys`);
  const keying = keyed(performance, plan.style, random, { unit: plan.dressing.metresPerUnit });
  const clean = { performance, keying };
  cleans.set(plan, clean);
  return clean;
}

/**
 * Builds a shot: the performance with its faults of motion, keyed, with its faults of keys, as a document. Without faults it
 * is the clean twin. The same plan and faults give the same text; a fault changes the curves that it touches and no other,
 * and leaving one out leaves the others as they are, unless they touch the same.
 * @param {ShotPlan} plan
 * @param {readonly PlannedFault[]} [faults] faults of motion are put in first, each kind in the order of the list
 * @returns {BuiltShot} its document and text are made when they are first asked for, from the keys as they are then
 */
export function build(plan, faults = []) {
  const clean = cleanOf(plan);
  const performance = copy(clean.performance);
  for (const { kind, strength, place, seed } of faults) {
    if (kind.layer !== "motion") continue;
    if (kind.perform === undefined)
      throw new Error(`The fault "${kind.name}" is one of motion and has no perform().`);
    kind.perform(performance, place, kind.sizes[strength].value, randomOf(seed));
  }
  const { shot } = keyedAfter(performance, clean.keying);
  for (const { kind, strength, place, seed } of faults) {
    if (kind.layer !== "keys") continue;
    if (kind.edit === undefined)
      throw new Error(`The fault "${kind.name}" is one of keys and has no edit().`);
    kind.edit(shot, place, kind.sizes[strength].value, randomOf(seed));
  }
  const nodeOf = namesOf(shot, plan.dressing);
  /** @type {Record<string, unknown> | undefined} */
  let document;
  /** @type {string | undefined} */
  let text;
  return {
    keyed: shot,
    poses: posesOf(shot),
    nodeOf,
    jointOf: new Map([...nodeOf].map(([id, node]) => [node, id])),
    get document() {
      document ??= documentOf(shot, plan.dressing, plan.name, clean.performance);
      return document;
    },
    get text() {
      text ??= writeDocument(/** @type {any} */ (this.document));
      return text;
    },
  };
}
