import type { Study } from "../base/study.ts";
import { registry } from "../faults/registry.ts";
import { carrierOf, figuresOf } from "../rig/body.ts";
import { type Rig, rigOf } from "../rig/rig.ts";
import type { Group } from "./group.ts";
import { isOfOthers } from "./moments.ts";

/** Which findings have one cause by what they are and where they stand, without a trial. */

/** From this share of the shorter one's frames on, two findings are of the same time (our choice: most of it). */
const sameTime = 0.5;
/** Judged frames by which two findings of one change may lie apart: what stops in one frame starts again in the next. */
const apart = 1;
/** Links of a limb between two of its joints: shoulder, elbow and wrist, hip, knee and ankle. */
const limbLinks = 2;

/**
 * Whether two findings have one cause by their kind and place. What a studio asks with a check of its own is told by itself,
 * and single bad frames are joined by what they have in common before (see `joinMoments`).
 */
export function haveOneCause(study: Study, a: Group, b: Group): boolean {
  if (!isOurs(a) || !isOurs(b) || a.node < 0 || b.node < 0) return false;
  if (isOfMoment(a) || isOfMoment(b)) return isEdgeOfFreeze(a, b) || isEdgeOfFreeze(b, a);
  return (
    areOneState(study, a, b) ||
    lackOneAnswer(a, b) ||
    areOneView(study, a, b) ||
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
function areOfOneTime(a: Group, b: Group): boolean {
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

/** Both lack the answer to the same carrier, over the same time, as the panels of a skirt do. */
function lackOneAnswer(a: Group, b: Group): boolean {
  const [one, two] = [a.draft.finding.asked, b.draft.finding.asked];
  if (one === undefined || two === undefined || a.draft.check !== b.draft.check) return false;
  return one.by === two.by && areOfOneTime(a, b);
}

/** Both are how one limb is seen, over the same time: one turn of it towards the camera, or away, mends both. */
function areOneView(study: Study, a: Group, b: Group): boolean {
  const isView = ({ draft: { check } }: Group) => check.family === "staging" && check.isElsewhere !== true;
  if (!isView(a) || !isView(b) || !areOfOneTime(a, b)) return false;
  return linksBetween(rigOf(study), a.node, b.node) <= limbLinks;
}

/**
 * Whether a finding is what another one of the same view makes of it: an arm that points at the lens loses its hand in the
 * body. Turned aside it shows both; a hand that is brought out of the body may leave the arm as it is.
 */
export function comesOfView(study: Study, a: Group, b: Group): boolean {
  const [seen, cause] = [a.draft.check.name, b.draft.check.name];
  return seen === "merged-silhouette" && cause === "limb-at-lens" && areOneView(study, a, b);
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
function linksBetween({ parent }: Rig, a: number, b: number): number {
  for (const [from, to] of [
    [a, b],
    [b, a],
  ]) {
    let links = 0;
    for (let node = from; node >= 0; node = parent[node], links++) if (node === to) return links;
  }
  return Infinity;
}
