import type { ReportedShot } from "@keyside/core";

/** What many figures of a shot do alike, a sentence for each: "14 of 20 figures: contact-slide of left foot". */
export function alikeTexts({ alike = [] }: Pick<ReportedShot, "alike">): string[] {
  return alike.map(
    ({ check, part, figures, of }) => `${figures.length} of ${of} figures: ${check} of ${part}`,
  );
}
