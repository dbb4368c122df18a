import type { Study } from "../base/study.ts";
import type { Check } from "../faults/check.ts";
import type { NoteKey } from "../faults/note.ts";
import { isAbove, rigOf } from "../rig/rig.ts";
import { tiers } from "../settings/tier.ts";
import type { Draft, Group } from "./group.ts";
import { isOfOthers, isSure, joinMoments, mostKeys, sureShare } from "./moments.ts";
import { heavier, isHeldLighter, raisedTo, type Weighed, weighed } from "./weighed.ts";

/**
 * Groups drafts into faults: one that travels down a chain is one at its cause, where two checks say the same the one
 * that names the cause says it, and a frame on which many parts fail is one fault of that frame.
 * @param unsaid what silenced checks would say: it speaks for others and is not told itself
 */
export function groupsOf(study: Study, drafts: readonly Draft[], unsaid: readonly Draft[]): readonly Group[] {
  const groups = mergeByCause(study, drafts);
  const silent = mergeByCause(study, unsaid).filter((other) => !isSaid(study, other, groups));
  return joinMoments(study, foldBookkeeping(dropSaidBetter(study, groups, silent)), silent);
}

/** What a check finds in the bookkeeping of keys is one group: the one farthest past its threshold. */
function foldBookkeeping(groups: readonly Group[]): readonly Group[] {
  const byCheck = new Map<string, Group[]>();
  const told: Group[] = [];
  for (const group of groups) {
    const { check, finding } = group.draft;
    const list = byCheck.get(check.name);
    if (finding.isBookkeeping !== true) told.push(group);
    else if (list === undefined) byCheck.set(check.name, [group]);
    else list.push(group);
  }
  for (const list of byCheck.values()) told.push(folded(list));
  return told;
}

function folded(list: Group[]): Group {
  const [speaker, ...others] = list.sort(
    (a, b) => b.draft.finding.excess - a.draft.finding.excess || a.node - b.node,
  );
  if (others.length === 0) return speaker;
  return {
    ...speaker,
    keys: [...speaker.keys, ...others.flatMap(({ keys }) => keys.slice(0, 1))].slice(0, mostKeys),
    seenAt: [...new Set([speaker, ...others].flatMap(({ seenAt }) => seenAt))],
    again: others.map(({ node }) => node),
  };
}

/** A check whose thresholds were raised still says the heaviest of what it would say. */
function isSaid(study: Study, unsaid: Group, groups: readonly Group[]): boolean {
  return groups.some(
    (group) => group.draft.check === unsaid.draft.check && saysTheSame(study, group, unsaid),
  );
}

/** Drafts of one check that name the same first key over frames that meet become one. */
function mergeByCause(study: Study, drafts: readonly Draft[]): Group[] {
  const groups: Group[] = [];
  const byCause = new Map<string, Draft[]>();
  for (const draft of drafts) {
    const first = draft.keys[0];
    if (draft.check.followsCause !== true || first === undefined) {
      groups.push(alone(study, draft));
      continue;
    }
    const cause = `${draft.check.name} ${first.node} ${first.channel.split(".")[0]}`;
    const list = byCause.get(cause);
    if (list === undefined) byCause.set(cause, [draft]);
    else list.push(draft);
  }
  for (const list of byCause.values()) {
    list.sort((a, b) => a.finding.from - b.finding.from);
    let run: Draft[] = [];
    let end = -1;
    for (const draft of list) {
      if (run.length > 0 && draft.finding.from > end + 1) {
        groups.push(merged(study, run));
        run = [];
      }
      run.push(draft);
      end = Math.max(run.length === 1 ? -1 : end, draft.finding.to);
    }
    if (run.length > 0) groups.push(merged(study, run));
  }
  return groups;
}

function alone(study: Study, draft: Draft): Group {
  const { node, from, to } = draft.finding;
  return {
    draft,
    node,
    seenAt: seenAtOf(draft),
    from,
    to,
    weighed: weighed(study, draft),
    keys: draft.keys,
    also: 0,
  };
}

function seenAtOf({ finding: { node, seenAt } }: Draft): readonly number[] {
  return seenAt ?? (node < 0 ? [] : [node]);
}

function merged(study: Study, run: readonly Draft[]): Group {
  const bySize = [...run].sort((a, b) => b.finding.size - a.finding.size || a.finding.node - b.finding.node);
  // Where the causing node shows the fault itself, its own words are the plainest; else the most visible part's.
  const cause = bySize[0].keys[0];
  const causeNode = rigOf(study).indexOf.get(cause.node) ?? bySize[0].finding.node;
  const sure = run.some(({ tried }) => tried >= sureShare);
  const own = bySize.find((draft) => draft.finding.node === causeNode);
  const speaker = sure && own !== undefined ? own : bySize[0];
  return {
    draft: speaker,
    node: sure ? causeNode : speaker.finding.node,
    seenAt: [...new Set([speaker, ...bySize].flatMap(seenAtOf))],
    from: speaker.finding.from,
    to: speaker.finding.to,
    weighed: run.map((draft) => weighed(study, draft)).reduce(heavier),
    keys: speaker.keys,
    also: 0,
  };
}

