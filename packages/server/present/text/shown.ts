import { type Tier, tiers } from "@keyside/core";

/** Whether notes of a tier are shown where `lightest` is the lightest that is. */
export function isShown(tier: Tier, lightest: Tier): boolean {
  return tiers.indexOf(tier) <= tiers.indexOf(lightest);
}
