import { gridOf, type Note, nodeNameOf, type Study, sampleAt } from "@keyside/core";
import { checkIn, numbersInWords } from "@keyside/core/internal";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { type Body, bodyOf } from "./draw/body.ts";
import { graphPicture } from "./draw/graph-picture.ts";
import { type Path, pathAgainst, pathOf, reachOf, type Spread, spreadView } from "./draw/path-of.ts";
import { number, pathPicture } from "./draw/path-picture.ts";
import { posesPicture } from "./draw/poses-picture.ts";
import { squintPicture } from "./draw/squint-picture.ts";
import { type StripNote, stripPicture } from "./draw/strip-picture.ts";
import { armPath } from "./draw/swing.ts";
import { bestSide, cameraView, type Span, uprightSide, type View, viewOf } from "./draw/view.ts";
import { figureHolding, mainFigure } from "./main-figure.ts";
import type { SheetNote } from "./sheet.ts";
import { type Subject, subjectOf } from "./subject.ts";

/** A drawing with what it says beneath. */
export interface Picture {
  readonly svg: string;
  readonly caption: string;
}

/** What is drawn of a note. */
export interface NotePictures {
  readonly path: Picture;
  /** Of notes on staging what the camera sees; null where the part belongs to no figure, or the figure is not seen. */
  readonly poses: Picture | null;
  readonly graph: Picture;
}

const pathSize = { width: 420, height: 300 };
const posesSize = { width: 420, height: 146 };
const squintSize = { width: 420, height: 190 };
const graphSize = { width: 420, height: 142 };
/** Seconds that a path shows before and behind the noted frames: as many as are noted, within these. */
const pathMargin = { least: 0.17, most: 0.35 };
const graphMargin = 1;
/** Longest stretch of a path and of a graph, in seconds: more cannot be read. */
const longestPath = 3;
const longestGraph = 8;
/** A figure that goes farther than this part of its height is held still where the fault lies between its parts. */
const carriedAway = 0.3;

/**
 * Draws a note: where the part goes, how the body stands, and the number that shows the fault.
 * @param fixed the shot after the note's fix; null where there is none
 */
export function notePictures(
  version: JudgedVersion,
  { note }: Pick<SheetNote, "note">,
  fixed: Study | null,
): NotePictures | null {
  const { study, settings } = version;
  const noted = note === null ? null : notedSpan(study, note);
  const check = note === null ? undefined : checkIn(settings, note.check);
  const subject =
    note === null || noted === null || check === undefined ? null : subjectOf(study, note, check, noted);
  // What no check finds in the motion has no place in it: a waiver that answers nothing, say.
  if (note === null || noted === null || subject === null || check === undefined) return null;
  const keys = [...new Set(note.keys.map(({ frame }) => sampleAt(gridOf(study), frame)))];
  const drawnFigure = subject.figure < 0 ? figureHolding(study, subject.node, noted) : subject.figure;
  const body = drawnFigure < 0 ? null : bodyOf(study, drawnFigure);
  const seconds = (noted.to - noted.from) * gridOf(study).dt;
  const margin = Math.min(pathMargin.most, Math.max(pathMargin.least, seconds));
  const span = around(study, noted, margin, longestPath);
  const drawn = pathsOf(study, fixed, subject, body, span, noted);
  return {
    path: pathPictureOf(study, subject, drawn, { span, noted, keys, body }),
    poses:
      (check.family === "staging" ? squintOf(study, fixed, noted, check.looksAtColours) : null) ??
      (body === null
        ? null
        : posesOf(version, body, subject, { study, fixed, view: drawn.plainView, noted })),
    graph: graphOf(study, fixed, subject, noted, keys),
  };
}

interface DrawnPaths {
  readonly path: Path;
  readonly fixed: Path | null;
  readonly second: Path | null;
  /** From where the body is drawn, and from where the path is (see {@link spreadView}). */
  readonly plainView: View;
  readonly spread: Spread;
  /** Whether the figure's own way is taken out. */
  readonly isHeld: boolean;
}

function pathsOf(
  study: Study,
  fixed: Study | null,
  subject: Subject,
  body: Body | null,
  span: Span,
  noted: Span,
): DrawnPaths {
  const { node, arm, mirror, isWithin, isOfShape } = subject;
  const still = Math.round((noted.from + noted.to) / 2);
  const isHeld =
    isWithin && body !== null && reachOf(pathOf(study, body.root), span) > carriedAway * body.stature;
  const follow = (of: Study, which: number) => {
    const path = arm === null || which !== node ? pathOf(of, which) : armPath(of, node, arm);
    return isHeld && body !== null ? pathAgainst(of, path, body.root, still) : path;
  };
  const path = follow(study, node);
  // The arc of a turn is seen from the end of its axis.
  const aboveFrom = arm === null ? undefined : 0.7;
  const plainView = isHeld ? bestSide(path, span, aboveFrom) : viewOf(study, path, span, aboveFrom);
  const spread = isOfShape
    ? ({ view: plainView, apart: 0, way: "right" } as const)
    : spreadView(plainView, path, span, still);
  return {
    path,
    fixed: fixed === null ? null : follow(fixed, node),
    second: mirror < 0 ? null : follow(study, mirror),
    plainView,
    spread,
    isHeld,
  };
}

