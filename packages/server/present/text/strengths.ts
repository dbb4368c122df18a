import type { ReportedShot, ReportedStrength } from "@keyside/core";

/** What holds in a shot; nothing where it was not asked for. */
export function strengthsIn({ strengths }: Pick<ReportedShot, "strengths">): readonly ReportedStrength[] {
  return strengths ?? [];
}

/** What is said where nothing was found that could be told. */
export const noStrengths = "Nothing that could be measured stands out, or a major note speaks against it.";
