// @ts-check
/**
 * From a seed to a list of shots: who is in them, how long they are, how they are keyed and dressed.
 * @import { Dressing, Family, KeyingStyle, Performance, Random, ShotPlan } from "./types.d.ts"
 */
import { dressingFor } from "./dressing/index.mjs";
import { otherFamilies } from "./families/others/index.mjs";
import { twoLegFamilies } from "./families/two-legs/index.mjs";
import { copy } from "./motion/performance.mjs";
import { randomOf } from "./random.mjs";
import { staged } from "./staging/index.mjs";

/** Every family of the bench. @type {readonly Family[]} */
export const allFamilies = [...twoLegFamilies, ...otherFamilies];

/**
 * Plans of shots. Families come by their weight and stages of keying by their share, evenly spread over the list, so that few
 * shots hold much of each; everything else is drawn. Each shot has a stream of its own, so that the n-th plan of a seed
 * does not depend on how many are asked for. Nothing is performed until it is asked for, and then once; a plan keeps what it
 * made (and `build` its keying) as long as it is kept itself.
 * @param {string} seed
 * @param {number} count
 * @param {readonly Family[]} [families] all that the bench has, if left out
 * @returns {ShotPlan[]}
 */
export function plansFor(seed, count, families = allFamilies) {
  return Array.from({ length: count }, (_, n) => planOf(seed, n, families));
}

/** @param {string} whole seed of the list @param {number} n @param {readonly Family[]} families @returns {ShotPlan} */
function planOf(whole, n, families) {
  const seed = `${whole}/${n}`;
  const random = randomOf(seed);
  const family = familyAt(families, whole, n);
  const frames = random.fork("frames").integer(80, 400);
  const style = styleOf(stageAt(whole, n), random.fork("style"));
  /** @type {Performance | undefined} */
  let made;
  const perform = () => {
    made ??= staged(
      family.make(randomOf(`${seed}/motion`), frames),
      randomOf(`${seed}/view`),
      style.stage !== "blocked",
    );
    return copy(made);
  };
  /** @type {Dressing | undefined} */
  let dressing;
  const name = `${family.name.replaceAll(" ", "-")}_${String(10 * (n + 1)).padStart(4, "0")}`;
  return {
    name,
    seed,
    perform,
    style,
    get dressing() {
      dressing ??= dressingFor(perform(), random.fork("dressing"));
      return dressing;
    },
    body: family.name,
  };
}

/** The family of the n-th shot: steps of the golden ratio around all weights, from a start that is drawn.
 * @param {readonly Family[]} families @param {string} whole @param {number} n */
function familyAt(families, whole, n) {
  const golden = (Math.sqrt(5) - 1) / 2;
  const share = (randomOf(`${whole}/families`).next() + n * golden) % 1;
  let left = share * families.reduce((sum, { weight }) => sum + weight, 0);
  for (const family of families) {
    left -= family.weight;
    if (left < 0) return family;
  }
  return families[families.length - 1];
}

/** Of each ten shots six are splined, two blocked and two dense, in an order that is drawn.
 * @param {string} whole @param {number} n @returns {KeyingStyle["stage"]} */
function stageAt(whole, n) {
  const ten = /** @type {const} */ ([...Array(6).fill("splined"), "blocked", "blocked", "dense", "dense"]);
  return randomOf(`${whole}/stages/${Math.floor(n / 10)}`).shuffled(ten)[n % 10];
}

/** @param {KeyingStyle["stage"]} stage @param {Random} random @returns {KeyingStyle} */
function styleOf(stage, random) {
  if (stage === "splined") {
    const interpolation = random.chance(0.7) ? "bezier" : "smooth";
    return { stage, spacing: random.integer(3, 14), interpolation, offset: random.integer(0, 3) };
  }
  if (stage === "blocked") return { stage, spacing: random.integer(6, 16), interpolation: "step", offset: 0 };
  return { stage, spacing: 1, interpolation: "linear", offset: 0 };
}
