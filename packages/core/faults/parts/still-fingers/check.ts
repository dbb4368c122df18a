import { inDegrees } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { relativeAngle } from "../../../motion/path/relative.ts";
import { figuresOf } from "../../../rig/body.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface StillFingersFinding extends Finding {
  readonly numbers: { readonly curl: number; readonly change: number; readonly begins: number };
}

const settings = {
  curl: {
    default: 3,
    unit: "deg",
    what: "turn of the finger joint that moves most up to which the fingers count as still",
    source:
      "common practice: 3° of a finger joint move a fingertip by 5 mm at the most, too little for a grip that closes",
    min: 0,
  },
  window: {
    default: 8,
    unit: "frames",
    what: "how long before and after the load changes an answer counts",
    source: "common practice: fingers close as the load comes on, or within a third of a second of it",
    min: 1,
  },
} as const;

/** A grip that does not answer to its load. */
export const stillFingers = defineCheck({
  name: "still-fingers",
  title: "Still fingers",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "polish",
  what: "A hand takes a load or lets it go and its fingers do not answer.",
  why: "A grip closes when weight comes on and opens when it goes; fingers that keep their shape do not hold anything.",
  computes:
    "Where a declared contact of a hand begins or ends inside the range: the largest turn of any finger joint against its parent from eight frames before to eight after.",
  fix: "Curl the fingers by ten degrees or more as the load comes on, the little finger last.",
  notAFault: ["hands without finger joints", "contacts that last through the whole range"],
  limits: ["The load itself is not known: only that a contact begins or ends."],
  sources: ["Common practice: a grip closes as it takes a load"],
  since: "0.1.0",
  settings,
  repeats: "always",
  find(study, index, values) {
    const { parts } = figuresOf(study)[index];
    const { count } = gridOf(study);
    const rig = rigOf(study);
    const window = Math.max(1, Math.round(values.window));
    const found: StillFingersFinding[] = [];
    for (const side of ["left", "right"] as const) {
      const hand = parts.get(`${side}Hand`)?.[0];
      const fingers = parts.get(`${side}Fingers`) ?? [];
      if (hand === undefined || fingers.length === 0) continue;
      for (const contact of contactsOf(study, index)) {
        if (contact.node !== hand || !contact.declared) continue;
        for (const [change, begins] of [
          [contact.from, true],
          [contact.to, false],
        ] as const) {
          if (change < 2 || change > count - 3) continue;
          const from = Math.max(0, change - window);
          const to = Math.min(count - 1, change + window);
          let curl = 0;
          for (const finger of fingers) {
            for (let i = from + 1; i <= to; i++) {
              curl = Math.max(curl, relativeAngle(study, finger, rig.parent[finger], from, i));
            }
          }
          if (curl > values.curl) continue;
          found.push({
            node: hand,
            figure: index,
            from,
            to,
            measured: { quantity: "turn of the finger joints", value: inDegrees(curl), unit: "deg" },
            expected: { min: inDegrees(values.curl), unit: "deg", source: settings.curl.source },
            excess: 2 - curl / values.curl,
            size: 0.2 * farReachOf(study, hand),
            numbers: { curl, change, begins: begins ? 1 : 0 },
            fault: { kind: "keys", keys: gripKeys(study, fingers, hand, from, to) },
          });
        }
      }
    }
    return found;
  },
  word(finding, words) {
    const { curl, change, begins } = finding.numbers;
    const verb = begins === 1 ? "takes the load" : "lets the load go";
    return {
      message: `${words.part} ${verb} at frame ${words.frame(change)} and its fingers turn only ${words.angle(curl)}`,
      suggestion: `${begins === 1 ? "curl" : "open"} the fingers by 10° or more from frame ${words.frame(change - 1)} on, the little finger last`,
    };
  },
});

/** The fingers' own keys where they have any, since they are what has to move; else the hand's. */
function gripKeys(study: Study, fingers: readonly number[], hand: number, from: number, to: number) {
  const own = keysOfNodes(study, fingers, from, to);
  return own.length > 0 ? own : keysOfNodes(study, [hand], from, to);
}
