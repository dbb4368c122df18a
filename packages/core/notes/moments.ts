import type { Study } from "../base/study.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { isAbove, type Rig, rigOf } from "../rig/rig.ts";
import type { Group } from "./groups.ts";
import { heavier } from "./weighed.ts";

/** At most so many keys of a group of many parts are named. */
export const mostKeys = 8;

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
  if (Math.abs(a.from - b.from) > 1 || Math.abs(a.to - b.to) > 1) return false;
  return isAbove(rig, a.node, b.node) || isAbove(rig, b.node, a.node);
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
  const bySize = all.filter((group) => !silent.has(group) && !(silent.has(first) && yields(group, first)));
  if (bySize.length < 2) return bySize;
  const [speaker] = bySize;
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
  ];
}
