import { dirname, resolve } from "node:path";
import {
  type FixedShot,
  failuresOf,
  fixAll,
  fixedText,
  type Note,
  notesOf,
  type Overrides,
  placeAt,
  resolveSettings,
  type Tier,
  tiers,
  writeDocument,
} from "@keyside/core";
import { type FixReport, type KeyMove, suggestion } from "@keyside/core/internal";
import { exitCodes, UnreadableError, WrongUse } from "../base/errors.ts";
import { readText } from "../base/files/read.ts";
import type { Guard } from "../base/guard.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { version } from "../base/version.ts";
import { studyOf } from "../judge/shots/judge.ts";
import { type LoadedShot, loadShot } from "../judge/shots/load.ts";
import { documentExtension } from "../judge/shots/readers.ts";
import { fixText } from "../present/report/fix-text.ts";
import { configsFor } from "./configs-for.ts";
import { rememberUndo } from "./fix-undo.ts";
import { layoutFor } from "./layout-for.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { tellFailures } from "./tell-failures.ts";
import { writeWhole } from "./write-out.ts";

/** Frames of a shot, both included. */
export interface FrameSpan {
  readonly from: number;
  readonly to: number;
}

export interface FixOptions {
  readonly checks: readonly string[] | undefined;
  readonly nodes: readonly string[] | undefined;
  readonly frames: FrameSpan | undefined;
  /** What goes before the configuration. */
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly failOn: Tier | undefined;
  readonly format: "text" | "json";
  /** Where the fixed shot is written; undefined where it is not, or in its own file. */
  readonly out: string | undefined;
  readonly write: boolean;
  readonly force: boolean;
  /** Checks of which sketches are made where no fix is verified. */
  readonly sketches?: readonly string[] | undefined;
  readonly limits?: RawLimits | undefined;
}

/** `keyside fix`: shows changes of keys that clear notes, and makes them where it is asked to. Gives the exit code. */
export async function fix(file: string, options: FixOptions, io: Io): Promise<number> {
  checkUse(file, options, io);
  const configFor = await configsFor(options.config, io);
  const { config } = await configFor(dirname(resolve(io.cwd, file)));
  const settings = resolveSettings(pluginsOf(io).registry, config, options.overrides);
  const { guard, budget } = limitsFor(file, options.limits ?? {}, usualTime.fixing);
  const loaded = await loadShot(file, { ...io, rate: settings.rate ?? undefined, guard, budget });
  for (const problem of loaded.problems) {
    const { line, column } = placeAt(loaded.lineStarts, problem.start);
    io.stderr(`keyside: ${file}:${line}:${column}: ${problem.message}\n`);
  }
  checkNodes(loaded, options.nodes);
  const { shot, waivers } = loaded;
  const study = studyOf(loaded, settings);
  const notes = guard(() => notesOf(study));
  const isChosen = (note: Note) => chosen(note, options);
  const isSketched = ({ check }: Note) => options.sketches?.includes(check) === true;
  const fixed = notes.some(isChosen)
    ? guard(() => fixAll(shot, settings, isChosen, waivers, isSketched))
    : { shot, fixes: [], notes, refused: [] };
  const written =
    fixed.fixes.length === 0 && options.out === undefined
      ? null
      : await put(loaded, fixed, options, guard, io);
  const failOn = options.failOn ?? config.failOn ?? "major";
  const limit = tiers.indexOf(failOn);
  const failing = loaded.problems.length > 0 || fixed.notes.some(({ tier }) => tiers.indexOf(tier) <= limit);
  const report: FixReport = {
    tool: { name: "keyside", version },
    file,
    name: loaded.name,
    fixes: fixed.fixes.map(({ note, fix, kind, title, moves, changes, gone, added }) => ({
      note: inShort(note),
      fix,
      kind,
      title,
      moves: moves.map(moveInShort),
      keys: [...changes],
      gone: gone.map(inShort),
      added: added.map(inShort),
    })),
    unfixed: fixed.refused.map(({ note, why, sketch }) => ({
      ...inShort(note),
      why,
      sketch: sketch === null ? null : { title: sketch.title, moves: sketch.moves.map(moveInShort) },
    })),
    left: fixed.notes.map(inShort),
    written,
    failOn,
    failing,
  };
  io.stdout(
    options.format === "json"
      ? `${JSON.stringify(report, null, 2)}\n`
      : fixText(report, notes.length, layoutFor(io)),
  );
  return tellFailures(file, failuresOf(study), io, failing ? exitCodes.notes : exitCodes.clean);
}

function checkUse(file: string, { out, write, force }: FixOptions, io: Io): void {
  if (write && out !== undefined)
    throw new WrongUse("Either --write or --out: the shot is written to one place.");
  if (force && out === undefined) throw new WrongUse("--force goes with --out.");
  const isDocument = file.toLowerCase().endsWith(documentExtension);
  if (write && !isDocument) {
    throw new WrongUse(
      `${file}: only curve documents are changed in place; write the fixed shot with --out FILE${documentExtension}.`,
    );
  }
  if (out === undefined) return;
  if (!out.toLowerCase().endsWith(documentExtension)) {
    throw new WrongUse(`${out}: only curve documents are written; name it *${documentExtension}.`);
  }
  if (resolve(io.cwd, file) === resolve(io.cwd, out)) {
    throw new WrongUse("The shot and --out are the same file; --write changes the shot itself.");
  }
}

function checkNodes({ shot }: LoadedShot, nodes: readonly string[] | undefined): void {
  const ids = shot.header.nodes.map(({ id }) => id);
  for (const node of nodes ?? []) {
    if (!ids.includes(node)) throw new WrongUse(`The shot has no node "${node}".${suggestion(node, ids)}`);
  }
}

function chosen(note: Note, { checks, nodes, frames }: FixOptions): boolean {
  if (checks !== undefined && !checks.includes(note.check)) return false;
  if (nodes !== undefined && !nodes.some((id) => id === note.node || note.seenAt.includes(id))) return false;
  return frames === undefined || (note.frames[0] <= frames.to && note.frames[1] >= frames.from);
}

/** Writes the fixed shot where it is asked for. Gives the file's name, null where nothing is written. */
async function put(
  loaded: LoadedShot,
  fixed: FixedShot,
  { out, write, force }: FixOptions,
  guard: Guard,
  io: Io,
): Promise<string | null> {
  if (!write && out === undefined) return null;
  const target = out ?? loaded.file;
  const isDocument = loaded.file.toLowerCase().endsWith(documentExtension);
  const text = guard(() =>
    isDocument ? fixedText(loaded.text, loaded.shot, fixed.fixes) : writeDocument(fixed.shot),
  );
  if (write) {
    const now = await readText(io.files, resolve(io.cwd, loaded.file), loaded.file);
    if (now !== loaded.text) {
      throw new UnreadableError(loaded.file, "It was changed while its fixes were worked out; run again.");
    }
  }
  if (write) await rememberUndo(loaded.file, loaded.text, text, io);
  await writeWhole(target, text, { force: write || force, isInput: write }, io);
  return target;
}

function moveInShort({ nodes, frames, ...move }: KeyMove): FixReport["fixes"][number]["moves"][number] {
  return { ...move, nodes: [...nodes], frames: [frames[0], frames[1]] };
}

function inShort(note: Note): FixReport["left"][number] {
  const { check, tier, weight, figure, node, frames, message, fingerprint } = note;
  return { check, tier, weight, figure, node, frames: [frames[0], frames[1]], message, fingerprint };
}
