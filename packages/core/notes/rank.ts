import type { BodyPart } from "../document/schema.ts";
import type { ResolvedSettings } from "../settings/settings.ts";
import { type Tier, tiers } from "../settings/tier.ts";

/** What ranking looks at. */
export interface Seen {
  /** How large the fault is, in body heights; in picture heights where a camera sees it. */
  readonly size: number;
  /** How many judged seconds it lasts. */
  readonly seconds: number;
  /** How far past the threshold: 1 stands at it. */
  readonly excess: number;
  /** The part on which it shows, null where it has none. */
  readonly part: BodyPart | null;
}

/**
 * Below this share of body height nothing is seen; 2.5 mm of a grown person, a pixel or two of a full figure (our
 * choice). So it is of the picture's height, which a full figure fills.
 */
const leastSeen = 0.0015;
/** From here on a fault is as plain as it gets: 12 cm of a grown person (our choice). */
const plainlySeen = 0.07;

/**
 * How much a fault matters, 0 to 1: what is seen counts most, then how far past its threshold it is, then how long
 * it lasts, all scaled by how much of the figure hangs on the part. The shares are our choice, not measured.
 */
export function weightOf(seen: Seen): number {
  const visible = clamp(
    Math.log(Math.max(seen.size, leastSeen) / leastSeen) / Math.log(plainlySeen / leastSeen),
  );
  const past = 1 - 1 / (1 + Math.max(0, seen.excess - 1));
  const lasting = clamp(seen.seconds / 0.5);
  return clamp((0.15 + 0.45 * visible + 0.3 * past + 0.1 * lasting) * heaviness(seen.part));
}

/** Past a threshold by this many times counts half as much more as any distance can (our choice). */
const halfPast = 2;

/** At the least as much as a hand's fingers (our choice): a tip of hair moves nothing below it. */
const leastCarried = 0.002;

/**
 * How plainly a fault is seen against others, which notes are ordered by: its size in heights of the body or
 * of the picture, times the square root of the seconds that it lasts (the eye adds up over time, with less and less
 * gain), times how much of the figure goes along, times 1 to 2 for the distance past its threshold. Unlike the weight it
 * has no upper end.
 *
 * What goes along is seen by its outline: lengths of bodies go with the cube root of their mass.
 * @param carried share of the figure's mass that hangs on where the fault shows, 0 to 1; 1 for all of it
 */
export function plainnessOf({ size, seconds, excess }: Omit<Seen, "part">, carried: number): number {
  const past = Math.max(0, excess - 1);
  const distance = Number.isFinite(past) ? 1 + past / (past + halfPast) : 2;
  return size * Math.sqrt(seconds) * Math.cbrt(Math.max(leastCarried, carried)) * distance;
}

/**
 * So many times as plain counts how a body bears its weight, and when the beats of its act come: common practice looks at the
 * body before its parts, since what is changed there changes them as well. The number is our choice.
 */
export const actCounts = 3;

/** A minor fault comes before a major one where it is this many times as plain (our choice). */
const minorFor = 2;

/**
 * Where a note stands among those that are major and minor, the greater first. A tier says how bad a kind of fault is at its
 * worst, plainness what is seen of this one: shoulders that stand high all shot long are told before a pop of two
 * millimetres. A major one of which no size is known, as a studio's own check may have it, counts as plainly seen for a second.
 */
export function standingOf(tier: Tier, plainness: number): number {
  if (tier === "minor") return plainness / minorFor;
  return tier === "major" && plainness === 0 ? plainlySeen : plainness;
}

/** A weight moved to where a tier's weights are, for notes whose tier is given. */
export function weightWithin(weight: number, tier: Tier, limits: ResolvedSettings["tiers"]): number {
  if (tier === "major") return Math.max(weight, limits.major);
  const below = (limit: number) => Math.min(weight, Math.max(0, limit - 0.001));
  return tier === "minor" ? Math.max(below(limits.major), limits.minor) : below(limits.minor);
}

/** How much of a shot's weight hangs on a part. */
function heaviness(part: BodyPart | null): number {
  switch (part) {
    case "root":
    case "spine":
    case "chest":
    case "head":
    case "leftFoot":
    case "rightFoot":
      return 1;
    case "leftFingers":
    case "rightFingers":
    case "leftToes":
    case "rightToes":
    case "hair":
    case "ears":
    case "jaw":
      return 0.65;
    default:
      return 0.9;
  }
}

/** The tier of a weight, no higher than the check's ceiling. */
export function tierOf(weight: number, ceiling: Tier, limits: ResolvedSettings["tiers"]): Tier {
  const byWeight: Tier = weight >= limits.major ? "major" : weight >= limits.minor ? "minor" : "polish";
  return tiers.indexOf(byWeight) < tiers.indexOf(ceiling) ? ceiling : byWeight;
}

function clamp(value: number): number {
  return Math.min(1, Math.max(0, value));
}
