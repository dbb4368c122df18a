import { defineCheck } from "../../check.ts";
import { hardEndSettings, hardEnds } from "../shared/hard-ends.ts";

/** A part comes to rest too soon for the speed it had. */
export const hardStop = defineCheck({
  name: "hard-stop",
  title: "Hard stop",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "A part comes to rest too soon for the speed it had.",
  why: "What has weight needs time to slow down. A part that is at full speed on one frame and still on the next looks weightless, or as if it had hit a wall that is not there.",
  computes:
    "Travel and turning in the world, pose by pose, and its own turn against its parent. For limbs, neck and head, and the trunk also their travel against the node above their first joint. For a tail behind a trunk that swings with it, also against what carries the trunk. For what carries the whole body also its travel over the ground, without its height. At rest is what is slower than a tenth of the peak of its move, or than the floor. It has to be so for two frames, for three where the move has slowed to half of its peak before. For one where the part is cut off at more than half of it, and sets out again with an ease: it turns round there. Then the change of velocity has to be six times what is usual of the part in the whole shot, as for a pop. For every move that ends at rest: the frames from 80 % of the peak of its last part to under 10 % of it. A minimum-jerk move of the same travel and peak speed takes 0.251 of its length for that, and its length is 1.875 · travel / peak. No more than the longest ease is asked for. The same is measured from 50 % to 10 %, for which such a move takes 0.143 of its length. Where that takes more than a step it is 0.121, as of smooth keys, whose speed is a parabola. A stop is hard where the sharper of the two takes less than 0.4 of that; its frames are told. Between poses the speed counts as changing evenly. A part that comes from a faster move may keep less than half of its pace, and then be under a tenth of that for two frames. Its stop is judged from the pace kept. It is the greater of the first two steps, walked from the rest, that are alike within a factor of 1.25. What is 1.25 times as fast is no part of that end. The note begins with the last frame that is reached at 80 % (50 %) of the peak. It ends with the first one after which the part is slower than 10 % of it.",
  fix: "Move the arrival later, or begin to slow down earlier, by the frames that the note names; or let the part overshoot and settle.",
  notAFault: [
    "a change against what carries the part of which the world shows less than half, or beside which its limb stands on something",
    "a part that is near its place of rest again within three poses: a pop",
    "a contact of the part's limb that begins or ends there, but none of hips, spine or chest, which settle into a seat",
    "an impact of the whole body",
    "a freeze by a step key",
    "the end of the range",
  ],
  limits: [
    "Where a recording, or a bake, has keys on every frame a hard stop in a turn-round is minor: people who strike stop so too.",
    "A part that stops against something that the document does not declare as a contact is noted.",
  ],
  sources: ["Flash & Hogan 1985: minimum-jerk movements (peak speed 1.875 times the mean)"],
  since: "0.1.0",
  settings: hardEndSettings,
  yieldsTo: ["even-spacing", "frozen-end", "frozen-hold", "hitch", "rotation-flip"],
  isEndOfMove: true,
  followsCause: true,
  styles: {
    snappy: { off: true, why: "Poses are hit at once: that is the punch of the style." },
    limited: { times: { share: 0.5 }, why: "Few drawings leave an ease one or two of them." },
    twos: { times: { share: 0.5 }, why: "Half as many poses carry each ease." },
  },
  find: (study, node, values) => hardEnds(study, node, values, -1),
  word({ from, to, numbers }, words) {
    const { speed, takes, eased, frames, turns, carrier, level } = numbers;
    const against = level === 1 ? " over the ground" : carrier < 0 ? "" : ` against ${words.name(carrier)}`;
    const early = Math.max(1, Math.ceil(eased - takes));
    const stops = turns === 1 ? "stops turning" : "stops";
    const pace = turns === 1 ? words.angularSpeed(speed) : words.speed(speed);
    return {
      message: `${words.part} ${stops}${against} in ${words.frames(Math.max(1, Math.round(frames)))} from ${pace} at frame ${words.frame(to)}; an eased stop from there takes ${words.frames(Math.max(1, Math.round((eased * frames) / takes)))}`,
      suggestion: `let it arrive ${words.frames(early)} later, at frame ${words.frame(to + early)}, or begin to slow down ${words.frames(early)} before frame ${words.frame(from)}; or overshoot and settle`,
    };
  },
});
