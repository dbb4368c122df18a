import type { Study } from "../base/study.ts";
import { shareWith } from "../faults/cause.ts";
import type { NoteKey } from "../faults/note.ts";
import { reach } from "../faults/suspects.ts";
import { type Figure, figuresOf } from "../rig/body.ts";
import { isAbove, rigOf } from "../rig/rig.ts";
import { tiers } from "../settings/tier.ts";
import { gridOf } from "../time/grid.ts";
import type { Draft, Group } from "./group.ts";
import {
  apart,
  areBeside,
  areOfOneTime,
  comesOfView,
  gapOf,
  haveOneCause,
  haveOneThing,
  isFreeze,
  isOfParts,
  isOurs,
  limbLinks,
  linksBetween,
  longestMoment,
  longestSlip,
} from "./one-cause.ts";
import { standingOf } from "./rank.ts";
import { isOfCycle, type Told } from "./turns-of-cycle.ts";
import { heavier, raisedTo, type Weighed } from "./weighed.ts";

/** A group that speaks for others, because one change clears them all; they stand beside it. */
export interface SpokenFor extends Group {
  /** The groups that it speaks for; none of them is of a heavier tier than it. */
  readonly others: readonly Group[];
}

/** From this share of a fault on that goes with the keys of another one, both are one (our choice: most of it is gone). */
const goesAlong = 0.5;
/** What does less than this share of what a finding's own key does is not its cause (our choice, as for keys beside). */
const asMuch = 0.98;
/**
 * Left and right are told together where this share of the frames of both is shared, and what has one of many keys with
 * another finding (our choice).
 */
const ofBoth = 0.5;

const none: readonly never[] = [];

/**
 * Puts what one change clears under one note: of the heaviest tier the plainest speaks, the others are listed under it.
 * @param groups what is said; one of them is never put under one that is lighter
 */
export function oneFaultEach(study: Study, groups: readonly Group[]): readonly SpokenFor[] {
  const told: SpokenFor[] = [];
  const far = farApart(study);
  const areOne = (a: Group, b: Group) =>
    gapOf(a, b) > far ? isOneFromAfar(study, a, b) : isOne(study, a, b);
  const left = [...groups].sort(byWeight);
  const beside: Group[] = [];
  while (left.length > 0) {
    // Of a long list nearly every group speaks for itself: what is left closes up in place.
    const speaker = left[0];
    left.copyWithin(0, 1);
    left.length--;
    beside.length = 0;
    for (const other of left) if (areOne(speaker, other)) beside.push(other);
    if (beside.length === 0) {
      told.push(spokenFor(study, speaker, none));
      continue;
    }
    // What is one with those, and the same as what speaks for them, is one with it; and what goes with one of their keys.
    const isSame = (other: Group) => other.draft.check === speaker.draft.check && other.node === speaker.node;
    const goesWithThem = (other: Group) =>
      beside.some((one) => (isSame(other) ? areOne(one, other) : goesToo(study, one, other)));
    const others = left.filter((other) => beside.includes(other) || goesWithThem(other));
    told.push(spokenFor(study, speaker, others));
    let kept = 0;
    for (const other of left) if (!others.includes(other)) left[kept++] = other;
    left.length = kept;
  }
  return told;
}

/** What is told together: who speaks, and how plainly the fault is seen. */
function spokenFor(study: Study, heaviest: Group, others: readonly Group[]): SpokenFor {
  // Of those in its tier the plainest speaks: what is seen first is said first. How parts go together in a move, or in a
  // freeze, is the frame of what else is wrong there.
  const alike = others.filter((one) => one.weighed.tier === heaviest.weighed.tier && !isOfParts(one));
  const first = [heaviest, ...alike].reduce((a, b) =>
    b.weighed.seen.plainness > a.weighed.seen.plainness ? b : a,
  );
  const speaker = speakerOf(
    study,
    first,
    [heaviest, ...others].filter((one) => one !== first),
  );
  // The fault is as plain as what is seen of it.
  const plainest = [speaker, ...speaker.others].map(({ weighed }) => weighed).reduce(plainer);
  return plainest === speaker.weighed
    ? speaker
    : { ...speaker, weighed: { ...speaker.weighed, seen: plainest.seen } };
}

