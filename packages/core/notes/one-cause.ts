import type { Study } from "../base/study.ts";
import type { NoteKey } from "../faults/note.ts";
import { registry } from "../faults/registry.ts";
import { reach } from "../faults/suspects.ts";
import { carrierOf, figureOfNode, figuresOf } from "../rig/body.ts";
import { type Rig, rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import type { Group } from "./group.ts";
import { isOfOthers } from "./moments.ts";

/** Which findings have one cause by what they are and where they stand, without a trial. */

/** From this share of the shorter one's frames on, two findings are of the same time (our choice: most of it). */
const sameTime = 0.5;
/** Judged frames by which two findings of one change may lie apart: what stops in one frame starts again in the next. */
export const apart = 1;
/** Links of a limb between two of its joints: shoulder, elbow and wrist, hip, knee and ankle. */
export const limbLinks = 2;
/** Seconds up to which something is a slip, and no state in which others slip as well (our choice). */
export const longestSlip = 1;
/** Judged frames that what lasts for a moment takes at the most: a stop, a pop, a corner (our choice). */
export const longestMoment = 3;

/**
 * Whether two findings have one cause by their kind and place. What a studio asks with a check of its own is told by itself,
 * and single bad frames are joined by what they have in common before (see `joinMoments`).
 */
export function haveOneCause(study: Study, a: Group, b: Group): boolean {
  if (!isOurs(a) || !isOurs(b) || a.node < 0 || b.node < 0) return false;
  if (areOneSlip(a, b)) return true;
  if (isOfMoment(a) || isOfMoment(b)) return isEdgeOfFreeze(a, b) || isEdgeOfFreeze(b, a);
  return (
    areOneState(study, a, b) ||
    areOneSpan(study, a, b) ||
    lackOneAnswer(study, a, b) ||
    areOneView(study, a, b) ||
    isOfView(study, a, b) ||
    isOfView(study, b, a) ||
    leadsInto(study, a, b) ||
    leadsInto(study, b, a) ||
    areOneEvent(study, a, b) ||
    isEdgeOfFreeze(a, b) ||
    isEdgeOfFreeze(b, a) ||
    isEdgeOnChain(study, a, b) ||
    isEdgeOnChain(study, b, a)
  );
}

/** Whether a check of the program says it, none that a studio made. */
export function isOurs({ draft: { check } }: Group): boolean {
  return ours.has(check.name);
}

const ours: ReadonlySet<string> = new Set(registry.map(({ name }) => name));

const isOfMoment = ({ draft: { check } }: Group) => check.isOfMoment === true;

/** Whether most of the shorter one's frames are the other one's as well. */
export function areOfOneTime(a: Group, b: Group): boolean {
  const shared = Math.min(a.to, b.to) - Math.max(a.from, b.from) + 1;
  return shared >= sameTime * (Math.min(a.to - a.from, b.to - b.from) + 1);
}

/**
 * The same of one joint, or of two of a limb, over the same time: a chain trembles as one, a lean that does not hold is
 * pushed into and out of. What wrong keys are is told key by key.
 */
function areOneState(study: Study, a: Group, b: Group): boolean {
  if (a.draft.check !== b.draft.check || a.draft.check.family === "data" || !areOfOneTime(a, b)) return false;
  return linksBetween(rigOf(study), a.node, b.node) <= limbLinks;
}

/**
 * Both last for more than a moment, begin and end together within the shot, and one is of what carries the other: the head
 * looks past its target for as long as the body leans.
 */
function areOneSpan(study: Study, a: Group, b: Group): boolean {
  if (isOfData(a) || isOfData(b) || a.to - a.from < longestMoment) return false;
  // What is so all along begins and ends with the shot.
  if (Math.min(a.from, b.from) === 0 || Math.max(a.to, b.to) === gridOf(study).count - 1) return false;
  if (Math.abs(a.from - b.from) > apart || Math.abs(a.to - b.to) > apart) return false;
  return linksBetween(rigOf(study), a.node, b.node) < Infinity;
}

/**
 * Both lack the answer to the same carrier, over the same time, as the panels of a skirt do, or the same parts go together
 * badly again before a second is over.
 */
function lackOneAnswer(study: Study, a: Group, b: Group): boolean {
  const [one, two] = [a.draft.finding.asked, b.draft.finding.asked];
  if (a.draft.check !== b.draft.check) return false;
  const isSoon = a.node === b.node && gapOf(a, b) * gridOf(study).dt <= longestSlip;
  if (isSoon && isOfParts(a)) return true;
  if (one === undefined || one.by !== two?.by) return false;
  return areOfOneTime(a, b) || isSoon;
}

/** Judged frames between two findings; 0 where they meet. */
export const gapOf = (a: Group, b: Group) => Math.max(0, a.from - b.to, b.from - a.to);

/** Of one curve so many keys lie on from one to the other that are of one slip (our choice): one stands between them. */
const nextKeys = 2;

/**
 * One slip of a node's keys that is seen in two ways, as a stumble that also jumps, or a pose that stops and starts again:
 * both are short, lie as near as a key can be to what it causes, and come from keys of one pose, or beside each other on
 * one curve. Two of one check are two slips.
 */
function areOneSlip(a: Group, b: Group): boolean {
  if (a.draft.check === b.draft.check || isBookkept(a) || isBookkept(b)) return false;
  if (a.to - a.from > reach || b.to - b.from > reach || gapOf(a, b) > reach) return false;
  const [one, two] = [a.keys[0], b.keys[0]];
  return areBeside(one, two) || (one !== undefined && one.node === two?.node && one.frame === two.frame);
}

/** Whether two keys are of one curve, and next to each other or the next but one. */
export function areBeside(one: NoteKey | undefined, two: NoteKey | undefined): boolean {
  if (one === undefined || one.node !== two?.node || one.channel !== two.channel) return false;
  return Math.abs(one.index - two.index) <= nextKeys;
}

/** Whether it is about keys and values as such, as what lies in a file; a value that goes too far is seen. */
function isBookkept({ draft: { check, finding } }: Group): boolean {
  return check.family === "data" && (finding.measured.unit === "frames" || check.isNeedless === true);
}

const isOfData = ({ draft: { check } }: Group) => check.family === "data";

const isView = ({ draft: { check } }: Group) => check.family === "staging" && check.isElsewhere !== true;

/** What several figures show at once comes from one thing that belongs to none of them, as a camera that moves off. */
export function haveOneThing(study: Study, a: Group, b: Group): boolean {
  const [one, two] = [a.keys[0], b.keys[0]];
  if (one === undefined || one.node !== two?.node || a.draft.check !== b.draft.check || !isOurs(a))
    return false;
  const thing = rigOf(study).indexOf.get(one.node) ?? -1;
  return thing >= 0 && figureOfNode(study, thing) < 0 && areOfOneTime(a, b);
}

/**
 * Both are how one limb is seen, over the same time: one turn of it towards the camera, or away, mends both. A picture that
 * cuts it off is moved by the camera, which turns no limb, and the other way round.
 */
function areOneView(study: Study, a: Group, b: Group): boolean {
  if (!isView(a) || !isView(b) || !areOfOneTime(a, b)) return false;
  if (isOfFigure(study, a) !== isOfFigure(study, b)) return false;
  return linksBetween(rigOf(study), a.node, b.node) <= limbLinks;
}

/** Whether what would be changed first is a figure's, and no camera's. */
function isOfFigure(study: Study, { node, keys: [first] }: Group): boolean {
  return figureOfNode(study, first === undefined ? node : (rigOf(study).indexOf.get(first.node) ?? -1)) >= 0;
}

/**
 * Whether a finding is what another one of the same view makes of it: an arm that points at the lens loses its hand in the
 * body. Turned aside it shows both; a hand that is brought out of the body may leave the arm as it is.
 */
export function comesOfView(study: Study, a: Group, b: Group): boolean {
  const [seen, cause] = [a.draft.check.name, b.draft.check.name];
  return seen === "merged-silhouette" && cause === "limb-at-lens" && areOneView(study, a, b);
}

/**
 * Whether a limb's finding lies in a pose of the limb that does not read, or on its way into or out of it: who poses the limb
 * anew keys these moves anew.
 */
function isOfView(study: Study, view: Group, group: Group): boolean {
  const [key] = view.keys;
  if (!isView(view) || isView(group) || isOfData(group) || key === undefined) return false;
  const isWithin = group.from >= view.from && group.to <= view.to;
  if (!isWithin && !isAtEdge(view, group)) return false;
  const rig = rigOf(study);
  const poses = rig.indexOf.get(key.node) ?? -1;
  return (
    linksBetween(rig, view.node, group.node) <= limbLinks && linksBetween(rig, poses, view.node) <= limbLinks
  );
}

/**
 * Whether a finding is under way at the first or the last frame of another one. What was there before, and goes on behind
 * it, leads neither into it nor out of it.
 */
function isAtEdge(state: Group, group: Group): boolean {
  if (group.from < state.from - apart && group.to > state.to + apart) return false;
  const isThere = (frame: number) => group.from - apart <= frame && frame <= group.to + apart;
  return isThere(state.from) || isThere(state.to);
}

/**
 * Whether a finding is the move into a state, or out of it: how parts go together in it is wrong by the same node's keys, or
 * a leg jumps or stops where the body sets out into a lean, or comes back.
 */
function leadsInto(study: Study, state: Group, move: Group): boolean {
  if (isOfParts(state) || isOfData(state) || isOfData(move) || !isAtEdge(state, move)) return false;
  // A whole figure that stands still moves into nothing.
  if (isFreeze(move)) return false;
  if (state.to - state.from < longestMoment) return false;
  const links = linksBetween(rigOf(study), state.node, move.node);
  const [one, two] = [state.keys[0], move.keys[0]];
  if (isOfParts(move)) return one !== undefined && one.node === two?.node && links < Infinity;
  const figure = figuresOf(study)[state.draft.finding.figure];
  if (figure === undefined || state.node !== carrierOf(figure) || state.draft.check.family !== "weight")
    return false;
  return move.to - move.from < longestMoment && links <= limbLinks;
}

/** Whether it is about how several parts of a figure go together: no slip of any of them, however short the move is. */
export function isOfParts({ draft: { check } }: Group): boolean {
  return check.scope === "figure" && (check.family === "parts" || check.family === "spacing");
}

/** Whether it is a freeze of a whole figure, which no key of it makes alone. */
export function isFreeze(group: Group): boolean {
  return isOfParts(group) && group.draft.finding.isOfFigure === true;
}

/**
 * Both are of one event of the whole body, as a landing or a push: what its carrier does in time, and what else comes from
 * the carrier's keys right before or after. It lasts no longer than a slip; a state that goes on is told by itself.
 */
function areOneEvent(study: Study, a: Group, b: Group): boolean {
  const figure = figuresOf(study)[a.draft.finding.figure];
  if (figure === undefined) return false;
  const carrier = carrierOf(figure);
  const id = rigOf(study).ids[carrier];
  const { dt } = gridOf(study);
  const isOfBody = (group: Group) =>
    group.draft.check.scope === "figure" && !isOfParts(group) && !isView(group) && group.keys[0]?.node === id;
  if ((a.node !== carrier && b.node !== carrier) || !isOfBody(a) || !isOfBody(b)) return false;
  return [a.to - a.from, b.to - b.from].every((long) => long * dt <= longestSlip) && gapOf(a, b) <= reach;
}

/** Whether a finding yields to the other one's check, and stands at one of its ends. */
function isEdgeOf(group: Group, other: Group): boolean {
  if (group.draft.check.yieldsTo?.some((name) => name === other.draft.check.name) !== true) return false;
  const near = (frame: number) => group.from - apart <= frame && frame <= group.to + apart;
  return near(other.from) || near(other.to);
}

/** Whether a part stops, or sets out, where the whole figure freezes, or comes out of it. */
function isEdgeOfFreeze(group: Group, freeze: Group): boolean {
  return freeze.draft.finding.isOfFigure === true && isEdgeOf(group, freeze);
}

/**
 * Whether a finding is an end of what it would yield to on a joint of the same limb; farther away, or of what carries the
 * whole body, it is where it has no keys of its own.
 */
function isEdgeOnChain(study: Study, group: Group, other: Group): boolean {
  if (!isEdgeOf(group, other)) return false;
  const links = linksBetween(rigOf(study), group.node, other.node);
  const figure = figuresOf(study)[group.draft.finding.figure];
  const carrier = figure === undefined ? -1 : carrierOf(figure);
  const isOfLimb = links <= limbLinks && group.node !== carrier && other.node !== carrier;
  return isOfLimb || (links < Infinity && !isOfOthers(group, other));
}

/** How many joints one node is below the other; infinite where neither hangs on the other. */
export function linksBetween({ parent }: Rig, a: number, b: number): number {
  for (const [from, to] of [
    [a, b],
    [b, a],
  ]) {
    let links = 0;
    for (let node = from; node >= 0; node = parent[node], links++) if (node === to) return links;
  }
  return Infinity;
}
