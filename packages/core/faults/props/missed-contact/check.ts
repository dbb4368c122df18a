import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { statureOf } from "../../../rig/body.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { causeOr } from "../../weight/shared/cause-or.ts";
import { gapsOf, keepsPlace, type SaidContact, saidContactsOf } from "./gaps.ts";

/** With numbers in working units. */
export interface MissedContactFinding extends Finding {
  readonly contact: SaidContact;
  readonly numbers: {
    /** How wide the gap gets, metres, and where (sample). */
    readonly gap: number;
    readonly widest: number;
  };
}

const settings = {
  hand: {
    default: 0.02,
    unit: "H",
    what: "how far a hand may be off what it is to touch",
    source:
      "common practice: light shows between a hand and a thing that are farther apart than a finger is broad (0.0125 body heights), and shapes are drawn as close as that",
    min: 0,
  },
  thing: {
    default: 0.0125,
    unit: "H",
    what: "how high a thing may be over the surface on which it is to stand",
    source: "common practice: about 2 cm of a grown person, as for feet",
    min: 0,
  },
  time: {
    default: 6,
    unit: "frames",
    what: "for how long it has to be off",
    source: "common practice: a quarter of a second, as for a hold; a hand comes and goes within less",
    min: 1,
  },
  edge: {
    default: 2,
    unit: "frames",
    what: "how many frames at either end of a contact are left out",
    source: "common practice: two frames either way read as the same moment",
    min: 0,
  },
} as const;

/** What the document says touches does not. */
export const missedContact = defineCheck({
  name: "missed-contact",
  title: "Missed contact",
  family: "props",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body", "unit"],
  what: "A hand does not reach what it is to touch, or a thing stands in the air over what it is to stand on.",
  why: "Hands that shake with air between them hold nothing, and a glass that is let go over the table falls.",
  computes:
    "Looked at are the contacts that the document declares: of hands with surfaces, with things that have shapes and with parts of bodies; and of things with shapes with surfaces. The gap of a hand is the least one over nine points from its wrist to its finger tips, less half of its thickness, 0.016 body heights. A part of a body has the flesh that is drawn on its bones. A hand that is touched reaches to its finger tips as well. The gap of a thing is that of its lowest point. Two frames at either end of a contact are left out. Told is the stretch of a quarter of a second and more in which the gap is over the limit and widest.",
  fix: "Bring the hand to what it touches, or the thing down to where it stands, by the centimetres that are named; or let the contact begin where it gets there.",
  notAFault: [
    "a gap of a finger's breadth",
    "a hand that is still coming, or already leaves, at the ends of its contact",
    "feet and what sits: other checks ask for these",
    "a contact with something whose outside is not known",
    "a hand that is off a thing's shape all through, and keeps its place on it within 0.01 body heights: it has it by a handle that no shape shows",
  ],
  limits: [
    "The shape of a thing may leave out where hands touch it: a hand that is off it all through its contact is polish at most.",
    "Where a surface ends is not asked for.",
  ],
  sources: ["Drillis & Contini 1966: length of a hand, 0.108 body heights (from memory)"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const { hand, thing } = values;
    const edge = Math.round(values.edge);
    const least = Math.max(1, Math.round(values.time));
    return saidContactsOf(study, figure).flatMap((contact) => {
      const limit = contact.isHand ? hand : thing;
      const gaps = gapsOf(study, contact);
      const span = widestRun(gaps, limit, edge, least);
      if (span === null) return [];
      const frames = { from: contact.from + span.from, to: contact.from + span.to };
      if (gaps.every((gap) => gap > limit) && keepsPlace(study, contact, frames)) {
        excused(contact.node, frames.from, frames.to, "it keeps its place on the thing, as on a handle");
        return [];
      }
      return [findingOf(study, contact, gaps, span, limit)];
    });
  },
  word({ contact, numbers, from, to }, words) {
    const gap = words.length(numbers.gap);
    if (!contact.isHand) {
      return {
        message: `${words.part} stands ${gap} in the air over ${contact.on}, ${words.counted(from, to)}`,
        suggestion: `bring it ${gap} down to ${contact.on}, or let its contact begin where it gets there`,
      };
    }
    return {
      message: `${words.part} is ${gap} off ${contact.on}, which it is to touch, ${words.counted(from, to)}`,
      suggestion: `bring it ${gap} to ${contact.on} at frame ${words.frame(numbers.widest)}, or let the contact begin where it gets there`,
    };
  },
});

/** Of the stretches over a limit the one with the widest gap, as indices into the gaps; null for none. */
function widestRun(gaps: Float64Array, limit: number, edge: number, least: number): Span | null {
  let found: Span | null = null;
  let most = limit;
  for (const { from, to } of runsWhere(gaps.length, (i) => gaps[i] > limit)) {
    const first = Math.max(from, edge);
    const last = Math.min(to, gaps.length - 1 - edge);
    if (last - first + 1 < least) continue;
    for (let i = first; i <= last; i++) {
      if (gaps[i] <= most) continue;
      most = gaps[i];
      found = { from: first, to: last };
    }
  }
  return found;
}

function findingOf(
  study: Study,
  contact: SaidContact,
  gaps: Float64Array,
  span: Span,
  limit: number,
): MissedContactFinding {
  let widest = span.from;
  for (let i = span.from; i <= span.to; i++) if (gaps[i] > gaps[widest]) widest = i;
  const { node, figure, isHand, thing } = contact;
  const [from, to] = [contact.from + span.from, contact.from + span.to];
  const gap = gaps[widest];
  const touches = gaps.some((one) => one <= limit);
  return {
    node,
    figure,
    from,
    to,
    measured: { quantity: isHand ? "gap of a hand" : "gap under a thing", value: gap, unit: "m" },
    expected: { max: limit, unit: "m", source: (isHand ? settings.hand : settings.thing).source },
    excess: limit > 0 ? gap / limit : 1 + gap / statureOf(study, figure),
    size: gap,
    ...(thing >= 0 && !touches && { ceiling: "polish" as const }),
    contact,
    numbers: { gap, widest: contact.from + widest },
    fault: causeOf(study, contact, from, to),
  };
}

/** The gap again with another path of the node; its turns, and what it touches, stay. */
function causeOf(study: Study, contact: SaidContact, from: number, to: number): Fault {
  const last = gridOf(study).count - 1;
  const fault: Fault = {
    kind: "position",
    subject: contact.node,
    lo: from,
    hi: Math.min(to, last),
    from,
    to,
    strength: (series) => {
      let most = 0;
      for (let i = from; i <= to; i++) most = Math.max(most, contact.gap(series, i - from, i));
      return most;
    },
  };
  const nodes = contact.isHand ? chainOf(rigOf(study), contact.node).slice().reverse() : [contact.node];
  return causeOr(study, fault, nodes, from, to, contact.isHand ? "any" : "height");
}
