import { defineCheck } from "../../check.ts";
import { freezeSettings, freezesOf, frozenParts } from "../shared/freezes.ts";

const settings = {
  ...freezeSettings,
  shortest: {
    default: 5,
    unit: "frames",
    what: "shortest freeze that is noted",
    source:
      "common practice: on twos a pose is held two frames, so that a hold of up to four frames reads as timing, not as a stop",
    min: 1,
  },
} as const;

/** Everything that was moving stops dead and stays. */
export const frozenHold = defineCheck({
  name: "frozen-hold",
  title: "Frozen hold",
  family: "spacing",
  scope: "figure",
  ceiling: "major",
  notBefore: "splining",
  what: "Every part of a figure stops dead, out of a move or out of a moving hold, stays still, and moves again.",
  why: "Something alive never stops altogether; a figure without the least movement turns into a picture, and the eye sees it die.",
  computes:
    "For every frame the largest travel of any node of the figure. A freeze is 5 frames or more in which it stays under the floor, and after which something moves again. In one of the 6 frames before it a part travelled at least twice as much. Props that are declared do not count as parts.",
  fix: "Let the body drift on through the hold by a centimetre or so, and let the parts arrive one after the other.",
  notAFault: [
    "the start of the shot; its end, of which frozen-end tells",
    "a freeze by step keys",
    "a hold in which any part still moves (a moving hold)",
  ],
  limits: [
    "What the picture shows besides the figure's nodes (cloth, hair of another document) is not seen.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "A held drawing is the style: what does not act stays as it was drawn." },
    twos: { off: true, why: "A drawing that is held is one drawing, and has no moving hold." },
  },
  find: (study, index, { still, motion, shortest }) =>
    freezesOf(study, index, { still, motion, shortest, source: settings.shortest.source, atEnd: false }),
  word: (finding, words) => ({
    message: frozenParts(finding, words),
    suggestion: `let ${words.part} drift on by ${words.length(finding.numbers.drift)} over ${words.span(finding.from, finding.to)}, the others by less, one to three frames later`,
  }),
});
