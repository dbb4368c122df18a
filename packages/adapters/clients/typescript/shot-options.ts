import type { CurveDocument, KeyEdit, Waiver } from "@keyside/core";
import type { FeedError } from "./errors.ts";
import type { OpenShot } from "./shot.ts";
import type { NotesChanged, NotesSoFar } from "./told.ts";

/** A shot as it is opened or replaced: a document, or the text of a file. */
export type ShotContent =
  | { readonly document: CurveDocument }
  | { readonly text: string; readonly fileName?: string };

/** Edits that the feed refused: they are not in the feed's shot, though they may be in the tool's. */
export interface Refusal {
  readonly edits: readonly KeyEdit[];
  readonly error: FeedError;
}

/** How a shot is opened, beside its content. */
export interface ShotOptions {
  /** Settings, written as in a configuration file. */
  readonly config?: object;
  /** A folder on the feed's machine whose configuration file holds for the shot. */
  readonly folder?: string;
  /** Waivers that the tool keeps. */
  readonly waivers?: readonly Waiver[];
  /** What people say of it, as the JSON of a review file. */
  readonly review?: object;
  /** Called when something of what people say is other than was told, with how far parts are from their targets. */
  readonly onReview?: (shot: OpenShot) => void;
  /** The shot as the tool holds it now: asked for when the feed was restarted, or when the queue is full. */
  readonly documentNow?: () => ShotContent;
  /** Most keys that wait in the queue; 20,000 if left out. */
  readonly queueLimit?: number;
  /** Called when notes came, changed or went, with the change since the last call. */
  readonly onChange?: (shot: OpenShot, change: NotesChanged) => void;
  /** Called about every 100 ms while a judgement takes longer than that, with what it has found on the edited nodes. */
  readonly onSoFar?: (shot: OpenShot, soFar: NotesSoFar) => void;
  /** Called when the feed refused queued edits. */
  readonly onRefused?: (shot: OpenShot, refusal: Refusal) => void;
  /** Called when Keyside itself failed at the shot. */
  readonly onFailure?: (shot: OpenShot, message: string) => void;
}

/** What a shot needs of its connection. */
export interface ShotConnection {
  request(method: string, params: object): Promise<unknown>;
  /** Calls back: at once, or when the tool polls. */
  later(callback: () => void): void;
  forget(shot: string): void;
}
