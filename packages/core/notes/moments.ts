import type { Study } from "../base/study.ts";
import type { NoteKey } from "../faults/note.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { isAbove, type Rig, rigOf } from "../rig/rig.ts";
import type { Group } from "./group.ts";
import { heavier } from "./weighed.ts";

/** At most so many keys of a group of many parts are named. */
export const mostKeys = 8;

/** From this share of the fault on that went in a trial, the causing key's node is where the note belongs. */
export const sureShare = 0.5;

/** What checks of single bad frames find in several parts at the same moment comes from that frame's pose. */
const isOfMoment = ({ draft }: Group) => draft.check.isOfMoment === true;
/** From so many parts on, a moment is one fault of the pose; fewer are told limb by limb. */
const fewestParts = 3;
/**
 * Makes one group of those that single bad frames leave in three or more parts at the same moment, or in two of which
 * one hangs on the other. Parts that a silenced check would tell of count, and where one of them would speak for the
 * moment, what yields to it is silent.
 */
export function joinMoments(
  study: Study,
  groups: readonly Group[],
  unsaid: readonly Group[],
): readonly Group[] {
  const said = groups.filter(isOfMoment);
  const silent = unsaid.filter((other) => isOfMoment(other) && said.some((group) => yields(group, other)));
  const moments = [...said, ...silent].sort((a, b) => a.from - b.from);
  const joined: Group[] = [];
  for (let i = 0; i < moments.length; ) {
    let end = i + 1;
    while (end < moments.length && moments[end].from - moments[i].from <= 1) end++;
    for (const moment of byBody(study, moments.slice(i, end))) {
      joined.push(...joinedMoment(study, moment, new Set(silent)));
    }
    i = end;
  }
  return [...groups.filter((group) => !isOfMoment(group)), ...joined];
}

/** Index of the figure on which a group stands, where more than its root is known; -1 for a thing. */
function bodyOf(study: Study, { node }: Group): number {
  const figure = node < 0 ? -1 : figureOfNode(study, node);
  return figure < 0 || figuresOf(study)[figure].parts.size < 2 ? -1 : figure;
}

/** What several bodies do at one moment is told of each; things go with the body where there is one alone. */
function byBody(study: Study, moment: readonly Group[]): readonly (readonly Group[])[] {
  const bodies = new Map<number, Group[]>();
  for (const group of moment) {
    const body = bodyOf(study, group);
    const own = bodies.get(body);
    if (own === undefined) bodies.set(body, [group]);
    else own.push(group);
  }
  return [...bodies.keys()].filter((body) => body >= 0).length < 2 ? [moment] : [...bodies.values()];
}

function yields({ draft }: Group, other: Group): boolean {
  return draft.check.yieldsTo?.some((name) => name === other.draft.check.name) === true;
}

/** Whether a check finds the same frame in two parts of which one hangs on the other. */
function areOfOneChain(rig: Rig, [a, b]: readonly Group[]): boolean {
  if (b === undefined || a.draft.check !== b.draft.check || a.node < 0 || b.node < 0) return false;
  // What lasts longer in one of them is no single bad frame.
  return lastAlike(a, b) && (isAbove(rig, a.node, b.node) || isAbove(rig, b.node, a.node));
}

function joinedMoment(study: Study, moment: readonly Group[], silent: ReadonlySet<Group>): readonly Group[] {
  if (moment.length < fewestParts && !areOfOneChain(rigOf(study), moment))
    return moment.filter((group) => !silent.has(group));
  // A body, of which more than its root is known, speaks for what it holds: a rope stands because its hands do.
  const isThing = (group: Group) => (bodyOf(study, group) < 0 ? 1 : 0);
  const all = [...moment].sort(
    (a, b) => isThing(a) - isThing(b) || b.draft.finding.size - a.draft.finding.size || a.node - b.node,
  );
  const [first] = all;
  const told = all.filter((group) => !silent.has(group) && !(silent.has(first) && yields(group, first)));
  if (told.length < 2) return told;
  // The slip of what carries all of them is told before what it leaves in each.
  const rig = rigOf(study);
  const isCarried = (group: Group) =>
    told.some((other) => yields(group, other) && carries(rig, other, group));
  const speaker = told.find((group) => !isCarried(group)) ?? told[0];
  // What is wrong in another way, for another time and from keys of its own is not of that frame's pose.
  const isOwn = (group: Group) =>
    group.draft.check !== speaker.draft.check && !lastAlike(group, speaker) && isOfOthers(group, speaker);
  const own = told.filter(isOwn);
  const bySize = [speaker, ...told.filter((group) => group !== speaker && !isOwn(group))];
  if (bySize.length < 2) return told;
  // Its own keys first, then the first key of each other part.
  const keys = [...speaker.keys, ...bySize.slice(1).flatMap((group) => group.keys.slice(0, 1))];
  const named = new Set<string>();
  const distinct = keys.filter(({ node, channel, index }) => {
    const name = `${node} ${channel} ${index}`;
    return !named.has(name) && named.add(name);
  });
  return [
    {
      ...speaker,
      keys: distinct.slice(0, mostKeys),
      seenAt: [...new Set(bySize.flatMap((group) => group.seenAt))],
      weighed: bySize.map((group) => group.weighed).reduce(heavier),
      also: bySize.length - 1,
    },
    ...own,
  ];
}

/** Whether one of two stands on a node that carries that of the other. */
const carries = (rig: Rig, { node }: Group, other: Group) =>
  node >= 0 && other.node >= 0 && node !== other.node && isAbove(rig, node, other.node);

/** Whether two begin within a frame of each other, and end so. */
function lastAlike(a: Group, b: Group): boolean {
  return Math.abs(a.from - b.from) <= 1 && Math.abs(a.to - b.to) <= 1;
}

/**
 * Whether a finding comes from keys of a node of which the other one names none: what carries a part does not speak for
 * the part's own slip.
 */
export function isOfOthers({ draft: { keys } }: Group, other: Group): boolean {
  const [first] = keys;
  if (first === undefined || other.draft.keys.length === 0) return false;
  const isOne = isSure(first) || keys.every(({ node }) => node === first.node);
  return isOne && other.draft.keys.every(({ node }) => node !== first.node);
}

/** Whether most of a fault went with a key in a trial. */
export const isSure = ({ share }: NoteKey) => share !== undefined && share >= sureShare;
