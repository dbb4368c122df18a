import { dirname, join, relative, sep } from "node:path";
import { FaultySettings, reasonOf } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { type PathPattern, PatternError, pathPattern } from "../../base/files/path-pattern.ts";
import type { Files } from "../../base/files/read.ts";

/** Name of the files that list what is left out, in the syntax of .gitignore. */
export const ignoreName = ".keysideignore";

/** A line of such a file. */
interface Rule {
  readonly pattern: PathPattern;
  /** Whether it takes in again what a line before it leaves out. */
  readonly takesIn: boolean;
  /** Whether it means folders alone. */
  readonly isFolder: boolean;
}

/**
 * What is left out by the files named {@link ignoreName}, in a shot's folder and in those above it.
 *
 * As with .gitignore: patterns count from the folder of their file, a deeper file goes before a higher one, a later
 * line before an earlier one, and nothing under a folder that is left out can be taken in again.
 */
export class IgnoreFiles {
  private readonly files: Files;
  private readonly patterns = new Map<string, Promise<readonly Rule[] | null>>();
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
        const name = relative(folder, path).split(sep).join("/");
        const said = patterns.findLast(
          ({ pattern, isFolder }) => (!isFolder || ending === "/") && pattern.matches(name),
        );
        if (said !== undefined) return !said.takesIn;
      }
      if (dirname(folder) === folder) return false;
    }
  }

  private patternsIn(folder: string): Promise<readonly Rule[] | null> {
    let patterns = this.patterns.get(folder);
    if (patterns === undefined) {
      patterns = this.read(join(folder, ignoreName));
      this.patterns.set(folder, patterns);
    }
    return patterns;
  }

  private async read(path: string): Promise<readonly Rule[] | null> {
    if ((await this.files.kind(path)) !== "file") return null;
    try {
      return rulesIn(new TextDecoder().decode(await this.files.read(path, bounds.settings)));
    } catch (error) {
      if (error instanceof PatternError) throw new FaultySettings(path, error.message);
      throw new FaultySettings(path, reasonOf(error));
    }
  }
}

/**
 * The lines of a list in the syntax of .gitignore (Git's own page on it).
 * @throws PatternError naming the line
 */
function rulesIn(text: string): readonly Rule[] {
  const rules: Rule[] = [];
  for (const [index, written] of text
    .replace(/^\ufeff/, "")
    .split(/\r?\n/)
    .entries()) {
    // Spaces at the end count only behind a backslash.
    let line = written;
    while (/[ \t]$/.test(line) && !/\\[ \t]$/.test(line)) line = line.slice(0, -1);
    if (line === "" || line.startsWith("#")) continue;
    const takesIn = line.startsWith("!");
    if (takesIn) line = line.slice(1);
    const isFolder = line.endsWith("/");
    if (isFolder) line = line.slice(0, -1);
    if (line === "") continue;
    // A slash at the beginning or inside ties the pattern to the folder of its file.
    const isTied = line.includes("/");
    const meant = isTied ? line.replace(/^\//, "") : `**/${line}`;
    try {
      const pattern = pathPattern(meant, { dots: true, ignoresCase: true, isGit: true });
      rules.push({ pattern, takesIn, isFolder });
    } catch (error) {
      if (error instanceof PatternError) throw new PatternError(`Line ${index + 1}: ${error.message}`);
      throw error;
    }
  }
  return rules;
}
