/** Tiers from the heaviest down. `broken`: the document contradicts itself, nothing can be computed there. */
export const tiers = ["broken", "major", "minor", "polish"] as const;
/** One of {@link tiers}. */
export type Tier = (typeof tiers)[number];

/** A tier that can be chosen; `broken` is kept for documents that contradict themselves. */
export type ChosenTier = Exclude<Tier, "broken">;
export const chosenTiers: readonly ChosenTier[] = tiers.filter((tier) => tier !== "broken");
