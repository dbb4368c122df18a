/** Tiers from the heaviest down. `broken`: the document contradicts itself, nothing can be computed there. */
export const tiers = ["broken", "major", "minor", "polish"] as const;
export type Tier = (typeof tiers)[number];
