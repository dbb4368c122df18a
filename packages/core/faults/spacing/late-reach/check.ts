import type { Study } from "../../../base/study.ts";
import { type Order, reachOrder } from "../../../motion/parts/order.ts";
import { limbPathOf } from "../../../motion/path/pace.ts";
import { figuresOf } from "../../../rig/body.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { startsOf } from "../../order-words.ts";
import { type Coming, comingsOf, leftBefore } from "../../shared/comings.ts";

/** With numbers in working units. */
export interface LateReachFinding extends Finding {
  readonly numbers: {
    readonly left: number;
    /** Judged frames over which the share is told. */
    readonly last: number;
    /** What an eased reach of the same length has left there. */
    readonly eased: number;
    readonly carrier: number;
  };
  /** Who starts the reach and who follows; of legs nothing. */
  readonly order: Order;
}

const settings = {
  frames: {
    default: 3,
    unit: "frames",
    what: "last frames before the contact, whose share of the way counts",
    source:
      "common practice: an eighth of a second, in which a limb ought to do no more than settle on its place",
    min: 1,
  },
  span: {
    default: 12,
    unit: "frames",
    what: "longest time over which a limb may gather speed on its way",
    source: "common practice: a reach takes half a second; of a longer one the first part is waiting",
    min: 4,
  },
  way: {
    default: 0.06,
    unit: "H",
    what: "least way of the limb's end",
    source: "common practice: a tenth of a leg, under which a foot shuffles",
    min: 0,
  },
  haste: {
    default: 1,
    unit: "ratio",
    what: "share of the way that may be left, over what is left of one on which the limb speeds up evenly to the end",
    source:
      "geometry: what speeds up evenly for n frames has 1 − (1 − 3/n)² of its way left three frames before it ends. An eased reach has a quarter of that (minimum jerk, Flash & Hogan 1985)",
    min: 0,
  },
} as const;

/** Shortest reach that is judged, of the frames that count: what takes no longer is quick all the way. */
const shortest = 2;

/** A limb comes to its contact only in its last frames. */
export const lateReach = defineCheck({
  name: "late-reach",
  title: "Late reach",
  family: "spacing",
  scope: "figure",
  ceiling: "minor",
  isOfAct: true,
  hangsOn: ["body"],
  notBefore: "splining",
  what: "A hand or a foot dawdles on its way to a contact, and covers most of it in the last frames.",
  why: "A limb that means to touch something slows down toward it. One that waits and is thrown at its place reads as a key that was set too late.",
  computes:
    "For each contact of a hand or foot: its distance from where it touches, seen from what carries the limb. The reach begins where it leaves the farthest place, at most 36 frames before, and ends where 4 % of the way are left. Told is the share that is left three frames before that end, and in the world too: the smaller one counts. It is late where more is left than of a way of as many frames, at most twelve, on which the limb speeds up evenly from rest to the end. Reaches of six frames and more are judged, over a way of 0.06 body heights. The note of an arm tells who starts the reach.",
  fix: "Move the breakdown of the reach some frames earlier, so that the limb eases into its place.",
  notAFault: [
    "catching a fall: a foot or hand on which the body comes down from the air",
    "a hand that catches a thing that flies: it goes along with it where they meet",
    "a reach that is quick all the way, in under six frames",
    "a cut by step keys, and poses on twos",
    "a limb that moves as the shot begins",
  ],
  limits: [
    "A blow ends at speed by nature: waive it, or turn the check off for a fight.",
    "Hands are seen to come to things that they carry, and to contacts that are declared.",
  ],
  sources: [
    "Flash & Hogan 1985: reaches of hands are eased at both ends (minimum jerk)",
    "Common practice: the limb is near its contact some frames before, and settles",
  ],
  since: "0.1.0",
  settings,
  styles: {
    snappy: { times: { haste: 1.25 }, why: "Poses are hit, and limbs go to them late and fast." },
    limited: { off: true, why: "A limb may go to its place in one drawing." },
    twos: { off: true, why: "Three frames are two drawings, too few for a course." },
  },
  find(study, figure, values) {
    const found: LateReachFinding[] = [];
    for (const coming of comingsOf(study, figure)) {
      const { node, carrier, from, to, way } = coming;
      const frames = to - from;
      if (way < values.way || frames < shortest * values.frames) continue;
      const world = worldOf(study, node).position;
      const carried = limbPathOf(study, node);
      const left = Math.min(
        leftBefore(carried, from, to, values.frames),
        leftBefore(world, from, to, values.frames),
      );
      const share = values.frames / Math.min(frames, values.span);
      const most = Math.min(1, values.haste * (1 - (1 - share) ** 2));
      if (!(left > most)) continue;
      found.push({
        node,
        figure,
        from,
        to,
        measured: { quantity: `share of the way left in the last frames`, value: left, unit: "share" },
        expected: { max: most, unit: "share", source: settings.haste.source },
        excess: left / most,
        size: (left - most) * way,
        numbers: { left, last: values.frames, eased: easedLeft(share), carrier },
        order: orderOf(study, figure, coming),
        fault: causeOf(study, coming, values.frames),
      });
    }
    return found;
  },
  word(finding, words) {
    const { left, last, eased } = finding.numbers;
    return {
      message: `${words.part} comes to its contact at frame ${words.frame(finding.to)} with ${words.share(left)} of its way in the last ${words.frames(last)}; a reach that eases in has ${words.share(eased)} left there${startsOf(finding.order, words)}`,
      suggestion: `bring it nearer by frame ${words.frame(Math.round(finding.to - last))}, and let it settle on its place over the last ${words.frames(last)}`,
    };
  },
});

/** What is left of a minimum-jerk reach, some share of its time before it ends. */
function easedLeft(share: number): number {
  const t = 1 - Math.min(1, share);
  return 1 - t * t * t * (10 - 15 * t + 6 * t * t);
}

/** Who starts a reach: of arms alone. */
function orderOf(study: Study, figure: number, { node, from, to }: Coming): Order {
  const part = figuresOf(study)[figure].partOf.get(node);
  if (part === undefined || !/Arm|Forearm|Hand|Fingers/.test(part)) return [];
  return reachOrder(study, figure, part.startsWith("left") ? "left" : "right", from, to);
}

/** The keys that hold a limb back, by trial; else those that move it most. */
function causeOf(study: Study, { node, carrier, from, to }: Coming, last: number): Fault {
  const causes = causesOf(study, {
    kind: "position",
    subject: node,
    top: carrier,
    lo: from,
    hi: to,
    from,
    to,
    sees: ["reach", last],
    strength: (series) => leftBefore(series, 0, series.length / 3 - 1, last),
  });
  if (causes.length > 0) return keysFault(causes);
  const rig = rigOf(study);
  const limb = chainOf(rig, node).filter((joint) => joint !== carrier && isAbove(rig, carrier, joint));
  const late = Math.max(from, Math.min(gridOf(study).count - 1, to - Math.ceil(last)));
  return { kind: "keys", keys: keysOfNodes(study, limb, late, to, 3) };
}
