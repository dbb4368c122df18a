import { standardGravity } from "../../base/constants.ts";
import { flightsOf } from "../../motion/body/flight.ts";
import { flightShape } from "../../motion/body/flight-shape.ts";
import { massCentreOf } from "../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../motion/body/propulsors.ts";
import { hipsOf } from "../../motion/ground/foot-plant.ts";
import { statureOf } from "../../rig/body.ts";
import { lengthAlong } from "../shared/spread.ts";
import { defineStrength, type Held } from "../strength.ts";

/** How many times stronger or weaker than gravity a fall may be: what attentive viewers let pass. */
const tolerance = 1.19;
/** How far the height may stray from a parabola (root mean square), as a share of the parabola's own height. */
const strayShare = 0.02;
/** The least stray that counts, body heights: about 3 mm of a grown person. */
const leastStray = 0.002;
/** Horizontal acceleration up to which the course counts as straight, g. */
const straight = 0.1;

/** Falls as bodies fall. */
export const trueFall = defineStrength<Held>({
  name: "true-fall",
  title: "True fall",
  what: "A body in the air falls at gravity, on a parabola, and keeps its course.",
  computes:
    "A parabola is fitted to the height of the centre of mass over all airborne frames. Its acceleration lies within a factor of 1.19 of 9.80665 m/s². What it leaves over is at most 2 % of its own height (root mean square), and the course changes by no more than 0.1 g.",
  canFail: "The centre of mass follows from all keys of the body; nothing makes it fall as it should.",
  sources: [
    "Standard gravity 9.80665 m/s²: CGPM 1901",
    "Scientific Reports 2017, 7:15379 (abstract): attentive viewers notice 9 % of speed, which is a factor of 1.19 in gravity",
    "CMU motion capture database, subject 1, trial 1: captured jumps stray by less than 2 % from a parabola",
    "0.1 g aside: common practice, half of what counts as a course that changes",
  ],
  hangsOn: ["unit", "body"],
  find(study, figure) {
    if (propulsorsOf(study, figure).length > 0) return [];
    const node = hipsOf(study, figure);
    const found: Held[] = [];
    for (const flight of flightsOf(study, figure)) {
      const { from, to, gravity, airTime, drift } = flight;
      if (!flight.startsOnGround && !flight.endsOnGround) continue;
      if (!(Math.max(gravity / standardGravity, standardGravity / gravity) <= tolerance)) continue;
      if (!(drift <= straight * standardGravity)) continue;
      const shape = flightShape(study, figure, flight);
      const limit = Math.max(
        leastStray * statureOf(study, figure),
        (strayShare * gravity * airTime * airTime) / 8,
      );
      if (shape === null || shape.residual > limit) continue;
      found.push({
        node,
        from,
        to,
        measured: { quantity: "gravity of the flight", value: gravity, unit: "m/s^2" },
        within: {
          min: standardGravity / tolerance,
          max: standardGravity * tolerance,
          unit: "m/s^2",
          source: "Scientific Reports 2017, 7:15379 (abstract)",
        },
        size: lengthAlong(massCentreOf(study, figure), from, to),
      });
    }
    return found;
  },
  word: ({ from, to, measured }, words) =>
    `the body falls at ${(measured.value / standardGravity).toFixed(2)} g, ${words.span(from, to)}`,
});
