import type { Study } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { Check, Finding } from "../faults/check.ts";
import { massSharesBelow } from "../motion/body/mass-centre.ts";
import { statureNear } from "../motion/path/moves.ts";
import { carrierOf, figuresOf, statureOf } from "../rig/body.ts";
import { cutOffAt } from "../rig/cut-off.ts";
import { farReachOf } from "../rig/reach.ts";
import { verdictOf } from "../rig/verdict.ts";
import { settingsOf } from "../settings/study.ts";
import { type Tier, tiers } from "../settings/tier.ts";
import { scaleInPicture } from "../staging/in-picture.ts";
import { gridOf } from "../time/grid.ts";
import { actCounts, plainnessOf, type Seen, tierOf, weightOf, weightWithin } from "./rank.ts";

/** How much a finding matters. */
export interface Weighed {
  /** From 0 to 1. */
  readonly weight: number;
  /** How plainly it is seen (see `plainnessOf`), and from what that follows. */
  readonly seen: SeenSo;
  readonly tier: Tier;
}

/** What a finding is ranked by. */
export interface SeenSo extends Seen {
  readonly plainness: number;
  /** Whether it counts as the act of a body, which makes it plainer. */
  readonly isOfAct: boolean;
  /** Size in metres. */
  readonly metres: number;
  /** Of what `size` is a share: of the body's height, or of that of the picture where a camera sees it. */
  readonly of: "body" | "picture";
}

/** The weight and tier of what a check found, in the settings in force. */
export function weighed(
  study: Study,
  { check, finding }: { readonly check: Check; readonly finding: Finding },
): Weighed {
  const figure = finding.figure < 0 ? undefined : figuresOf(study)[finding.figure];
  const scale = scaleOfFinding(study, check, finding);
  const looks: Seen = {
    size: finding.size * (scale ?? 1 / statureNear(study, finding.node)),
    seconds: (finding.to - finding.from + 1) * gridOf(study).dt,
    excess: finding.excess,
    part: finding.node < 0 ? null : (figure?.partOf.get(finding.node) ?? null),
  };
  const metres = finding.amiss ?? finding.size;
  const seconds = Math.max(looks.seconds, (finding.amissOver ?? 0) * gridOf(study).dt);
  const size = finding.size > 0 ? looks.size * (metres / finding.size) : looks.size;
  const amiss = { ...looks, size, seconds };
  const isOfAct = check.isOfAct === true;
  const times = check.isElsewhere === true ? 0 : isOfAct ? actCounts : 1;
  const plainness = times * plainnessOf(amiss, carriedBy(study, finding));
  const seen = { ...amiss, plainness, isOfAct, metres, of: scale === null ? "body" : "picture" } as const;
  const weight = weightOf(looks);
  const { tiers: limits, checks } = settingsOf(study);
  const given =
    givenTier(check, finding) ?? (scale === 0 || hangsOnGuess(study, check, finding) ? "polish" : undefined);
  if (given !== undefined) return { weight: weightWithin(weight, given, limits), tier: given, seen };
  const ceiling = lighter(checks.get(check.name)?.ceiling ?? check.ceiling, finding.ceiling);
  return { weight, tier: tierOf(weight, ceiling, limits), seen };
}

/** Share of its figure's mass that goes along with what was found, or rests on it, 0 to 1. */
function carriedBy(study: Study, { node, figure, seenAt, isOfFigure, carries = 0 }: Finding): number {
  if (isOfFigure === true || node < 0) return 1;
  if (figure < 0) return carriedByThings;
  const shares = massSharesBelow(study, figure);
  const carriedAt = (at: number) => (shares[at] > 0 ? shares[at] : shareByLength(study, figure, at));
  return (seenAt ?? [node]).reduce(
    (most, other) => Math.max(most, carriedAt(other)),
    Math.max(carries, carriedAt(node)),
  );
}

/**
 * What has no mass in the body's tables, as hair, ears, a tail or a skirt, is seen by its length: of a body as long, the
 * share of the mass would be the cube of its share of the stature.
 */
function shareByLength(study: Study, figure: number, node: number): number {
  return Math.min(1, farReachOf(study, node) / statureOf(study, figure)) ** 3;
}

/** A thing that belongs to no figure counts as a limb does (our choice). */
const carriedByThings = 0.05;