/**
 * Drops groups of checks that yield to another check's group over frames that meet, be it said or unsaid: one that
 * shows on the group's own node or has its key. A fault of a part does not speak for what carries it. Who speaks weighs
 * as much as the heaviest that it speaks for; what its check's own ceiling keeps it from reaching is told beside it, so
 * that nothing heavy hides behind something light.
 */
function dropSaidBetter(study: Study, groups: readonly Group[], unsaid: readonly Group[]): readonly Group[] {
  const byCheck = new Map<string, Group[]>();
  for (const group of [...groups, ...unsaid]) {
    const list = byCheck.get(group.draft.check.name);
    if (list === undefined) byCheck.set(group.draft.check.name, [group]);
    else list.push(group);
  }
  const speakersOf = (group: Group) =>
    group.draft.check.yieldsTo?.flatMap(
      (name) => byCheck.get(name)?.filter((other) => saysTheSame(study, group, other)) ?? [],
    ) ?? [];
  const silent = new Set(unsaid);
  const raised = new Map<Group, Weighed>();
  // From check to check: what yields comes before what it yields to, so that weights are handed on.
  const told = inYieldingOrder(groups).filter((group) => {
    const speakers = speakersOf(group);
    if (speakers.length === 0) return true;
    if (speakers.some((other) => silent.has(other))) return false;
    const own = raised.get(group) ?? group.weighed;
    const would = speakers.map(
      (other) => [other, raisedTo(study, other, raised.get(other) ?? other.weighed, own)] as const,
    );
    const [speaker, weight] = would.reduce((a, b) => (b[1].weight > a[1].weight ? b : a));
    if (tiers.indexOf(weight.tier) > tiers.indexOf(own.tier) && !isHeldLighter(study, speaker.draft.check)) {
      return true;
    }
    raised.set(speaker, weight);
    return false;
  });
  const kept = new Set(told);
  return groups
    .filter((group) => kept.has(group))
    .map((group) => (raised.has(group) ? { ...group, weighed: raised.get(group) as Weighed } : group));
}

/** Groups of checks that yield to others before those of the others. */
function inYieldingOrder(groups: readonly Group[]): readonly Group[] {
  const rank = new Map<string, number>();
  const rankOf = (check: Check): number => {
    const known = rank.get(check.name);
    if (known !== undefined) return known;
    rank.set(check.name, 0);
    const names: readonly string[] = check.yieldsTo ?? [];
    const others = groups.filter(({ draft }) => names.includes(draft.check.name));
    const value = Math.max(-1, ...others.map(({ draft }) => rankOf(draft.check))) + 1;
    rank.set(check.name, value);
    return value;
  };
  return [...groups].sort((a, b) => rankOf(b.draft.check) - rankOf(a.draft.check));
}

function saysTheSame(study: Study, group: Group, other: Group): boolean {
  if (group.from > other.to + 1 || other.from > group.to + 1) return false;
  const [a, b] = [group.draft.keys[0], other.draft.keys[0]];
  if ((group.from > other.to || other.from > group.to) && group.draft.check.isEndOfMove !== true) {
    // What is next to each other, and comes from two keys, are two faults, be they two channels' keys of one frame.
    if (a !== undefined && b !== undefined && isSure(a) && isSure(b) && !areOneKey(a, b)) return false;
  }
  if (group.node === other.node) return !showsBelow(study, other, group);
  if (other.seenAt.includes(group.node)) return !isOfOthers(group, other);
  if (a === undefined || b === undefined || !areOneKey(a, b)) return false;
  return !hangsOn(study, other, group);
}

/** Whether a group shows only on what hangs on another one's node, and that one on the node itself: it is the lesser part. */
function showsBelow(study: Study, { node, seenAt }: Group, carrier: Group): boolean {
  if (node < 0 || !carrier.seenAt.includes(node) || seenAt.includes(node)) return false;
  return seenAt.length > 0 && seenAt.every((at) => at >= 0 && isAbove(rigOf(study), node, at));
}

/** Whether all of a group shows on what hangs on another one's node. */
function hangsOn(study: Study, { node, seenAt }: Group, carrier: Group): boolean {
  if (carrier.node < 0) return false;
  return [node, ...seenAt].every((at) => at >= 0 && isAbove(rigOf(study), carrier.node, at));
}

function areOneKey(a: NoteKey, b: NoteKey): boolean {
  return a.node === b.node && a.channel === b.channel && a.index === b.index;
}
