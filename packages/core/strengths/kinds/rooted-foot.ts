import { plantedContactsOf } from "../../motion/ground/contact-plants.ts";
import { footPointsOf } from "../../motion/ground/feet.ts";
import { hipsOf } from "../../motion/ground/foot-plant.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { samplesOf } from "../shared/frames.ts";
import { strayOf } from "../shared/spread.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface RootedFoot extends Held {
  readonly stray: number;
  readonly hips: number;
}

/** How far the sole may stray from where it stands, body heights: 5 mm of a grown person. */
const still = 0.003;
/** How far the hips stray at least from their mean place meanwhile, body heights: 5 cm of a grown person. */
const carried = 0.03;
/** Shortest stand that is told, frames at 24 per second. */
const shortest = 12;

/** Feet that stand while the body moves over them. */
export const rootedFoot = defineStrength<RootedFoot>({
  name: "rooted-foot",
  title: "Rooted foot",
  what: "A foot stands still while the body that it carries moves over it.",
  computes:
    "A plant lasts 12 frames (at 24 per second) or longer. In it the point of the sole strays by at most 0.003 body heights from its mean place, in any direction. The hips, from which the foot hangs, stray by at least 0.03 from theirs.",
  canFail: "The foot hangs from hips that move, so that hip, knee and ankle have to answer on every frame.",
  sources: [
    "Pražák, Hoyet, O'Sullivan 2011 (abstract): slides of planted feet are seen at very low levels, under 21 mm in most conditions; 5 mm is a quarter of that",
    "12 frames: common practice, the time of a step in a walk on twelves",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    const hips = hipsOf(study, figure);
    const rig = rigOf(study);
    const body = worldOf(study, hips).position;
    const stature = statureOf(study, figure);
    const least = samplesOf(study, shortest);
    const feet = new Map(footPointsOf(study, figure).map((point) => [point.node, point.foot]));
    const found: RootedFoot[] = [];
    for (const { contact, path, plants } of plantedContactsOf(study, figure)) {
      const foot = feet.get(contact.node);
      if (foot === undefined || contact.slides || !isAbove(rig, hips, foot) || hips === foot) continue;
      for (const { from, to } of plants) {
        if (to - from + 1 < least) continue;
        const stray = strayOf(path, from, to);
        const moved = strayOf(body, from, to);
        if (stray > still * stature || moved < carried * stature) continue;
        const one: RootedFoot = {
          node: foot,
          nodes: foot === contact.node ? [foot] : [foot, contact.node],
          from,
          to,
          measured: { quantity: "stray of the sole from its place", value: stray, unit: "m" },
          within: { max: still * stature, unit: "m", source: "Pražák, Hoyet, O'Sullivan 2011 (abstract)" },
          size: 2 * moved,
          stray,
          hips: moved,
        };
        // Heel and ball of one foot that stand at the same time are one stand: the longer says it.
        const same = found.findIndex((other) => other.node === foot && other.from <= to && from <= other.to);
        if (same < 0) found.push(one);
        else if (to - from > found[same].to - found[same].from) found[same] = one;
      }
    }
    return found;
  },
  word: ({ from, to, stray, hips }, words) =>
    `${words.part} stands still to ${stray < 0.001 ? "less than 1 mm" : words.length(stray)}, ${words.counted(from, to)}, while the hips stray ${words.length(hips)}`,
});
