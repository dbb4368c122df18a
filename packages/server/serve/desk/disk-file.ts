import { stat } from "node:fs/promises";
import { UnreadableError, unwrittenReason } from "../../base/errors.ts";
import type { Bounds } from "../../base/files/bounds.ts";
import { type Files, readText } from "../../base/files/read.ts";
import { writeFileWhole } from "../../base/files/write.ts";

/** A file that is saved to: what it held when it was last read or written, and whether it holds something else now. */
export class DiskFile {
  readonly path: string;
  /** As it is named to people. */
  readonly shown: string;
  /** What is known to stand there; null for no file. */
  known: string | null;
  private readonly files: Files;
  private readonly bounds: Bounds;
  private stamp: string | null | undefined;

  constructor(path: string, shown: string, known: string | null, files: Files, bounds: Bounds) {
    this.path = path;
    this.shown = shown;
    this.known = known;
    this.files = files;
    this.bounds = bounds;
  }

  /**
   * Whether the file holds something else than is known. It is read only where it may have been written to.
   * @throws UnreadableError where it cannot be read
   */
  async hasChanged(): Promise<boolean> {
    const stamp = await stampOf(this.path);
    if (stamp === this.stamp) return false;
    const now = await this.read();
    if (now !== this.known) return true;
    this.stamp = stamp;
    return false;
  }

  /** What stands there; null for no file. @throws UnreadableError where it cannot be read */
  async read(): Promise<string | null> {
    if ((await this.files.kind(this.path)) === null) return null;
    return readText(this.files, this.path, this.shown, this.bounds);
  }

  /** Puts a text in place, whole; the mode of the file and links to it stay. @throws UnreadableError */
  async write(text: string): Promise<void> {
    try {
      await writeFileWhole(this.path, text, { force: true });
    } catch (error) {
      throw new UnreadableError(this.shown, unwrittenReason(error));
    }
    this.known = text;
    this.stamp = undefined;
  }
}

/** Changes whenever a file may have been written to; null where there is none. */
async function stampOf(path: string): Promise<string | null> {
  try {
    const { mtimeMs, ctimeMs, size, ino } = await stat(path);
    return `${mtimeMs} ${ctimeMs} ${size} ${ino}`;
  } catch {
    return null;
  }
}