function pathPictureOf(
  study: Study,
  subject: Subject,
  { path, fixed, second, spread, isHeld }: DrawnPaths,
  shown: {
    readonly span: Span;
    readonly noted: Span;
    readonly keys: readonly number[];
    readonly body: Body | null;
  },
): Picture {
  const { span, body } = shown;
  const { frames } = gridOf(study);
  const svg = pathPicture({
    ...shown,
    study,
    name: subject.name,
    path,
    fixed,
    second,
    view: spread.view,
    marked: subject.marked,
    size: pathSize,
  });
  const parts = [
    `${capital(subject.name)} ${spread.view.name}, frames ${number(frames[span.from])} to ${number(frames[span.to])}`,
    "one tick a frame",
    "thick: noted",
  ];
  if (isHeld && body !== null) parts.push(`as if the ${nodeNameOf(study, body.root)} stood still`);
  if (spread.apart > 0) {
    const by = spread.view.kind === "camera" ? "" : `${numbersInWords.length(spread.apart)} `;
    parts.push(`each frame is drawn ${by}further ${spread.way}, as it lies on itself`);
  }
  if (svg.includes('class="key"')) parts.push("diamond: causing key");
  if (subject.mirror >= 0) parts.push("thin: the other side");
  if (svg.includes("trail fixed")) parts.push("dashed: after the fix");
  return { svg, caption: `${parts.join("; ")}.` };
}

interface Common {
  readonly study: Study;
  readonly fixed: Study | null;
  readonly view: View;
  readonly noted: Span;
}

function posesOf(version: JudgedVersion, body: Body, subject: Subject, common: Common): Picture | null {
  const id = figureName(body);
  const view = common.view.kind === "above" ? sideOf(version, body) : common.view;
  const svg = posesPicture({
    ...common,
    view,
    body,
    name: capital(id),
    marked: subject.marked,
    size: posesSize,
  });
  if (svg === "") return null;
  const dashed = svg.includes("fixed-bones") ? "; dashed: after the fix" : "";
  return { svg, caption: `${capital(id)} ${view.name}; noted frames underlined${dashed}.` };
}

/** What the camera sees, as flat shapes; null where no camera sees the noted frames. */
function squintOf(study: Study, fixed: Study | null, noted: Span, inColours = false): Picture | null {
  const svg = squintPicture({ study, fixed, noted, size: squintSize, inColours });
  if (svg === "") return null;
  const after = fixed === null ? "" : ", before the fix and after it";
  const what = inColours
    ? "flat shapes in their own colours"
    : "as with eyes half shut: flat dark shapes, what is behind them pale";
  return { svg, caption: `What the camera sees, ${what}${after}.` };
}

/** A figure by its name where the document gives it one. */
function figureName({ figure }: Body): string {
  return figure.declared ? figure.id : "the figure";
}

/** The side from which a figure's own way spreads most. */
function sideOf({ study }: JudgedVersion, { root }: Body): View {
  return uprightSide(pathOf(study, root), { from: 0, to: gridOf(study).count - 1 });
}

function graphOf(
  study: Study,
  fixed: Study | null,
  { graph }: Subject,
  noted: Span,
  keys: readonly number[],
): Picture {
  const span = around(study, noted, graphMargin, longestGraph);
  const svg = graphPicture({
    study,
    label: graph.label,
    unit: graph.unit,
    values: graph.values(study),
    fixed: fixed === null || !graph.again ? null : graph.values(fixed),
    span,
    noted,
    keys,
    size: graphSize,
  });
  const dashed = svg.includes("graph fixed") ? "; dashed: after the fix" : "";
  return { svg, caption: `${capital(graph.label)} over the frames; the noted ones hatched${dashed}.` };
}

/** The strip of the whole shot. */
export function stripOf(version: JudgedVersion, notes: readonly SheetNote[]): string {
  const { study } = version;
  const grid = gridOf(study);
  const main = mainFigure(study);
  const body = main < 0 ? null : bodyOf(study, main);
  const whole = { from: 0, to: grid.count - 1 };
  const onStrip = notes.flatMap((note): StripNote[] => {
    const { frames, tier, part } = note.reported;
    if (frames === null) return [];
    const [from, to] = frames.map((frame) => sampleAt(grid, frame));
    return [{ number: note.number, tier, from, to, title: `${note.title}, ${part}, ${note.frames}` }];
  });
  const view = body === null ? null : stripView(version, body, whole);
  return stripPicture({ study, body, view, notes: onStrip, width: 900 });
}

function stripView(version: JudgedVersion, body: Body, whole: Span): View {
  const camera = cameraView(version.study, whole);
  const view = camera === null ? null : viewOf(version.study, pathOf(version.study, body.root), whole);
  return view !== null && view.kind === "camera" ? view : sideOf(version, body);
}

/** The judged frames that a note names. */
function notedSpan(study: Study, { frames }: Note): Span {
  const grid = gridOf(study);
  return { from: sampleAt(grid, frames[0]), to: sampleAt(grid, frames[1]) };
}

/** The noted frames with some before and behind; no more than can be read. */
function around(study: Study, { from, to }: Span, margin: number, longest: number): Span {
  const { count, rate } = gridOf(study);
  const beside = Math.max(3, Math.round(margin * rate));
  const first = Math.max(0, from - beside);
  const last = Math.min(count - 1, to + beside, first + Math.round(longest * rate));
  return { from: first, to: last };
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
