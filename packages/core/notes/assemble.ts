import type { Check, Finding, Wording } from "../checks/check.ts";
import { gridOf } from "../motion/grid.ts";
import { statureNear } from "../motion/moves.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { curveName, curveOf, type Study, settingsOf } from "../study/study.ts";
import { fingerprintOf } from "./fingerprint.ts";
import type { Note, NoteKey } from "./note.ts";
import { tierOf, weightOf } from "./rank.ts";

/** A finding with its causes and words, not yet held against the others. */
export interface Draft extends Wording {
  readonly check: Check;
  readonly subject: number;
  readonly finding: Finding;
  readonly keys: readonly NoteKey[];
}

/** From this share of the fault on, the causing key's node is where the note belongs. */
const sureShare = 0.5;

/**
 * Makes the shot's notes from all drafts: a fault that travels down a chain becomes one note at its cause, where two
 * checks say the same the one that names the cause says it, and the rest is ranked.
 */
export function assembleNotes(study: Study, drafts: readonly Draft[]): readonly Note[] {
  const kept = dropSaidBetter(mergeByCause(study, drafts));
  const notes = kept.map((group) => noteOf(study, group));
  const seen = new Map<string, number>();
  const numbered = notes.map((note) => {
    const count = (seen.get(note.fingerprint) ?? 0) + 1;
    seen.set(note.fingerprint, count);
    return count === 1 ? note : { ...note, fingerprint: fingerprintOf([note.fingerprint, count]) };
  });
  return numbered.sort((a, b) => b.weight - a.weight || a.frames[0] - b.frames[0] || compare(a, b));
}

function compare(a: Note, b: Note): number {
  return a.fingerprint < b.fingerprint ? -1 : a.fingerprint > b.fingerprint ? 1 : 0;
}

/** One fault: the draft that speaks for it, and on which nodes it shows. */
interface Group {
  readonly draft: Draft;
  /** Node at which the note stands (rig index). */
  readonly node: number;
  readonly seenAt: readonly number[];
  readonly from: number;
  readonly to: number;
}

/** Drafts of one check that name the same first key over frames that meet become one. */
function mergeByCause(study: Study, drafts: readonly Draft[]): Group[] {
  const groups: Group[] = [];
  const byCause = new Map<string, Draft[]>();
  for (const draft of drafts) {
    const first = draft.keys[0];
    if (draft.check.followsCause !== true || first === undefined) {
      groups.push(alone(draft));
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

function alone(draft: Draft): Group {
  const { node, from, to } = draft.finding;
  return { draft, node, seenAt: node < 0 ? [] : [node], from, to };
}

function merged(study: Study, run: readonly Draft[]): Group {
  const bySize = [...run].sort((a, b) => b.finding.size - a.finding.size || a.finding.node - b.finding.node);
  // Where the causing node shows the fault itself, its own words are the plainest; else the most visible part's.
  const cause = bySize[0].keys[0];
  const causeNode = rigOf(study).indexOf.get(cause.node) ?? bySize[0].finding.node;
  const sure = run.some((draft) => draft.keys[0].share >= sureShare);
  const own = bySize.find((draft) => draft.finding.node === causeNode);
  const speaker = sure && own !== undefined ? own : bySize[0];
  return {
    draft: speaker,
    node: sure ? causeNode : speaker.finding.node,
    seenAt: [...new Set(bySize.map((draft) => draft.finding.node))],
    from: speaker.finding.from,
    to: speaker.finding.to,
  };
}

/** Drops groups of checks that yield to another check's group on a shared node or key over frames that meet. */
function dropSaidBetter(groups: readonly Group[]): readonly Group[] {
  const byCheck = new Map<string, Group[]>();
  for (const group of groups) {
    const list = byCheck.get(group.draft.check.name);
    if (list === undefined) byCheck.set(group.draft.check.name, [group]);
    else list.push(group);
  }
  return groups.filter((group) => {
    const others = group.draft.check.yieldsTo ?? [];
    return !others.some((name) => byCheck.get(name)?.some((other) => saysTheSame(group, other)));
  });
}

function saysTheSame(group: Group, other: Group): boolean {
  if (group.from > other.to + 1 || other.from > group.to + 1) return false;
  if (group.node === other.node || group.seenAt.some((node) => other.seenAt.includes(node))) return true;
  const [a, b] = [group.draft.keys[0], other.draft.keys[0]];
  return (
    a !== undefined && b !== undefined && a.node === b.node && a.channel === b.channel && a.index === b.index
  );
}

function noteOf(study: Study, group: Group): Note {
  const { draft, node } = group;
  const { check, finding, keys } = draft;
  const { frames, dt } = gridOf(study);
  const rig = rigOf(study);
  const settings = settingsOf(study);
  const figure = finding.figure < 0 ? undefined : figuresOf(study)[finding.figure];
  const stature = statureNear(study, finding.node);
  const weight = weightOf({
    size: finding.size / stature,
    seconds: (group.to - group.from + 1) * dt,
    excess: finding.excess,
    part: finding.node < 0 ? null : (figure?.partOf.get(finding.node) ?? null),
  });
  const ceiling = settings.checks.get(check.name)?.ceiling ?? check.ceiling;
  const id = node < 0 ? null : rig.ids[node];
  return {
    check: check.name,
    tier: tierOf(weight, ceiling, settings.tiers),
    weight,
    figure: figure?.id ?? null,
    node: id,
    seenAt: group.seenAt.map((seen) => rig.ids[seen]),
    frames: [tidy(frames[group.from]), tidy(frames[group.to])],
    keys,
    message: draft.message,
    measured: finding.measured,
    expected: finding.expected,
    why: check.why,
    suggestion: draft.suggestion,
    evidence: finding.evidence ?? [],
    fingerprint: fingerprintOf([check.name, figure?.id ?? "", id ?? "", ...anchor(study, keys)]),
  };
}

/** What of the causing key outlives re-timing: its channel and its value. */
function anchor(study: Study, keys: readonly NoteKey[]): (string | number)[] {
  const key = keys[0];
  if (key === undefined) return [];
  const curve = curveOf(study, curveName(key.node, key.channel));
  if (curve === null) return [];
  const at = key.index * curve.width;
  return [key.node, key.channel, ...curve.values.subarray(at, at + curve.width)];
}

/** Frames without the last digits of a sum in floating point. */
function tidy(frame: number): number {
  return Math.round(frame * 1e6) / 1e6;
}
