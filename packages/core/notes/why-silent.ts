import { type Excuse, excusesIn } from "../base/excuse.ts";
import { suggestion } from "../base/nearest.ts";
import type { Study } from "../base/study.ts";
import { curveNamesOf } from "../document/inputs.ts";
import type { WorkStage } from "../document/schema.ts";
import { checkIn } from "../expressions/checks.ts";
import type { Check, Finding } from "../faults/check.ts";
import type { Note } from "../faults/note.ts";
import { valuesOf } from "../faults/values.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { type Rig, rigOf } from "../rig/rig.ts";
import { isReachedAt, shotStageOf } from "../settings/stage.ts";
import { settingsOf } from "../settings/study.ts";
import { gridOf } from "../time/grid.ts";
import { foundNotesOf, reviewOf } from "./found.ts";
import { thresholdsThatSilence } from "./silencing-thresholds.ts";

/** What is asked: why a check says nothing of a node at a frame (in the document's numbering). */
export interface SilenceQuestion {
  readonly check: string;
  readonly node: string;
  readonly frame: number;
}

/** A note counts as one of the asked frame when it stands within so many judged frames of it. */
const nearFrames = 3;

/**
 * Why is there no note? Asks one check about one node at one frame, and tells in sentences what keeps it silent: that it
 * is off, that it found the fault and another note or a waiver speaks for it, the rules that excuse what it saw, and the
 * settings at which it would speak, found by turning each. The parent and the children of the node are asked as well.
 *
 * The answer is about the shot as it stands; nothing in it is changed. Run it on a fresh study: what a study has computed
 * before tells no excuses any more.
 * @param question check, node and frame
 * @returns one sentence a line; never empty
 */
export function whySilent(study: Study, question: SilenceQuestion): readonly string[] {
  const settings = settingsOf(study);
  const check = checkIn(settings, question.check);
  if (check === undefined) {
    const names = settings.registry.map(({ name }) => name);
    return [`There is no check "${question.check}".${suggestion(question.check, names)}`];
  }
  const rig = rigOf(study);
  const node = rig.indexOf.get(question.node);
  if (node === undefined)
    return [`There is no node "${question.node}" in this shot.${suggestion(question.node, rig.ids)}`];
  const { frames, count } = gridOf(study);
  if (count < 2) return ["The shot has fewer than two judged frames: there is no motion to judge."];
  const place: Place = { check, node, near: neighbours(rig, node), at: nearest(frames, question.frame) };
  if (question.frame < frames[0] - 0.5 || question.frame > frames[count - 1] + 0.5)
    return [
      `Frame ${question.frame} is not judged: the shot runs from ${frames[0]} to ${frames[count - 1]}.`,
    ];
  return answerOf(study, place);
}

interface Place {
  readonly check: Check;
  readonly node: number;
  /** The node, its parent and its children. */
  readonly near: ReadonlySet<number>;
  /** Grid index of the frame. */
  readonly at: number;
}

function answerOf(study: Study, place: Place): readonly string[] {
  const { check } = place;
  if (settingsOf(study).checks.get(check.name)?.on === false)
    return [`${check.name} is off: a style, the configuration or an option silences it.`];
  const waits = waitsHere(study, place, check.notBefore);
  if (waits !== null) return [waits];
  const said = spokenFor(study, place);
  if (said.length > 0) return said;
  const found: Finding[] = [];
  const excuses = excusesIn(() => {
    for (const subject of subjectsOf(study, place)) {
      found.push(...check.find(study, subject, valuesOf(study, check, subject) as never));
    }
  });
  const here = found.filter((finding) => isHere(study, place, finding));
  if (here.length > 0)
    return here.map(
      (finding) => waitsHere(study, place, finding.notBefore) ?? swallowed(study, place, finding),
    );
  const lines = excuseLines(study, place, excuses);
  lines.push(...thresholdLines(study, place));
  if (lines.length > 0) return lines;
  return [
    `${check.name} measures nothing here that any one or two of its settings would turn into a note: it does not look at this node, or what it looks for is not in this motion.`,
  ];
}

/** Says that the work is not yet far enough for what the check finds; null where it is, or where the check is asked for by its name. */
function waitsHere(
  study: Study,
  { check: { name }, at }: Place,
  notBefore: WorkStage | undefined,
): string | null {
  if (settingsOf(study).checks.get(name)?.isAsked === true) return null;
  if (isReachedAt(study, notBefore, at, at)) return null;
  const { from } = shotStageOf(study);
  const who = {
    chosen: "as a configuration or an option chooses",
    declared: "as the document declares",
    recognised: "as its step keys show",
    open: "",
  }[from];
  return `${name} waits for ${notBefore}: the work is at an earlier stage at this frame, ${who}. Name the check, or judge by another stage, to hear it now.`;
}

