import { inDegrees, inRadians } from "../../base/constants.ts";
import { flightsOf } from "../../motion/body/flight.ts";
import { massCentreOf } from "../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../motion/body/propulsors.ts";
import { hipsOf } from "../../motion/ground/foot-plant.ts";
import { bendOf, limbReachOf, limbsOf } from "../../rig/limb.ts";
import { gridOf } from "../../time/grid.ts";
import { samplesOf } from "../shared/frames.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface SoftLanding extends Held {
  readonly bend: number;
  /** Samples from the touch-down to the deepest. */
  readonly takes: number;
  readonly give: number;
}

/** How far the knees bend after touch-down: the published mean of 64°, and twice its deviation of 12° on both sides. */
const leastBend = inRadians(40);
const mostBend = inRadians(88);
/** How long the body sinks, frames at 24 per second: 0.1 to 0.4 s. */
const shortestSink = 2.4;
const longestSink = 9.6;
/** Share of its sinking that the body comes up again within a second. */
const recovered = 0.25;

/** Landings that give and recover. */
export const softLanding = defineStrength<SoftLanding>({
  name: "soft-landing",
  title: "Landing that gives",
  what: "A landing gives in the knees, as far and for as long as bodies do, and comes up again.",
  computes:
    "From the first frame on the ground after a flight, the centre of mass sinks for 0.1 to 0.4 s. Over these frames the knees (mean of those that are known) bend by 40 to 88°. Within the next second the centre of mass comes up by a quarter of the way that it sank.",
  canFail: "Nothing bends the knees of a figure that lands, and nothing lifts it again, but its keys.",
  sources: [
    "Br J Sports Med, spike jumps from 58 to 60 cm (table 3): the knees bend by 64 ± 12° after touch-down; twice the deviation on both sides",
    "0.15 to 0.25 s to the greatest bend: from memory; 0.1 to 0.4 s leaves room for lower and higher jumps",
    "Coming up by a quarter: common practice, a landing settles upwards",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    if (propulsorsOf(study, figure).length > 0) return [];
    const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
    if (legs.length === 0) return [];
    const { count, rate } = gridOf(study);
    const centre = massCentreOf(study, figure);
    const height = (i: number) => centre[3 * i + 1];
    const bends = legs.map((leg) => bendOf(limbReachOf(study, leg.root, leg.end), leg));
    const bendAt = (i: number) => bends.reduce((sum, bend) => sum + bend[i] / bends.length, 0);
    const most = samplesOf(study, longestSink);
    const found: SoftLanding[] = [];
    for (const flight of flightsOf(study, figure)) {
      const touch = flight.to + 1;
      if (!flight.endsOnGround || touch + most >= count) continue;
      let low = touch;
      while (low + 1 < count && low - touch < most && height(low + 1) < height(low)) low++;
      // It still sinks where it should be down: a body that lies down, or goes on through the floor.
      if (height(low + 1) < height(low)) continue;
      const takes = low - touch;
      if ((takes * 24) / rate < shortestSink) continue;
      const bend = bendAt(low) - bendAt(touch);
      if (!(bend >= leastBend && bend <= mostBend)) continue;
      const give = height(touch) - height(low);
      let to = low;
      while (to < count - 1 && to - low < rate && height(to) - height(low) < recovered * give) to++;
      if (height(to) - height(low) < recovered * give) continue;
      found.push({
        node: hipsOf(study, figure),
        from: touch,
        to,
        measured: { quantity: "bend of the knees after touch-down", value: inDegrees(bend), unit: "deg" },
        within: {
          min: inDegrees(leastBend),
          max: inDegrees(mostBend),
          unit: "deg",
          source: "Br J Sports Med, spike jumps (table 3): 64 ± 12°",
        },
        size: 2 * give,
        bend,
        takes,
        give,
      });
    }
    return found;
  },
  word: ({ from, to, bend, takes, give }, words) =>
    `the landing gives: the knees bend ${words.angle(bend)} and the body sinks ${words.length(give)} in ${words.frames(takes)}, then it comes up again, ${words.span(from, to)}`,
});
