import { basename, dirname, join, resolve } from "node:path";
import {
  figureOfNode,
  figuresOf,
  headerOf,
  metresPerUnitOf,
  placeAt,
  type ResolvedSettings,
  type ReviewFile,
  readWaiverFile,
  rigOf,
  type Study,
  type Waiver,
  writeDocument,
} from "@keyside/core";
import { partHeading } from "@keyside/core/internal";
import type { DeskNode, DeskShot } from "@keyside/desk/link";
import type { Budget } from "../../base/budget.ts";
import type { Files } from "../../base/files/read.ts";
import type { Guard } from "../../base/guard.ts";
import { type LoadedShot, loadShot } from "../../judge/shots/load.ts";
import { documentExtension, readerFor, shotName } from "../../judge/shots/readers.ts";
import { reviewFileOf } from "../../judge/shots/reviews.ts";
import { waiversFileOf, waiversIn, waiversTextBeside } from "../../judge/shots/waivers.ts";
import { type Measure, type TextVersion, versionOf } from "./desk-text.ts";
import { channelsOf } from "./keys.ts";

/** A shot as it is laid on the desk: its file, what it is edited as, and where that is saved. */
export interface LaidOut {
  readonly loaded: LoadedShot;
  readonly settings: ResolvedSettings;
  readonly measure: Measure;
  readonly version: TextVersion;
  /** Text of the file of waivers beside it, "" for none. */
  readonly waivers: string;
  /** Whether the file is another kind's: the shot is a copy of it then. */
  readonly isCopy: boolean;
  /** Where it is saved, as a path and as it is named to people; and without the ending that tells its kind. */
  readonly target: { readonly path: string; readonly shown: string };
  readonly waiversFile: { readonly path: string; readonly shown: string };
  readonly base: { readonly path: string; readonly shown: string };
  /** The review beside it. */
  readonly reviewFile: { readonly path: string; readonly shown: string };
  /** What people said of the version before; null for none. */
  readonly previous: ReviewFile | null;
}

export interface LayOptions {
  readonly files: Files;
  readonly cwd: string;
  readonly settings: ResolvedSettings;
  readonly animation: string | undefined;
  readonly budget: Budget;
  readonly guard: Guard;
  /** What people said of the version before; none if left out. */
  readonly previous?: ReviewFile | null | undefined;
}

/**
 * Reads the shot of a file to be edited. What is no curve document is taken as a copy in one.
 * @throws UnreadableError where nothing of it can be judged
 * @throws NotTaken where the copy would be more work than is allowed
 */
export async function layOut(file: string, options: LayOptions): Promise<LaidOut> {
  const { files, cwd, settings, animation, budget, guard } = options;
  const rate = settings.rate ?? undefined;
  const path = resolve(cwd, file);
  const waivers = await waiversTextBeside(files, path, file);
  const loaded = await loadShot(file, { files, cwd, rate, animation, waivers, budget, guard });
  const isCopy = !file.toLowerCase().endsWith(documentExtension);
  const measure = { budget, rate };
  const version = guard(() => versionOf(isCopy ? writeDocument(loaded.shot) : loaded.text, measure));
  const name = isCopy ? nameOf(file) : basename(file).slice(0, -documentExtension.length);
  const beside = (ending: string) => ({
    path: join(dirname(path), name + ending),
    shown: join(dirname(file), name + ending),
  });
  return {
    loaded,
    settings,
    measure,
    version,
    waivers,
    isCopy,
    target: isCopy ? beside(documentExtension) : { path, shown: file },
    waiversFile: { path: waiversFileOf(path), shown: waiversFileOf(file) },
    base: beside(""),
    reviewFile: { path: reviewFileOf(path), shown: reviewFileOf(file) },
    previous: options.previous ?? null,
  };
}

/** A file's name without its ending, also where the kind is known by its bytes alone. */
function nameOf(file: string): string {
  const name = basename(file);
  return readerFor(name) === null ? name.replace(/\.[^.]+$/, "") : shotName(name);
}

/** The waivers in the text of the file beside a shot. @throws UnreadableError */
export function waiversOf({ waiversFile }: LaidOut, text: string): readonly Waiver[] {
  return text === "" ? [] : waiversIn(text, waiversFile.shown);
}

/** The waivers of a text that is known to hold them. */
export function knownWaivers(text: string): readonly Waiver[] {
  return text === "" ? [] : readWaiverFile(text);
}

/**
 * A shot as a page is told of it.
 * @param pointOf the point of the motion that a node is, by its rig index; null where it is none that is drawn
 */
export function deskShot(
  { loaded, isCopy, target }: LaidOut,
  study: Study,
  { shot }: TextVersion,
  pointOf: (node: number) => number | null,
): DeskShot {
  const { numerator, denominator } = shot.frameRate;
  return {
    name: loaded.name,
    file: loaded.file,
    kind: readerFor(loaded.file)?.title ?? (isCopy ? "shot" : "curve document"),
    savedTo: target.shown,
    isCopy,
    frameRate: numerator / denominator,
    range: [shot.range[0], shot.range[1]],
    metresPerUnit: metresPerUnitOf(study),
    angleUnit: shot.header.space?.angle ?? "degrees",
    nodes: nodesOf(study, pointOf),
    channels: channelsOf(shot),
    problems: loaded.problems.map(({ start, message }) => {
      const { line, column } = placeAt(loaded.lineStarts, start);
      return loaded.text === "" ? message : `Line ${line}, column ${column}: ${message}`;
    }),
  };
}

function nodesOf(study: Study, pointOf: (node: number) => number | null): DeskNode[] {
  const figures = figuresOf(study);
  const { indexOf } = rigOf(study);
  return headerOf(study).nodes.map(({ id, parent }) => {
    const node = indexOf.get(id);
    const figure = node === undefined ? undefined : figures[figureOfNode(study, node)];
    const part =
      node === undefined || figure?.partOf.get(node) === undefined ? null : partHeading(study, node);
    const point = node === undefined ? null : pointOf(node);
    return { id, parent: parent ?? null, part, figure: figure?.id ?? null, point };
  });
}
