import { degreesPerRadian } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import type { PlantedContact } from "../../../motion/ground/contact-plants.ts";
import { feetAreGuessed, weightOnFoot } from "../../../motion/ground/feet.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import type { FootPointKind } from "../../../motion/ground/foot-points.ts";
import type { PlantTravel } from "../../../motion/ground/plant-travel.ts";
import type { Travel } from "../../../motion/ground/slide.ts";
import { isFootByShape } from "../../../motion/ground/standing.ts";
import { figuresOf } from "../../../rig/body.ts";
import { pictureShareOf } from "../../../rig/picture-share.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import type { Words } from "../../words.ts";
import { slideCause } from "../shared/slide-cause.ts";
import { slideFault } from "../shared/slide-fault.ts";
import { travelsByFoot } from "../shared/stands-aloft.ts";
import { keptSlideOf, type Slide } from "./slide.ts";

/** With numbers in working units. */
export interface ContactSlideFinding extends Finding {
  readonly numbers:
    | {
        readonly travel: number;
        readonly hold: number;
        readonly end: number;
        readonly hips: number;
        readonly first: number;
        readonly last: number;
      }
    | { readonly turn: number; readonly limit: number };
}

const settings = {
  travel: {
    default: 0.0125,
    unit: "H",
    what: "farthest that a planted point may travel in the surface",
    source:
      "Pražák, Hoyet, O'Sullivan 2011 (abstract): slides are seen at very low levels, under 21 mm in most conditions. This is 21 mm of a person of 1.7 m, above which they surely are",
    min: 0,
    bound: { max: 0.0125, why: "longer slides are seen (Pražák, Hoyet, O'Sullivan 2011)" },
  },
  pivot: {
    default: 75,
    unit: "deg",
    what: "how far a foot may turn about its ball, its heel or a point between them within one plant",
    source: "common practice: a foot that bears turns less than a quarter turn",
    min: 0,
  },
  step: {
    default: 0.25,
    unit: "H/s",
    what: "speed from which a foot that the other one stands in for is dragged along on purpose: a step, no slide",
    source: "common practice: half of what a shuffling foot swings at",
    min: 0,
  },
} as const;

