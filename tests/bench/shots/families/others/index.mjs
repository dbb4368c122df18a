// @ts-check
/**
 * Every shot of a body that has not two legs.
 * @import { Family } from "../../types.d.ts"
 */

import { flightOfBird } from "./bird/cruise.mjs";
import { landingOfBird } from "./bird/landing.mjs";
import { peckingBird } from "./bird/peck.mjs";
import { takeOffOfBird } from "./bird/take-off.mjs";
import { hoverOfFish, swimOfFish } from "./fish/swim.mjs";
import { leapOfFourLegs } from "./four-legs/leap.mjs";
import { restOfFourLegs } from "./four-legs/rest.mjs";
import { trotOfFourLegs, walkOfFourLegs } from "./four-legs/walk.mjs";
import { walkOfManyLegs } from "./many-legs/walk.mjs";
import { hopsOfHopper } from "./no-legs/hop.mjs";
import { inchingOfCaterpillar } from "./no-legs/inch.mjs";
import { crawlOfSnake } from "./no-legs/snake.mjs";

/** @type {Family[]} */
export const otherFamilies = [
  { name: "four legs", action: "walk", weight: 2, make: walkOfFourLegs },
  { name: "four legs", action: "trot", weight: 1, make: trotOfFourLegs },
  { name: "four legs", action: "sit, lie and get up", weight: 1, make: restOfFourLegs },
  { name: "four legs", action: "leap", weight: 1, make: leapOfFourLegs },
  { name: "six legs", action: "walk", weight: 1, make: walkOfManyLegs("six") },
  { name: "eight legs", action: "walk", weight: 1, make: walkOfManyLegs("eight") },
  { name: "no legs", action: "crawl", weight: 1, make: crawlOfSnake },
  { name: "no legs", action: "inch", weight: 1, make: inchingOfCaterpillar },
  { name: "no legs", action: "hop", weight: 1, make: hopsOfHopper },
  { name: "bird", action: "level flight", weight: 1, make: flightOfBird },
  { name: "bird", action: "take off", weight: 1, make: takeOffOfBird },
  { name: "bird", action: "land", weight: 1, make: landingOfBird },
  { name: "bird", action: "peck", weight: 1, make: peckingBird },
  { name: "fish", action: "swim", weight: 1, make: swimOfFish },
  { name: "fish", action: "hover and dart", weight: 1, make: hoverOfFish },
];
