/**
 * Lengths of body segments as shares of stature. Drillis and Contini 1966, as printed in Winter, "Biomechanics and
 * Motor Control of Human Movement", figure 4.1 (values from memory).
 */
export const lengthShare = {
  upperArm: 0.186,
  forearm: 0.146,
  hand: 0.108,
  thigh: 0.245,
  shin: 0.246,
  foot: 0.152,
  footBreadth: 0.055,
  /** Sole to ankle joint. */
  ankleHeight: 0.039,
  /** Chin to top of the head. */
  head: 0.13,
  /** Top of the head to the seventh neck vertebra; de Leva 1996, 243 mm of 1738 mm (mean; from memory). */
  headAndNeck: 0.14,
} as const;