/** What speaks for something heavier weighs as much, as far as its check's ceiling or a given tier lets it. */
export function raisedTo(
  study: Study,
  { draft: { check, finding } }: { readonly draft: { readonly check: Check; readonly finding: Finding } },
  own: Weighed,
  other: Weighed,
): Weighed {
  if (other.weight <= own.weight || givenTier(check, finding) !== undefined) return own;
  if (isOutOfPicture(own) || hangsOnGuess(study, check, finding)) return own;
  const { tiers: limits, checks } = settingsOf(study);
  const ceiling = lighter(checks.get(check.name)?.ceiling ?? check.ceiling, finding.ceiling);
  const seen = other.seen.plainness > own.seen.plainness ? other.seen : own.seen;
  return { weight: other.weight, tier: tierOf(other.weight, ceiling, limits), seen };
}

/** Whether what was found is to be seen, and the camera does not see it. */
function isOutOfPicture({ seen: { of, metres, size } }: Weighed): boolean {
  return of === "picture" && size === 0 && metres > 0;
}

/**
 * Picture heights of a metre where a finding shows; 0 where no camera of its frames sees it. Null where it is judged by
 * the body: without a camera, and for what lies in curves and files and is no less wrong for not being seen.
 */
function scaleOfFinding(
  study: Study,
  { family }: Check,
  { node, figure, from, to, seenAt }: Finding,
): number | null {
  if (family === "data") return null;
  const figures = figuresOf(study);
  const nodes = seenAt ?? (node >= 0 ? [node] : figure >= 0 ? [carrierOf(figures[figure])] : []);
  return nodes.length === 0 ? null : scaleInPicture(study, nodes, from, to);
}

function lighter(a: Tier, b: Tier | undefined): Tier {
  return b !== undefined && tiers.indexOf(b) > tiers.indexOf(a) ? b : a;
}

/** Whether a configuration holds a check's notes lighter than the check itself would: that is meant, for what it hides too. */
export function isHeldLighter(study: Study, check: Check): boolean {
  const ceiling = settingsOf(study).checks.get(check.name)?.ceiling ?? check.ceiling;
  return tiers.indexOf(ceiling) > tiers.indexOf(check.ceiling);
}

/** The heavier of two: by tier, then by weight. */
export function heavier(a: Weighed, b: Weighed): Weighed {
  const byTier = tiers.indexOf(a.tier) - tiers.indexOf(b.tier);
  return byTier < 0 || (byTier === 0 && a.weight >= b.weight) ? a : b;
}

/** Whether a finding can be no surer than a guess about the shot, or than curves that are gone. */
function hangsOnGuess(study: Study, check: Check, finding: Finding): boolean {
  const { hangsOn = [] } = check;
  const { figure } = finding;
  if (hangsOnCutOff(study, check, finding)) return true;
  if (hangsOn.length === 0) return false;
  const { unit, bodies } = verdictOf(study);
  return (
    (hangsOn.includes("unit") && unit === "guessed") ||
    (hangsOn.includes("body") && bodies[figure]?.certainty === "guessed")
  );
}

/**
 * Whether what was found may come of what is gone with the end of a document: the curves of the part itself, of what carries
 * it, or, where it is of the whole body or compares its two sides, of any part of it; or the ground, contacts and props,
 * where none are declared.
 */
function hangsOnCutOff(
  study: Study,
  { comparesMirrored, family }: Check,
  { node, seenAt = [], figure, isOfFigure, fault }: Finding,
): boolean {
  const gone = cutOffAt(study);
  if (gone === null || family === "data") return false;
  const { surfaces, contacts, props } = headerOf(study);
  if (family === "weight" && (surfaces === undefined || contacts === undefined)) return true;
  if (family === "props" && props === undefined) return true;
  if ([node, ...seenAt].some((at) => at >= 0 && gone[at] === 1)) return true;
  if (figure < 0) return false;
  const { nodes } = figuresOf(study)[figure];
  const isOfBody =
    isOfFigure === true ||
    comparesMirrored === true ||
    fault?.kind === "massCentre" ||
    node === carrierOf(figuresOf(study)[figure]);
  return isOfBody && nodes.some((at) => gone[at] === 1);
}

/** The tier that a check of one's own or bookkeeping has whatever it weighs. */
function givenTier(check: Check, finding: Finding): Tier | undefined {
  return finding.isBookkeeping === true ? "polish" : check.tier;
}