/** A planted foot travels. */
export const contactSlide = defineCheck({
  name: "contact-slide",
  title: "Contact slide",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "A foot that stands on a surface travels over it.",
  why: "A foot that bears weight is held by friction; where it slides the body has no ground, and everything above it floats.",
  computes:
    "For the heel and the ball of each foot: the point of the sole that lies on the surface while the foot is flat. It is carried along with the foot, so that a roll does not count. It is down within 0.006 body heights of the level at which it stands, one frame left out where it lands and leaves. While it is down, its largest travel in the surface is measured. A foot that stands in the air (see off-ground) is down at the height at which it stands there. Of a body that is no person, `travel` is a share of the height of a picture that it fills: its own, or 9/16 of its breadth. While heel and ball are both down, it is that of the point between them that travels least, since a foot may turn about any point under it. Where a point stays put the foot pivots, and the angle of the turn is judged instead. Where step keys cut from pose to pose, and another foot stands, it is a minor note at most: it may be a small step. The note marks the frames between which the point goes. They begin with the last one within 1 % of its way from where it stood before. They end with the first one within 1 % of where it stands after. What is told is the largest travel, or the turn, from the stand before to the stand after.",
  fix: "Hold the foot where it stands for the frames of the plant: take out the keys between, or give them one value.",
  notAFault: [
    "contacts that are declared to slide",
    "a turn about the ball, the heel or a point between them up to the limit",
    "a low, quick step of one foot while the other one stands; a hand makes none within a contact that is declared",
    "a step that step keys cut over: by a foot's length or more, or rolled up before it, or the hips go along by a quarter of the way",
    "a foot that sets off into a swing, or comes out of one, along the ground",
    "the roll of a foot from heel to toe",
    "feet that go back under a walk or run in place: what they do against the ground that passes with them is judged",
  ],
  limits: [
    "Where a body's feet are told by its shape alone, and do not stand as in its rest pose, the note is minor at most: arms may hang as low.",
    "A body with arms and a head and no part that is a foot may wear what reaches the floor: unless it is declared, its notes are polish.",
    "A foot that slides as fast as a walking foot swings is taken for a swinging foot.",
    "A contact with a moving thing is not judged.",
    "A walk in place is known as one where nothing in the shot stands in the world. That is a declared contact, a prop, a surface with edges, or another figure. In held poses it is not known.",
  ],
  sources: ["Pražák, Hoyet, O'Sullivan: Perceptual evaluation of footskate cleanup, SCA 2011"],
  since: "0.1.0",
  settings,
  find(study, figure, given) {
    const values = { ...given, travel: pictureShareOf(study, figure) * given.travel };
    const found: ContactSlideFinding[] = [];
    const groups = travelsByFoot(study, figure, values.step);
    for (const group of groups) {
      const faults: ContactSlideFinding[] = [];
      const otherFeet = groups.filter((feet) => feet !== group).flat();
      for (const stretch of group) {
        if (stretch.travel <= values.travel) continue;
        const other = otherEnd(stretch, group);
        const slide = keptSlideOf(study, figure, stretch, other, values.travel);
        if (slide !== null) {
          const end = other === null ? stretch.planted.contact.point : "whole";
          const meanwhile = otherFeet.filter(({ plant }) => overlaps(plant, stretch, slide.told));
          faults.push(slideFinding(study, figure, stretch, other, slide, end, values.travel, meanwhile));
        } else if (other !== null) {
          const turn = turnOf(study, stretch, other, stretch.apart);
          if (Math.abs(turn) > values.pivot)
            faults.push(
              pivotFinding(
                study,
                figure,
                stretch,
                other,
                turnOf(study, stretch, other, stretch.between),
                values.pivot,
              ),
            );
        }
      }
      // Heel and toe of one foot that slide together are one fault; the end that slides farther says it.
      faults.sort((a, b) => b.size - a.size);
      const own: ContactSlideFinding[] = [];
      for (const fault of faults) if (!own.some((other) => meets(other, fault))) own.push(fault);
      found.push(...own);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const key = words.keys[0];
    const where =
      key === undefined ? "" : `. The ${key.channel} key at frame ${key.frame} of ${key.node} moves it most`;
    if ("turn" in numbers) {
      return {
        message: `${words.part} turns by ${words.angle(Math.abs(numbers.turn))} on the ground while the foot bears, ${words.span(from, to)}`,
        suggestion: `lift the foot for the turn, or spread it over two steps, so that no plant turns more than ${words.angle(numbers.limit)}${where}`,
      };
    }
    return {
      message: `${words.part} slides ${words.length(numbers.travel)}${endOf(numbers.end)} while planted, ${words.span(from, to)}`,
      suggestion: `hold it where it stands at frame ${words.frame(numbers.hold)} from frame ${words.frame(numbers.first)} to ${words.frame(numbers.last)}${hipsWords(numbers.hips, words)}${where}`,
    };
  },
});

const ends = ["whole", "heel", "toe"] as const;

function endOf(end: number): string {
  return end === 1 ? " at the heel" : end === 2 ? " at the ball" : "";
}

/** What to do at the hips where the foot goes along with them. */
function hipsWords(way: number, words: Words): string {
  if (way === 0) return "";
  return `, or let the hips travel ${words.length(Math.abs(way))} ${way > 0 ? "less" : "more"} over these frames`;
}

/** Whether another foot's plant has to do with a plant of this one, or with the travel that is told of it. */
function overlaps(other: Span, { plant }: PlantTravel, { between, stands }: Travel): boolean {
  const from = Math.min(plant.from, between.from, stands.from);
  const to = Math.max(plant.to, between.to, stands.to);
  return other.from <= to && other.to >= from;
}

/** The other end of the foot, where it is in contact for most of the travel. */
function otherEnd({ planted, between }: PlantTravel, group: readonly PlantTravel[]): PlantedContact | null {
  const { from, to } = between;
  for (const { planted: other } of group) {
    if (other.contact.node === planted.contact.node) continue;
    const overlap = Math.min(to, other.contact.to) - Math.max(from, other.contact.from);
    if (overlap >= 0.5 * (to - from)) return other;
  }
  return null;
}

/** Angle about the surface's normal by which the line from one end of the foot to the other turns over some samples. */
function turnOf(study: Study, stretch: PlantTravel, other: PlantedContact, { from, to }: Span): number {
  const { normal } = stretch.planted.contact.surface;
  const a = worldOf(study, stretch.planted.contact.node).position;
  const b = worldOf(study, other.contact.node).position;
  return turnBetween(a, b, from, to, normal);
}

function turnBetween(
  a: Float64Array,
  b: Float64Array,
  from: number,
  to: number,
  normal: readonly [number, number, number],
): number {
  const u = inSurface(a, from, b, from, normal);
  const v = inSurface(a, to, b, to, normal);
  const sine =
    normal[0] * (u[1] * v[2] - u[2] * v[1]) +
    normal[1] * (u[2] * v[0] - u[0] * v[2]) +
    normal[2] * (u[0] * v[1] - u[1] * v[0]);
  return Math.atan2(sine, u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
}

/** From one sample of a path to one of another, as seen in a surface. */
function inSurface(
  to: Float64Array,
  at: number,
  from: Float64Array,
  since: number,
  normal: readonly [number, number, number],
): [number, number, number] {
  const [k, l] = [3 * at, 3 * since];
  const v = [to[k] - from[l], to[k + 1] - from[l + 1], to[k + 2] - from[l + 2]];
  const out = v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2];
  return [v[0] - out * normal[0], v[1] - out * normal[1], v[2] - out * normal[2]];
}

function slideFinding(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  other: PlantedContact | null,
  { told: { travel, between, stands }, hold, away }: Slide,
  end: FootPointKind,
  limit: number,
  otherFeet: readonly PlantTravel[],
): ContactSlideFinding {
  const { plant } = stretch;
  return {
    ...placeOf(study, figure, { ...stretch, between }),
    measured: { quantity: "travel while planted", value: travel, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.travel.source },
    excess: travel / limit,
    // Up to the limit it is not seen.
    size: travel - limit,
    carries: weightOnFoot(study, figure),
    ...(stretch.mayStep && { ceiling: "minor" as const }),
    ...(isFootByShape(study, figure, stretch.planted.contact.node) && { ceiling: "minor" as const }),
    ...(feetAreGuessed(study, figure) && { ceiling: "polish" }),
    numbers: {
      travel,
      hold,
      end: ends.indexOf(end),
      hips: alongHips(study, figure, stretch),
      first: plant.from,
      last: plant.to,
    },
    fault: slideCause(study, figure, stretch, {
      hold,
      limit,
      otherFeet,
      fault: slideFault(study, figure, stretch.planted, other, { between, stands }),
    }),
    evidence: [
      {
        label: "travel in the surface from where it stands",
        unit: "m",
        firstFrame: gridOf(study).frames[plant.from],
        step: gridOf(study).step,
        values: away,
      },
    ],
  };
}

/**
 * Hips that travel this many times as far as the foot slides, in the same direction (cosine; within 37°), carry it
 * along: the foot trails behind them (our choice).
 */
const hipsLead = 2;
const hipsDirection = 0.8;

/** The slide as a way of the hips: positive where the foot is carried along with them, negative against; else 0. */
function alongHips(study: Study, figure: number, { planted, between, travel }: PlantTravel): number {
  const { position } = worldOf(study, hipsOf(study, figure));
  const { normal } = planted.contact.surface;
  const way = inSurface(position, between.to, position, between.from, normal);
  const slide = inSurface(planted.path, between.to, planted.path, between.from, normal);
  const length = Math.hypot(...way);
  const gone = Math.hypot(...slide);
  if (length < hipsLead * gone) return 0;
  const cosine = (way[0] * slide[0] + way[1] * slide[1] + way[2] * slide[2]) / (length * gone);
  return Math.abs(cosine) >= hipsDirection ? travel * cosine : 0;
}

function pivotFinding(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  other: PlantedContact,
  turn: number,
  limit: number,
): ContactSlideFinding {
  const { contact } = stretch.planted;
  const { between, travel } = stretch;
  const degrees = degreesPerRadian;
  const length = between.to - between.from;
  return {
    ...placeOf(study, figure, stretch),
    measured: { quantity: "turn while planted", value: Math.abs(turn) * degrees, unit: "deg" },
    expected: { max: limit * degrees, unit: "deg", source: settings.pivot.source },
    excess: Math.abs(turn) / limit,
    size: travel,
    carries: weightOnFoot(study, figure),
    numbers: { turn, limit },
    fault: {
      kind: "position",
      subject: contact.node,
      others: [other.contact.node],
      lo: between.from,
      hi: between.to,
      from: between.from,
      to: between.to,
      sees: ["pivot", contact.surface.normal],
      strength: (path, [toes]) => Math.abs(turnBetween(path, toes, 0, length, contact.surface.normal)),
    },
  };
}

const footOfToes: Partial<Record<BodyPart, BodyPart>> = {
  leftToes: "leftFoot",
  rightToes: "rightFoot",
  leftFingers: "leftHand",
  rightFingers: "rightHand",
};

/** A foot's note stands at its ankle, whichever end of it slides. */
function placeOf(study: Study, figure: number, { planted, between }: PlantTravel) {
  const { node } = planted.contact;
  const { parts, partOf } = figuresOf(study)[figure];
  const part = partOf.get(node);
  const foot = part === undefined ? undefined : footOfToes[part];
  return { node: (foot && parts.get(foot)?.[0]) ?? node, figure, from: between.from, to: between.to };
}

function meets(a: ContactSlideFinding, b: ContactSlideFinding): boolean {
  return a.from <= b.to && b.from <= a.to;
}
