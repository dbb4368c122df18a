/**
 * Masses (share of the body) and centres of mass (share of the way from the first-named endpoint) of body segments:
 * de Leva 1996, "Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters", J. Biomech. 29(9), table 4; the
 * mean of its male and female columns. No other table is mixed in.
 */
export const deLeva = {
  /** Head with neck; vertex to cervicale. */
  head: { mass: mean(0.0694, 0.0668), along: mean(0.5002, 0.4841) },
  /** Mid-shoulder to mid-hip. */
  trunk: { mass: mean(0.4346, 0.4257), along: mean(0.431, 0.3782) },
  /** Shoulder to elbow. */
  upperArm: { mass: mean(0.0271, 0.0255), along: mean(0.5772, 0.5754) },
  /** Elbow to wrist. */
  forearm: { mass: mean(0.0162, 0.0138), along: mean(0.4574, 0.4559) },
  /** Wrist to the tip of the third finger. */
  hand: { mass: mean(0.0061, 0.0056), along: mean(0.3624, 0.3427) },
  /** Hip to knee. */
  thigh: { mass: mean(0.1416, 0.1478), along: mean(0.4095, 0.3612) },
  /** Knee to ankle joint. */
  shin: { mass: mean(0.0433, 0.0481), along: mean(0.4395, 0.4352) },
  /** Heel to tip of the toes. */
  foot: { mass: mean(0.0137, 0.0129), along: mean(0.4415, 0.4014) },
} as const;

function mean(male: number, female: number): number {
  return (male + female) / 2;
}
