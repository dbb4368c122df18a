import { defineCheck } from "../../check.ts";
import { hardEndSettings, hardEnds } from "../shared/hard-ends.ts";

/** A part is at speed at once. */
export const hardStart = defineCheck({
  name: "hard-start",
  title: "Hard start",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  what: "A part is at full speed on the first frame on which it moves.",
  why: "What has weight gathers speed over several frames; a part that is at speed at once looks thrown by an unseen hand, not moved by muscle.",
  computes:
    "Travel and turning in the world, pose by pose. For every move that starts from rest: the frames from 10 % of the peak of its first part to 80 % of it, against those of a minimum-jerk move of the same travel and peak speed (0.251 of its length 1.875 · travel / peak), of which no more than the longest ease is asked for; and likewise between 50 % and 10 % (0.143 of its length; where that takes more than a step 0.121, as of smooth keys, whose speed is a parabola), the sharper of the two. A start is hard under 0.4 of that. The note marks the frames from the last one before which the part is slower than 10 % of the peak to the first one that it leaves at 80 % (50 %) of it.",
  fix: "Start earlier, or spread the first frames, by what the note names; a small move the other way first (anticipation) explains a fast start.",
  notAFault: [
    "a contact of the part's limb that begins or ends there (it is released), or an impact of the whole body (it is struck)",
    "a freeze by a step key that ends",
    "the start of the range",
  ],
  limits: ["A part that something strikes which the document does not declare as a contact is noted."],
  sources: ["Flash & Hogan 1985: minimum-jerk movements (peak speed 1.875 times the mean)"],
  since: "0.1.0",
  settings: hardEndSettings,
  yieldsTo: ["even-spacing", "rotation-flip"],
  followsCause: true,
  styles: { snappy: false, twos: { share: 0.5 } },
  find: (study, node, values) => hardEnds(study, node, values, 1),
  word({ from, to, numbers }, words) {
    const { speed, takes, eased, turns } = numbers;
    const early = Math.max(1, Math.ceil(eased - takes));
    const moves = turns === 1 ? "turns at" : "is at";
    const pace = turns === 1 ? words.angularSpeed(speed) : words.speed(speed);
    return {
      message: `${words.part} ${moves} ${pace} within ${words.frames(Math.max(1, Math.round(takes)))} of rest at frame ${words.frame(from)}; an eased start of this move takes ${words.frames(Math.round(eased))}`,
      suggestion: `start ${words.frames(early)} earlier, at frame ${words.frame(from - early)}, and ease in until frame ${words.frame(to)}; or anticipate with a small move the other way`,
    };
  },
});