/** The one that stands higher; polish makes no fault plainer. */
const plainer = (a: Weighed, b: Weighed) =>
  b.tier !== "polish" && standingOf(b.tier, b.seen.plainness) > standingOf(a.tier, a.seen.plainness) ? b : a;

/**
 * The first speaks, but where it yields to one of the others, does not answer to it, or comes of how that is seen, and
 * that can weigh as much as it does, that one.
 */
function speakerOf(study: Study, first: Group, others: readonly Group[]): SpokenFor {
  const names: readonly string[] = first.draft.check.yieldsTo ?? [];
  for (const other of others) {
    const answers = answersTo(study, first, other);
    const yields = names.includes(other.draft.check.name) || comesOfView(study, first, other);
    if (!yields && !answers) continue;
    let raised = raisedTo(study, other, other.weighed, first.weighed);
    const { tier } = first.weighed;
    // What does not answer may be held lighter by its check than the slip by its own: it makes the slip no heavier.
    if (answers && tiers.indexOf(raised.tier) < tiers.indexOf(tier)) raised = { ...raised, tier };
    if (raised.tier !== tier) continue;
    const rest = [first, ...others.filter((one) => one !== other)];
    return { ...other, weighed: raised, others: rest };
  }
  return { ...first, others };
}

function byWeight(a: Group, b: Group): number {
  if (a.weighed.tier !== b.weighed.tier) return heavier(a.weighed, b.weighed) === a.weighed ? -1 : 1;
  return b.weighed.weight - a.weighed.weight || a.from - b.from || a.node - b.node;
}

/**
 * Judged frames between two findings from which on nothing but that they are the same again makes them one: the seconds of
 * a slip, and all that is counted in frames.
 */
export function farApart(study: Study): number {
  return 1 + Math.max(reach, apart, sideLag, Math.ceil(longestSlip / gridOf(study).dt));
}

/** {@link isOne} of two findings that lie {@link farApart}, as most pairs of a long shot do: it costs next to nothing. */
export function isOneFromAfar(study: Study, a: Group, b: Group): boolean {
  if (a.node !== b.node || a.draft.check !== b.draft.check) return false;
  if (a.draft.finding.figure !== b.draft.finding.figure) return false;
  return isAgain(study, a, b);
}

/** Whether one change clears two findings. */
export function isOne(study: Study, a: Group, b: Group): boolean {
  if (a.draft.finding.figure !== b.draft.finding.figure) return haveOneThing(study, a, b);
  if (a.draft.check === b.draft.check && (areSides(study, a, b) || isAgain(study, a, b))) return true;
  // What no key holds, as a colour, is cleared by no change of the motion.
  if ((a.draft.check.isElsewhere === true) !== (b.draft.check.isElsewhere === true)) return false;
  if ((gapOf(a, b) <= reach && haveOneKey(a, b)) || haveOneCause(study, a, b)) return true;
  if (gapOf(a, b) > apart) return false;
  return (
    areTimesOfKeys(a, b) ||
    areOfOneMoment(study, a, b) ||
    answersTo(study, a, b) ||
    answersTo(study, b, a) ||
    comesFrom(study, b, a) ||
    isWithin(study, a, b) ||
    isWithin(study, b, a) ||
    goesWith(study, a.draft, b.draft) ||
    goesWith(study, b.draft, a.draft)
  );
}

/** Judged frames by which left and right may be offset and do the same still: common practice is two or three. */
const sideLag = 3;

/** The same of one part's two sides, or of several nodes of it, over the same time; bad frames are told limb by limb. */
function areSides(study: Study, a: Group, b: Group): boolean {
  if (a.draft.check.isOfMoment === true || a.node < 0 || b.node < 0 || a.node === b.node) return false;
  const isOfOneTime =
    shareTime(a, b) || (Math.abs(a.from - b.from) <= sideLag && Math.abs(a.to - b.to) <= sideLag);
  // One foot slides out with a sway of the hips, the other one in.
  if (!isOfOneTime && !(gapOf(a, b) <= apart && areBeside(a.keys[0], b.keys[0]))) return false;
  const figure = figuresOf(study)[a.draft.finding.figure];
  const [one, two] = [a, b].map(({ node }) => sidelessPart(figure, node));
  return one !== undefined && one === two;
}

