import { defineCheck } from "../../check.ts";
import { freezeSettings, freezesOf, frozenParts } from "../shared/freezes.ts";

const settings = {
  ...freezeSettings,
  shortest: {
    default: 6,
    unit: "frames",
    what: "shortest freeze that is noted at the end of the shot",
    source:
      "common practice: a quarter of a second, as long as an ease; what is cut sooner than that behind its last move does not stand yet",
    min: 1,
  },
} as const;

/** The shot ends in a freeze. */
export const frozenEnd = defineCheck({
  name: "frozen-end",
  title: "Frozen end",
  family: "spacing",
  scope: "figure",
  ceiling: "major",
  notBefore: "splining",
  what: "Every part of a figure stops dead before the shot ends, and nothing moves any more.",
  why: "The last pose is what a viewer takes along. A figure that is dead in it before the cut looks as if the work had stopped there.",
  computes:
    "For every frame the largest travel of any node of the figure. The end is frozen if it stays under the floor over the last 6 frames or more. In one of the 6 frames before that a part travelled at least twice as much. Props that are declared do not count as parts.",
  fix: "Let the last pose drift on to the cut by a centimetre or so, a breath or a settle; or cut earlier.",
  notAFault: [
    "a shot that ends within 6 frames of its last move",
    "an end that step keys hold",
    "an end in which any part still moves (a moving hold)",
    "a figure that never moves",
  ],
  limits: [
    "What the picture shows besides the figure's nodes (cloth, hair of another document) is not seen.",
    "Frames that are kept behind the cut, for whoever edits the film, are judged like the others: give the shot the range that is seen.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "A shot may end on a held drawing." },
    twos: { off: true, why: "A drawing that is held is one drawing, and has no moving hold." },
  },
  find: (study, index, { still, motion, shortest }) =>
    freezesOf(study, index, { still, motion, shortest, source: settings.shortest.source, atEnd: true }),
  word: (finding, words) => ({
    message: `${frozenParts(finding, words)}, to the end of the shot`,
    suggestion: `let ${words.part} drift on by ${words.length(finding.numbers.drift)} over ${words.span(finding.from, finding.to)}, the others by less, one to three frames later; or end the shot by frame ${words.frame(finding.from + finding.numbers.shortest - 1)}`,
  }),
});
