// @ts-check
/**
 * How long and how heavy the parts of people are.
 *
 * Lengths of grown people as shares of the stature: Drillis & Contini 1966 in Winter's figure 4.1; hand, foot and
 * head from memory. Masses: de Leva 1996, table 4; his three parts of the trunk from memory (they add up to his trunk).
 * Children: upper to lower segment 1.2 at five and 1.0 at ten years (a hospital's page and a handbook), head a quarter
 * of the length at birth; statures, masses and the rest of the course over age from memory.
 */

/** Shares of the stature of a grown person. */
const grown = {
  upperArm: 0.186,
  forearm: 0.146,
  hand: 0.108,
  foot: 0.152,
  ankle: 0.039,
  hip: 0.53,
  shoulder: 0.818,
  head: 0.13,
  shoulderWidth: 0.259,
  hipWidth: 0.191,
};

/** @typedef {typeof grown} Proportions */

/** Age in years: height of the hip, height of the head, share of the mass in the head, stature, mass. */
const byAge = [
  [3, 0.44, 0.19, 0.18, 0.95, 14.5],
  [5, 0.47, 0.175, 0.155, 1.09, 18.5],
  [7, 0.49, 0.165, 0.13, 1.22, 23],
  [10, 0.515, 0.15, 0.1, 1.38, 32],
  [14, 0.527, 0.137, 0.08, 1.62, 51],
  [18, 0.53, 0.13, 0.0694, 1.75, 72],
];

/** @param {number} age @returns {{ hip: number, head: number, headMass: number, stature: number, mass: number }} */
export function atAge(age) {
  let n = 1;
  while (n < byAge.length - 1 && byAge[n][0] < age) n++;
  const [a, b] = [byAge[n - 1], byAge[n]];
  const share = Math.min(1, Math.max(0, (age - a[0]) / (b[0] - a[0])));
  const [hip, head, headMass, stature, mass] = a
    .slice(1)
    .map((value, i) => value + (b[i + 1] - value) * share);
  return { hip, head, headMass, stature, mass };
}

/**
 * Proportions of a grown person, of a child by age, or of a stylised figure with a head of the given share.
 * @param {{ age?: number | undefined, head?: number | undefined, hip?: number | undefined }} [how] @returns {Proportions}
 */
export function proportionsOf({ age, head, hip } = {}) {
  const child = age === undefined ? { hip: grown.hip, head: grown.head } : atAge(age);
  const headHeight = head ?? child.head;
  const hipHeight = hip ?? child.hip;
  // What the head takes, the neck and the arms give: a stylised figure's hands must still pass its hips.
  const shoulder = 1 - headHeight - 0.052 * (grown.head / headHeight);
  const arms = Math.min(1, (shoulder - hipHeight) / (grown.shoulder - grown.hip));
  return {
    ...grown,
    head: headHeight,
    hip: hipHeight,
    shoulder,
    upperArm: grown.upperArm * (0.35 + 0.65 * arms),
    forearm: grown.forearm * (0.35 + 0.65 * arms),
    ankle: grown.ankle,
  };
}

/** Shares of the mass, in per cent, men and women: de Leva 1996. Limbs: one side. */
const deLeva = {
  man: {
    head: 6.94,
    lower: 11.17,
    middle: 16.33,
    upper: 15.96,
    upperArm: 2.71,
    forearm: 1.62,
    hand: 0.61,
    thigh: 14.16,
    shank: 4.33,
    foot: 1.37,
  },
  woman: {
    head: 6.68,
    lower: 12.47,
    middle: 14.65,
    upper: 15.45,
    upperArm: 2.55,
    forearm: 1.38,
    hand: 0.56,
    thigh: 14.78,
    shank: 4.81,
    foot: 1.29,
  },
};

/** Where the mass lies from the upper end, as a share of the part's length: de Leva 1996. */
export const massAlong = {
  man: { upperArm: 0.5772, forearm: 0.4574, hand: 0.3624, thigh: 0.4095, shank: 0.4395 },
  woman: { upperArm: 0.5754, forearm: 0.4559, hand: 0.3427, thigh: 0.3612, shank: 0.4352 },
};

/**
 * Shares of the mass that add up to 1 with both sides counted.
 * @param {"man" | "woman"} sex
 * @param {number} [headMass] the head's share, where it is not a grown person's
 * @returns {typeof deLeva.man}
 */
export function massShares(sex, headMass) {
  const table = deLeva[sex];
  const head = headMass ?? table.head / 100;
  const both = table.upperArm + table.forearm + table.hand + table.thigh + table.shank + table.foot;
  const rest = table.lower + table.middle + table.upper + 2 * both;
  const scale = (1 - head) / rest;
  const shares = Object.fromEntries(Object.entries(table).map(([part, value]) => [part, value * scale]));
  return /** @type {typeof deLeva.man} */ ({ ...shares, head });
}
