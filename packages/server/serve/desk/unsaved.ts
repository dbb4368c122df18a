import { createHash } from "node:crypto";
import { rm } from "node:fs/promises";
import { z } from "zod";
import { UnreadableError, unwrittenReason } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { type Files, readText } from "../../base/files/read.ts";
import { writeFileWhole } from "../../base/files/write.ts";
import type { Held } from "./history.ts";

/** What a desk keeps beside a shot while it holds edits that are not saved, so that they outlive it. */
const unsavedSchema = z.object({
  format: z.literal("keyside.unsaved"),
  version: z.literal(1),
  /** ISO date. */
  when: z.string().max(40),
  /** SHA-256 of the file that the edits belong to; null where there was none. */
  of: z.string().nullable(),
  text: z.string(),
  waivers: z.string(),
});

/** Edits that were kept. */
export interface Unsaved extends Held {
  readonly path: string;
  readonly shown: string;
  readonly when: string;
  readonly of: string | null;
}

/** So many desks that ended without saving are told apart. */
const mostFiles = 9;

/** `jetty.unsaved.json`, then `jetty.unsaved-2.json`, beside `jetty.curves.json`. */
function fileName(base: string, number: number): string {
  return `${base}.unsaved${number === 1 ? "" : `-${number}`}.json`;
}

/** Edits of earlier desks that were not saved. What cannot be read is left alone. */
export async function unsavedBeside(base: string, shown: string, files: Files): Promise<Unsaved[]> {
  const found: Unsaved[] = [];
  for (let number = 1; number <= mostFiles; number++) {
    const path = fileName(base, number);
    if ((await files.kind(path)) !== "file") continue;
    const name = fileName(shown, number);
    try {
      const read = unsavedSchema.safeParse(JSON.parse(await readText(files, path, name, bounds.shot)));
      if (read.success) found.push({ ...read.data, path, shown: name });
    } catch (error) {
      if (!(error instanceof SyntaxError || error instanceof UnreadableError)) throw error;
    }
  }
  return found;
}

/** Where a desk keeps what is not saved; files of other desks stay. */
export class UnsavedFile {
  private readonly base: string;
  private readonly shown: string;
  private readonly files: Files;
  private path: string | null = null;
  /** Files of earlier desks whose edits were taken over: they go once all is saved. */
  private adopted: string[] = [];
  /** Writing and taking away go one after the other. */
  private turn: Promise<unknown> = Promise.resolve();

  constructor(base: string, shown: string, files: Files) {
    this.base = base;
    this.shown = shown;
    this.files = files;
  }

  /** Goes on in the file of an earlier desk, whose edits have been taken over. */
  adopt(unsaved: Unsaved): void {
    if (this.path === null) this.path = unsaved.path;
    else this.adopted.push(unsaved.path);
  }

  /** As it is named to people; null while there is none. */
  get name(): string | null {
    return this.path === null ? null : `${this.shown}${this.path.slice(this.base.length)}`;
  }

  /** @throws UnreadableError where it cannot be written */
  keep(held: Held, known: string | null): Promise<void> {
    return this.inTurn(async () => {
      const of = known === null ? null : hashOf(known);
      const when = new Date().toISOString();
      const text = `${JSON.stringify({ format: "keyside.unsaved", version: 1, when, of, ...held })}\n`;
      const isNew = this.path === null;
      this.path ??= await this.freePath();
      try {
        await writeFileWhole(this.path, text, { force: !isNew });
      } catch (error) {
        if (isNew) this.path = null;
        throw new UnreadableError(fileName(this.shown, 1), unwrittenReason(error));
      }
    });
  }

  /** Takes the file away: all is saved. */
  drop(): Promise<void> {
    return this.inTurn(async () => {
      const gone = this.path === null ? this.adopted : [this.path, ...this.adopted];
      this.path = null;
      this.adopted = [];
      for (const path of gone) await rm(path, { force: true });
    });
  }

  private async freePath(): Promise<string> {
    for (let number = 1; number < mostFiles; number++) {
      const path = fileName(this.base, number);
      if ((await this.files.kind(path)) === null) return path;
    }
    return fileName(this.base, mostFiles);
  }

  private inTurn(work: () => Promise<void>): Promise<void> {
    const done = this.turn.then(work);
    this.turn = done.catch(() => {});
    return done;
  }
}

export function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
