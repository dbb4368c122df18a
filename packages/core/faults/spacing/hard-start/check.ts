import { defineCheck } from "../../check.ts";
import { hardEndSettings, hardEnds } from "../shared/hard-ends.ts";

/** A part is at speed at once. */
export const hardStart = defineCheck({
  name: "hard-start",
  title: "Hard start",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "A part is at full speed on the first frame on which it moves.",
  why: "What has weight gathers speed over several frames; a part that is at speed at once looks thrown by an unseen hand, not moved by muscle.",
  computes:
    "Travel and turning in the world, pose by pose, and its own turn against its parent. For limbs, neck and head, and the trunk also their travel against the node above their first joint. For a tail behind a trunk that swings with it, also against what carries the trunk. At rest is what is slower than a tenth of the peak of its move, or than the floor. It has to be so for two frames, for three where the move sets out at less than half of its peak. For one where it sets out at more than half of it, and the part has come there with an ease: it turns round there. Then the change of velocity has to be six times what is usual of the part in the whole shot, as for a pop. For every move that starts from rest: the frames from 10 % of the peak of its first part to 80 % of it. A minimum-jerk move of the same travel and peak speed takes 0.251 of its length for that, and its length is 1.875 · travel / peak. No more than the longest ease is asked for. The same is measured from 10 % to 50 %, for which such a move takes 0.143 of its length. Where that takes more than a step it is 0.121, as of smooth keys, whose speed is a parabola. A start is hard where the sharper of the two takes less than 0.4 of that; its frames are told. Between poses the speed counts as changing evenly. A part may be under a tenth of its first pace for two frames, and keep that pace at less than half of the move's peak. Its start is judged by the pace kept. It is the greater of the first two steps, walked from the rest, that are alike within a factor of 1.25. What is 1.25 times as fast is no part of that start. The note begins with the last frame before which the part is slower than 10 % of the peak. It ends with the first one that it leaves at 80 % (50 %) of it.",
  fix: "Start earlier, or spread the first frames, by what the note names; a small move the other way first (anticipation) explains a fast start.",
  notAFault: [
    "a change against what carries the part of which the world shows less than half, or beside which its limb stands on something",
    "a part that is near its place of rest again within three poses: a pop",
    "a contact of the part's limb that begins or ends there (it is released), but none of hips, spine or chest, which rise out of a seat",
    "the foot of a body whose root it is, as of a lamp on one leg, as it leaves the ground",
    "an impact of the whole body: it is struck",
    "an arm whose hand catches a thing that flies: the thing sets it going",
    "a freeze by a step key that ends",
    "the start of the range",
  ],
  limits: [
    "Where a recording, or a bake, has keys on every frame a hard start in a turn-round is minor: people who strike start so too.",
    "A part that something strikes which the document does not declare as a contact is noted.",
  ],
  sources: ["Flash & Hogan 1985: minimum-jerk movements (peak speed 1.875 times the mean)"],
  since: "0.1.0",
  settings: hardEndSettings,
  yieldsTo: ["even-spacing", "hitch", "rotation-flip"],
  isEndOfMove: true,
  followsCause: true,
  styles: {
    snappy: { off: true, why: "Poses are left at once: that is the punch of the style." },
    limited: { times: { share: 0.5 }, why: "Few drawings leave an ease one or two of them." },
    twos: { times: { share: 0.5 }, why: "Half as many poses carry each ease." },
  },
  find: (study, node, values) => hardEnds(study, node, values, 1),
  word({ from, to, numbers }, words) {
    const { speed, takes, eased, frames, turns, carrier } = numbers;
    const against = carrier < 0 ? "" : ` against ${words.name(carrier)}`;
    const early = Math.max(1, Math.ceil(eased - takes));
    const moves = turns === 1 ? "turns at" : "is at";
    const pace = turns === 1 ? words.angularSpeed(speed) : words.speed(speed);
    return {
      message: `${words.part} ${moves} ${pace}${against} within ${words.frames(Math.max(1, Math.round(frames)))} of rest at frame ${words.frame(from)}; an eased start to there takes ${words.frames(Math.max(1, Math.round((eased * frames) / takes)))}`,
      suggestion: `start ${words.frames(early)} earlier, at frame ${words.frame(from - early)}, and ease in until frame ${words.frame(to)}; or anticipate with a small move the other way`,
    };
  },
});
