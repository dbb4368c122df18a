import { dirname, join, relative, sep } from "node:path";
import ignore, { type Ignore } from "ignore";
import { unreadable } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";

/** Name of the files that list what is left out, in the syntax of .gitignore. */
export const ignoreName = ".keysideignore";

/**
 * What is left out by the files named {@link ignoreName}, in a shot's folder and in those above it.
 *
 * As with .gitignore: patterns count from the folder of their file, a deeper file goes before a higher one, a later
 * line before an earlier one, and nothing under a folder that is left out can be taken in again.
 */
export class IgnoreFiles {
  private readonly files: Files;
  private readonly patterns = new Map<string, Promise<Ignore | null>>();
  private readonly folders = new Map<string, Promise<boolean>>();

  constructor(files: Files) {
    this.files = files;
  }

  /** Whether a file, given by its absolute path, is left out. */
  async isIgnored(path: string): Promise<boolean> {
    return (await this.isFolderIgnored(dirname(path))) || this.decide(path, "");
  }

  private isFolderIgnored(folder: string): Promise<boolean> {
    let isIgnored = this.folders.get(folder);
    if (isIgnored === undefined) {
      const above = dirname(folder);
      isIgnored =
        above === folder
          ? Promise.resolve(false)
          : this.isFolderIgnored(above).then((out) => out || this.decide(folder, "/"));
      this.folders.set(folder, isIgnored);
    }
    return isIgnored;
  }

  /** What the nearest file that says anything of a path says of it. */
  private async decide(path: string, ending: "" | "/"): Promise<boolean> {
    for (let folder = dirname(path); ; folder = dirname(folder)) {
      const patterns = await this.patternsIn(folder);
      if (patterns !== null) {
        const name = relative(folder, path).split(sep).join("/") + ending;
        const { ignored, unignored } = patterns.test(name);
        if (ignored) return true;
        if (unignored) return false;
      }
      if (dirname(folder) === folder) return false;
    }
  }

  private patternsIn(folder: string): Promise<Ignore | null> {
    let patterns = this.patterns.get(folder);
    if (patterns === undefined) {
      patterns = this.read(join(folder, ignoreName));
      this.patterns.set(folder, patterns);
    }
    return patterns;
  }

  private async read(path: string): Promise<Ignore | null> {
    if ((await this.files.kind(path)) !== "file") return null;
    try {
      return ignore().add(new TextDecoder().decode(await this.files.read(path, bounds.settings)));
    } catch (error) {
      throw unreadable(path, error);
    }
  }
}
