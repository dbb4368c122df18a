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

/** Every family of the bench. @type {readonly Family[]} */
export const allFamilies = [...twoLegFamilies, ...otherFamilies];

/**
 * Plans of shots, drawn from families by their weight. Each shot has a stream of its own, so that the n-th plan of a seed
 * does not depend on how many are asked for. Nothing is performed until it is asked for, and then once; a plan keeps what it
 * made (and `build` its keying) as long as it is kept itself.
 * @param {string} seed
 * @param {number} count
 * @param {readonly Family[]} [families] all that the bench has, if left out
 * @returns {ShotPlan[]}
 */
export function plansFor(seed, count, families = allFamilies) {
  return Array.from({ length: count }, (_, n) => planOf(`${seed}/${n}`, n, families));
}

/** @param {string} seed @param {number} n @param {readonly Family[]} families @returns {ShotPlan} */
function planOf(seed, n, families) {
  const random = randomOf(seed);
  const family = drawn(families, random.fork("family"));
  const frames = random.fork("frames").integer(80, 400);
  /** @type {Performance | undefined} */
  let made;
  const perform = () => {
    made ??= family.make(randomOf(`${seed}/motion`), frames);
    return copy(made);
  };
  /** @type {Dressing | undefined} */
  let dressing;
  const name = `${family.name.replaceAll(" ", "-")}_${String(10 * (n + 1)).padStart(4, "0")}`;
  return {
    name,
    seed,
    perform,
    style: styleOf(random.fork("style")),
    get dressing() {
      dressing ??= dressingFor(perform(), random.fork("dressing"));
      return dressing;
    },
    body: family.name,
  };
}

/** @param {readonly Family[]} families @param {Random} random */
function drawn(families, random) {
  let left = random.next() * families.reduce((sum, { weight }) => sum + weight, 0);
  for (const family of families) {
    left -= family.weight;
    if (left < 0) return family;
  }
  return families[families.length - 1];
}

/** Three in five splined, one blocked, one dense. @param {Random} random @returns {KeyingStyle} */
function styleOf(random) {
  const draw = random.next();
  if (draw < 0.6) {
    const interpolation = random.chance(0.7) ? "bezier" : "smooth";
    return { stage: "splined", spacing: random.integer(3, 14), interpolation, offset: random.integer(0, 3) };
  }
  if (draw < 0.8)
    return { stage: "blocked", spacing: random.integer(6, 16), interpolation: "step", offset: 0 };
  return { stage: "dense", spacing: 1, interpolation: "linear", offset: 0 };
}