function shareTime(a: Group, b: Group): boolean {
  const shared = Math.min(a.to, b.to) - Math.max(a.from, b.from) + 1;
  const whole = Math.max(a.to, b.to) - Math.min(a.from, b.from) + 1;
  return shared >= ofBoth * whole;
}

function sidelessPart(figure: Figure | undefined, node: number): string | undefined {
  return figure?.partOf.get(node)?.replace(/^(left|right)/, "");
}

/**
 * The same of one part at another time: of the same channel from step to step, by so much alike that one shift of the part
 * clears both, or whatever it is that the part never does.
 */
function isAgain(study: Study, one: Group, again: Group): boolean {
  const { draft: a, node, keys } = one;
  const { draft: b, node: other, keys: others } = again;
  const repeats = a.check.repeats;
  if (node !== other) return false;
  if (!isOfKeys(one) && isOfCycle(study, toldOf(one), toldOf(again))) return true;
  // A key that stands in none of their frames is the one that holds the part all along.
  const holds = keys[0] !== undefined && isSame(keys[0], others[0]) && a.check.isOfMoment !== true;
  if (holds && !isOfKeys({ draft: a }) && a.check.family !== "data") return true;
  if (repeats === undefined) return false;
  if (repeats === "always") return true;
  if (keys.length === 0 || others.length === 0) return false;
  const isOneChannel = keys[0].node === others[0].node && keys[0].channel === others[0].channel;
  if (repeats === "steps") return isOneChannel;
  const limit = a.finding.expected.max;
  return limit !== undefined && Math.abs(a.finding.measured.value - b.finding.measured.value) <= limit;
}

/**
 * Both come first of all from one key; what is wrong with keys as such is another matter than what they move. The keys of a
 * freeze are the last ones of all that moved before it: what is over by then is not of it.
 */
function haveOneKey(a: Group, b: Group): boolean {
  if (isOfKeys(a) || isOfKeys(b) || !isSure(a) || !isSure(b)) return false;
  if ((isFreeze(a) || isFreeze(b)) && !areOfOneTime(a, b)) return false;
  // A long state is keyed by many keys: what is wrong for a moment at one of them is another fault, but at the first.
  const isMeant = shareTime(a, b) ? isCause : isFirst;
  return isMeant(a, b.keys[0]) || isMeant(b, a.keys[0]);
}

const toldOf = ({ draft, keys }: Group): Told => ({ value: draft.finding.measured.value, key: keys[0] });

/** Whether most of a finding went with its first key, or the check itself knows the keys. */
function isSure({ draft: { tried, finding } }: Group): boolean {
  return finding.fault?.kind === "keys" || tried >= goesAlong;
}

/** Whether a key comes first, or is one of those that a check knows to be the cause together. */
function isCause({ keys, draft }: Group, key: NoteKey | undefined): boolean {
  const causes = draft.finding.fault?.kind === "keys" ? keys : keys.slice(0, 1);
  return causes.some((one) => isSame(one, key));
}

function isFirst({ keys }: Group, key: NoteKey | undefined): boolean {
  return keys.length > 0 && isSame(keys[0], key);
}

function isSame(a: NoteKey, b: NoteKey | undefined): boolean {
  return a.node === b?.node && a.channel === b.channel && a.index === b.index;
}

/** Whether a check is about when keys are, or that they are there at all. */
function isOfKeys({ draft: { check, finding } }: Pick<Group, "draft">): boolean {
  return check.family === "data" && (finding.measured.unit === "frames" || check.isNeedless === true);
}

/** Both are of when the keys of one channel are, or of all channels of a node at one frame. */
function areTimesOfKeys(a: Group, b: Group): boolean {
  if (!isOfKeys(a) || !isOfKeys(b)) return false;
  if (a.draft.finding.measured.unit !== b.draft.finding.measured.unit) return false;
  const [one, two] = [a.keys[0], b.keys[0]];
  if (one === undefined || two === undefined || one.node !== two.node) return false;
  return one.channel === two.channel || one.frame === two.frame;
}

/**
 * Both last for a moment, which is the same, on a part and on what carries it in one limb: a limb whose joints all stop at
 * one frame has one hard stop, which reads as a corner of its end as well. A studio's own check knows what its moments are.
 */
