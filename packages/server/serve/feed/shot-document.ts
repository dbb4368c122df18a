import { basename } from "node:path";
import { readTextWith } from "@keyside/adapters";
import {
  type CheckFailure,
  type Curve,
  curveName,
  type Note,
  type ReadResult,
  type ResolvedSettings,
  type ReviewFile,
  ShotSession,
  type Study,
  setWaiversBeside,
  type Waiver,
} from "@keyside/core";
import { type ChangeStep, rereadSteps, settingsOf, waiversBesideOf } from "@keyside/core/internal";
import type { TextDocumentContentChangeEvent } from "vscode-languageserver";
import { defaultBudget } from "../../base/budget.ts";
import { resolveBeside } from "../../judge/shots/neighbours.ts";
import { documentExtension, extensionOf, readerFor, shotName } from "../../judge/shots/readers.ts";
import { stableShot } from "./stable-shot.ts";
import { type Encoding, LiveText } from "./text.ts";
import { pathOfUri } from "./uri.ts";

/** Changes from which on reading the whole text once costs less than reading them one by one. */
const fewChanges = 64;

/** What stands beside a shot on disk. */
export interface ShotBeside {
  /** Waivers of the file beside it, and what its review drops. */
  readonly waivers: readonly Waiver[];
  /** What people say of it; null where there is no review. */
  readonly review: ReviewFile | null;
}

export const nothingBeside: ShotBeside = { waivers: [], review: null };

/** What has become of judging a document: "failed" is not "clean". */
export type JudgingState = "none" | "done" | "failed";

/**
 * An open document: its text as the editor has it, what was read from it, and its notes. Only what an edit touched is
 * read again, and only what it reaches is judged again.
 */
export class ShotDocument {
  readonly uri: string;
  /** Path of the file, null for a text that is in none. */
  readonly path: string | null;
  /** Whether the text is a curve document, which can be completed and read in parts; else a file that was imported. */
  readonly isCurveDocument: boolean;
  readonly text: LiveText;
  version: number;
  /** What is in force; null until it has been looked up. */
  settings: ResolvedSettings | null = null;
  /** Waivers from the file beside the document. */
  waivers: readonly Waiver[] = [];
  /** What people say of it, from the review beside it; null where there is none. */
  review: ReviewFile | null = null;
  notes: readonly Note[] = [];
  judgement: JudgingState = "none";
  private readonly readText: (text: string) => ReadResult;
  private pending: ChangeStep[] = [];
  private latest: ReadResult | null = null;
  /** Positions of curves by name, as they were in a list of curves. */
  private positions: ReadonlyMap<string, number> = new Map();
  private positionsOf: readonly Curve[] | null = null;
  private session: ShotSession | null = null;

  private constructor(uri: string, version: number, text: string, encoding: Encoding, name: string) {
    this.uri = uri;
    this.version = version;
    this.text = new LiveText(text, encoding);
    this.path = pathOfUri(uri);
    this.isCurveDocument = extensionOf(name) === documentExtension;
    const reader = readerFor(name);
    if (reader === null) throw new Error(`No reader for ${name}.`);
    const told = { file: basename(name) };
    const beside = resolveBeside(this.path, defaultBudget.file);
    this.readText = (whole) => readTextWith(reader, whole, beside, told);
  }

  /** Opens a document; null where its kind holds no shot, so that it is not ours to speak of. */
  static open(
    item: {
      readonly uri: string;
      readonly version: number;
      readonly text: string;
      readonly languageId: string;
    },
    encoding: Encoding,
  ): ShotDocument | null {
    const name = kindName(item.uri, item.languageId);
    return name === null ? null : new ShotDocument(item.uri, item.version, item.text, encoding, name);
  }

  /** Takes an edit; costs little, as nothing is read before it is asked for. */
  change(changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    this.version = version;
    try {
      this.pending.push(...this.text.apply(changes));
    } catch (error) {
      // Some of the changes may have been made: what was read before them is of no use.
      this.pending = [];
      this.latest = null;
      throw error;
    }
  }

  /** What the text holds now. */
  read(): ReadResult {
    if (this.latest !== null && this.pending.length === 0) return this.latest;
    const steps = this.pending;
    this.pending = [];
    const canReread = this.isCurveDocument && this.latest !== null && steps.length <= fewChanges;
    const reread = canReread && this.latest !== null ? rereadSteps(this.latest, steps) : null;
    this.latest = reread ?? this.readText(this.text.text);
    return this.latest;
  }

  /** What the shot is called: by its header, else by its file. */
  shotName(): string {
    return this.read().shot?.header.shot.name ?? shotName(basename(this.path ?? this.uri));
  }

  /** A curve as it stands in the text, by node and channel. */
  curve(node: string, channel: string): Curve | undefined {
    const curves = this.read().shot?.curves ?? [];
    const name = curveName(node, channel as Curve["channel"]);
    // Edits seldom move curves about, so the position of last time is tried before all are listed anew.
    const last = curves[this.positions.get(name) ?? -1];
    if (last?.node === node && last.channel === channel) return last;
    if (this.positionsOf === curves) return undefined;
    this.positionsOf = curves;
    this.positions = new Map(curves.map((curve, index) => [curveName(curve.node, curve.channel), index]));
    return curves[this.positions.get(name) ?? -1];
  }

  /** What is known of the shot as the text has it now; null where nothing can be judged. */
  study(): Study | null {
    const { shot } = this.read();
    const { settings } = this;
    if (shot === null || settings === null) return null;
    const { session } = this;
    if (session === null) {
      this.session = new ShotSession(shot, settings, true);
      setWaiversBeside(this.session.study, this.waivers);
      return this.session.study;
    }
    if (settingsOf(session.study) !== settings) session.takeSettings(settings);
    if (waiversBesideOf(session.study) !== this.waivers) setWaiversBeside(session.study, this.waivers);
    const next = stableShot(session.shot, shot);
    if (next !== session.shot) session.takeShot(next);
    return session.study;
  }

  /** Judges the document as it is now, a check at a time; may be given up between two of them. */
  *judge(): Generator<unknown, void> {
    const canBeJudged = this.study() !== null;
    if (canBeJudged && this.session !== null) yield* this.session.judgeInSteps();
    this.notes = canBeJudged && this.session !== null ? this.session.notes : [];
    this.judgement = "done";
  }

  /** Checks that ended in an error when it was last judged; the notes of all others stand. */
  get failures(): readonly CheckFailure[] {
    return this.judgement === "done" ? (this.session?.failures ?? []) : [];
  }

  /** Judging went wrong: what was computed is not trusted any more. */
  fail(): void {
    this.session = null;
    this.judgement = "failed";
  }
}

/** A name by whose ending a document's reader is known. */
function kindName(uri: string, languageId: string): string | null {
  const path = pathOfUri(uri) ?? decodeURI(safeUri(uri));
  if (extensionOf(path) !== null) return path;
  return languageId === "keyside" ? `shot${documentExtension}` : null;
}

function safeUri(uri: string): string {
  try {
    decodeURI(uri);
    return uri.replace(/[?#].*$/, "");
  } catch {
    return "";
  }
}
