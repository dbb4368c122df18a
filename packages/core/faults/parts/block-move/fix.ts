import { inRadians } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { figuresOf } from "../../../rig/body.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { trailingTurns, turnedInWorld } from "../../shared/posing/trail.ts";
import { blockMove, headOffset } from "./check.ts";

export const blockMoveFix = defineFix(blockMove, {
  what: "Lets chest and head follow the hips, each a little later; or the head be before the chest on which it rides.",
  title: ({ frames, measured }) =>
    `${measured?.quantity === headOffset ? "let the head turn ahead of the chest" : "let each part of the trunk follow the one under it"}, over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { shot } = subject;
    if (subject.figure < 0 || subject.node < 0) return;
    const offset = subject.finding.numbers.offset;
    if (subject.finding.numbers.rides === 1) {
      for (const lead of [offset, offset + 1, offset + 2]) {
        for (const loose of [keysAlone, 30, 10]) yield* leading(subject, shot, lead, loose);
      }
      return;
    }
    for (const lag of [offset, offset + 1, offset + 2]) {
      for (const share of [0.7, 1]) {
        for (const loose of [keysAlone, 30, 10]) yield* following(subject, shot, lag, share, loose);
      }
    }
  },
});

/** Turn from which on a channel without keys gets some, radians (1°). */
const leastNew = inRadians(1);
/** Most that a part of the trunk stays behind the hips, radians (35°): common practice. */
const most = inRadians(35);

/** Lets the head, and the neck by half of it, be before the chest by so many judged frames. */
function* leading(subject: Subject, shot: Shot, lead: number, loose: number): Generator<KeyEdit[]> {
  const { study, figure, node: chest, from, to } = subject;
  const { count } = gridOf(study);
  const above = trunkOf(study, figure, chest).filter(({ late }) => late > 1);
  const samples = {
    lo: Math.max(0, from - Math.ceil(2 * lead) - 4),
    hi: Math.min(count - 1, to + 4),
  };
  const turned = above.map(({ node, late }) => ({
    node,
    turns: trailingTurns(study, { node, carrier: chest, lag: -lead * (late - 1), share: 1, most }, samples),
  }));
  const edits = turnedInWorld(study, turned, samples, { newFrom: leastNew, loose });
  yield* keptAndPlain(subject, shot, withoutIdle(shot, edits));
}

/** @param loose see `Laying`: one breakdown a joint says it, where that is enough */
function* following(
  subject: Subject,
  shot: Shot,
  lag: number,
  share: number,
  loose: number,
): Generator<KeyEdit[]> {
  const { study, figure, from, to } = subject;
  const { count } = gridOf(study);
  const { root } = figuresOf(study)[figure];
  const spine = trunkOf(study, figure, subject.node);
  const samples = {
    lo: Math.max(0, from - 1),
    hi: Math.min(count - 1, to + Math.ceil(2 * lag) + 4),
  };
  const turned = spine.map(({ node, late }) => ({
    node,
    turns: trailingTurns(study, { node, carrier: root, lag: lag * late, share, most }, samples),
  }));
  const edits = turnedInWorld(study, turned, samples, { newFrom: leastNew, loose });
  yield* keptAndPlain(subject, shot, withoutIdle(shot, edits));
}

/** Without new curves of which all keys are alike: they say nothing. */
function withoutIdle(shot: Shot, edits: readonly KeyEdit[]): KeyEdit[] {
  const name = ({ node, channel }: { node: string; channel: string }) => `${node} ${channel}`;
  const there = new Set(shot.curves.map(name));
  const values = new Map<string, Set<string>>();
  for (const edit of edits) {
    const own = values.get(name(edit)) ?? new Set();
    if (edit.kind === "set") own.add(String(edit.value));
    values.set(name(edit), own);
  }
  return edits.filter((edit) => there.has(name(edit)) || (values.get(name(edit))?.size ?? 0) > 1);
}

/** Joints from the chest to the head, with how late each is: the chest once the lag, the head twice. */
function trunkOf(study: Study, figure: number, chest: number): { node: number; late: number }[] {
  const { parts, root } = figuresOf(study)[figure];
  const head = parts.get("head")?.[0];
  const rig = rigOf(study);
  const chain = chainOf(rig, head ?? chest);
  const above = chain.slice(chain.indexOf(root) + 1);
  const at = Math.max(0, above.indexOf(chest));
  return above.map((node, k) => ({
    node,
    late: k <= at ? (k + 1) / (at + 1) : 1 + (k - at) / Math.max(1, above.length - 1 - at),
  }));
}