function areOfOneMoment(study: Study, a: Group, b: Group): boolean {
  if (a.node < 0 || b.node < 0 || isOfKeys(a) || isOfKeys(b) || !isOurs(a) || !isOurs(b)) return false;
  // Single bad frames are joined by what they have in common before (see `joinMoments`).
  if (a.draft.check.isOfMoment === true && b.draft.check.isOfMoment === true) return false;
  if (a.to - a.from >= longestMoment || b.to - b.from >= longestMoment) return false;
  // On one joint what is next to each other may be two slips; what is there at once is one.
  if (a.node === b.node) return gapOf(a, b) === 0;
  return linksBetween(rigOf(study), a.node, b.node) <= limbLinks;
}

/** From this share on of what asks a part for an answer, one thing asks for it (our choice: nearly all). */
const nearlyAll = 0.8;

/**
 * Whether a part that does not answer is asked to by nothing but a slip of what carries it: with the slip goes the
 * question.
 */
function answersTo(study: Study, group: Group, slip: Group): boolean {
  const { asked } = group.draft.finding;
  if (asked === undefined || slip.node < 0 || !isShort(study, slip)) return false;
  if (slip.node !== asked.by && !isAbove(rigOf(study), slip.node, asked.by)) return false;
  let all = 0;
  let own = 0;
  asked.weights.forEach((weight, k) => {
    const i = asked.from + k;
    all += weight;
    // What changes at a frame accelerates over the frame beside it.
    if (i >= slip.from - apart && i <= slip.to + apart + asked.late) own += weight;
  });
  return own > 0 && own >= nearlyAll * all;
}

function isShort(study: Study, { from, to }: Group): boolean {
  return (to - from) * gridOf(study).dt <= longestSlip;
}

/**
 * Whether a finding lies within a slip, in time and by its cause: it comes first of all from a key of the node that the
 * slip comes from, within the slip's frames. What a studio asks with a check of its own is told by itself.
 */
function isWithin(study: Study, slip: Group, group: Group): boolean {
  if (!isOurs(slip) || !isOurs(group) || isOfKeys(slip) || isOfKeys(group)) return false;
  if (isOfParts(slip) || !isShort(study, slip)) return false;
  // What comes again as often as a pose is held is a state, however short.
  if (slip.draft.check.repeats !== undefined) return false;
  if (group.from < slip.from - apart || group.to > slip.to + apart) return false;
  const [cause, own] = [slip.keys[0], group.keys[0]];
  if (cause === undefined || own === undefined || cause.node !== own.node) return false;
  const { frames, step } = gridOf(study);
  // A key between two frames is of the nearer one.
  return own.frame >= frames[slip.from] - step / 2 && own.frame <= frames[slip.to] + step / 2;
}

/** What has no sure cause of its own comes from what carries it, where that fails in the same frames. */
function comesFrom(study: Study, group: Group, carrier: Group): boolean {
  const { tried, finding } = group.draft;
  if (tried >= goesAlong || carrier.draft.tried < goesAlong || finding.fault?.kind === "keys") return false;
  if (group.from < carrier.from - apart || group.to > carrier.to + apart) return false;
  return group.node >= 0 && carrier.node >= 0 && isAbove(rigOf(study), carrier.node, group.node);
}

/** Whether most of a finding goes when the key that causes another one is put right: measured, once for each pair. */
function goesWith(study: Study, cause: Draft, draft: Draft): boolean {
  const { mended } = cause;
  if (mended === null || mended === undefined || cause.tried < goesAlong) return false;
  let shares = trials.get(cause);
  if (shares === undefined) {
    shares = new WeakMap();
    trials.set(cause, shares);
  }
  let share = shares.get(draft);
  if (share === undefined) {
    share = shareWith(study, draft.finding.fault, mended);
    shares.set(draft, share);
  }
  // What its own key does more for has that key as its cause, unless it is gone with this one as well.
  return share >= goesAlong && (share >= asMuch * draft.tried || share >= 1 - 1 / draft.finding.excess);
}

/** Whether most of one goes when what causes the other one is put right. */
function goesToo(study: Study, one: Group, other: Group): boolean {
  return gapOf(one, other) <= apart && goesWith(study, one.draft, other.draft);
}

/** What was measured of two drafts. A draft is made anew when anything changes that its own trials read. */
const trials = new WeakMap<Draft, WeakMap<Draft, number>>();
