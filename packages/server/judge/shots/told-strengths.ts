import {
  figureOfNode,
  figuresOf,
  gridOf,
  type ReportedNote,
  type ReportedStrength,
  rigOf,
  type Study,
  strengthsOf,
} from "@keyside/core";
import { groupsOf } from "./headings.ts";

/**
 * What holds in a shot, as it is reported. Where the document itself is broken at a node, nothing is said of its figure on
 * these frames: nothing could be judged there.
 * @param broken notes on the document
 */
export function toldStrengths(
  study: Study,
  broken: readonly Omit<ReportedNote, "part">[],
): ReportedStrength[] {
  const partOf = groupsOf(study);
  const { frames, count } = gridOf(study);
  const whole = [frames[0], frames[count - 1]] as const;
  const spoiled = broken.filter(({ tier }) => tier === "broken");
  const told = strengthsOf(study).filter(({ figure, node, seenAt, frames: [first, last] }) =>
    spoiled.every((note) => {
      if (note.node === null) return true;
      const [from, to] = note.frames ?? whole;
      const isOther = figureIdOf(study, note.node) !== figure && ![node, ...seenAt].includes(note.node);
      return isOther || to < first || from > last;
    }),
  );
  return told.map(({ kind, title, figure, node, frames: [from, to], message, measured, within, rank }) => ({
    kind,
    title,
    figure,
    node,
    part: partOf({ node, figure, tier: "polish" }),
    frames: [from, to],
    message,
    measured: { ...measured },
    within: { ...within },
    rank: { ...rank },
  }));
}

/** Id of the figure of a node; null where it belongs to none. */
function figureIdOf(study: Study, id: string): string | null {
  const node = rigOf(study).indexOf.get(id);
  return node === undefined ? null : (figuresOf(study)[figureOfNode(study, node)]?.id ?? null);
}