/** Notes of the check that are there: what was asked for is said, perhaps at another joint, or waived. */
function spokenFor(study: Study, place: Place): string[] {
  const isMeant = (note: Note) => note.check === place.check.name && isOf(study, place, note);
  const waived = reviewOf(study).waived.filter(({ note }) => isMeant(note));
  const open = foundNotesOf(study).filter(isMeant);
  const isWaived = (note: Note) => waived.some((other) => other.note === note);
  return open.map((note) => {
    const where = `at ${note.node ?? "the shot"}, frames ${note.frames[0]} to ${note.frames[1]}`;
    return isWaived(note) ? `A waiver covers it: ${where}.` : `It is said: a ${note.tier} note ${where}.`;
  });
}

/** A finding that became no note of its own: which note speaks for it. */
function swallowed(study: Study, place: Place, finding: Finding): string {
  const { frames } = gridOf(study);
  const { check } = place;
  const span = `frames ${frames[finding.from]} to ${frames[finding.to]}`;
  const notes = foundNotesOf(study).filter(
    (note) => note.frames[0] <= frames[finding.to] + 1 && note.frames[1] >= frames[finding.from] - 1,
  );
  const better = notes.find(
    (note) => check.yieldsTo?.some((name) => name === note.check) === true && sharesNode(study, place, note),
  );
  const speaker =
    better ??
    notes.find((note) => note.check === check.name) ??
    notes.find((note) => lists(study, place, note));
  if (speaker === undefined)
    return `It is found over ${span}, and a check that is silenced would say it better: it stays unsaid.`;
  const of = `the ${speaker.check} note at ${speaker.node ?? "the shot"}, frames ${speaker.frames[0]} to ${speaker.frames[1]}`;
  return better === undefined
    ? `It is found over ${span} and told as a part of ${of}.`
    : `It is found over ${span} and yields to ${of}, which says the same better.`;
}

function excuseLines(study: Study, place: Place, excuses: readonly Excuse[]): string[] {
  const { frames } = gridOf(study);
  const rig = rigOf(study);
  const lines = excuses
    .filter(({ node, from, to }) => {
      const isNear = node < 0 || place.near.has(node);
      return isNear && from <= place.at + nearFrames && to >= place.at - nearFrames;
    })
    .map(({ node, from, to, because }) => {
      const who = node < 0 ? "The figure" : rig.ids[node];
      return `${who} is excused over frames ${frames[from]} to ${frames[to]}: ${because}.`;
    });
  return [...new Set(lines)];
}

function thresholdLines(study: Study, place: Place): string[] {
  const { check } = place;
  const subjects = subjectsOf(study, place);
  return thresholdsThatSilence(study, check, subjects, (finding) => isHere(study, place, finding)).map(
    (turned) =>
      `It would speak with ${turned.map(({ name, value, now, unit }) => `${name} at ${digits(value)} (it is ${digits(now)} ${unit})`).join(" and ")}.`,
  );
}

function digits(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/** Subjects of the check that the node or its neighbours belong to. */
function subjectsOf(study: Study, { check, node, near }: Place): readonly number[] {
  switch (check.scope) {
    case "node":
      return [...near];
    case "figure": {
      const figure = figureOfNode(study, node);
      return figure < 0 ? figuresOf(study).map((_, index) => index) : [figure];
    }
    case "curve": {
      const ids = new Set([...near].map((index) => rigOf(study).ids[index]));
      return curveNamesOf(study).flatMap((name, index) =>
        ids.has(name.slice(0, name.lastIndexOf(" "))) ? [index] : [],
      );
    }
    case "shot":
      return [0];
  }
}

function isHere(study: Study, { near, at }: Place, { node, figure, from, to, seenAt }: Finding): boolean {
  if (from > at + nearFrames || to < at - nearFrames) return false;
  if (node < 0) return figure < 0 || [...near].some((one) => figureOfNode(study, one) === figure);
  return near.has(node) || seenAt?.some((one) => near.has(one)) === true;
}

function isOf(study: Study, place: Place, note: Note): boolean {
  const frame = gridOf(study).frames[place.at];
  const isNear = note.frames[0] <= frame + nearFrames && note.frames[1] >= frame - nearFrames;
  return isNear && sharesNode(study, place, note);
}

function sharesNode(study: Study, { near }: Place, { node, seenAt }: Pick<Note, "node" | "seenAt">): boolean {
  const { indexOf } = rigOf(study);
  return [node ?? "", ...seenAt].some((id) => near.has(indexOf.get(id) ?? -1));
}

/** Whether a note speaks for what the check found there. */
function lists(study: Study, place: Place, { also = [] }: Note): boolean {
  return also.some((one) => one.check === place.check.name && sharesNode(study, place, one));
}

function neighbours(rig: Rig, node: number): ReadonlySet<number> {
  const near = new Set([node]);
  if (rig.parent[node] >= 0) near.add(rig.parent[node]);
  for (let other = 0; other < rig.count; other++) if (rig.parent[other] === node) near.add(other);
  return near;
}

function nearest(frames: Float64Array, frame: number): number {
  let best = 0;
  for (let i = 1; i < frames.length; i++)
    if (Math.abs(frames[i] - frame) < Math.abs(frames[best] - frame)) best = i;
  return best;
}
