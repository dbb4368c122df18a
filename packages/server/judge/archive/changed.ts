import { execFile } from "node:child_process";
import { realpath, stat } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { promisify } from "node:util";

const execute = promisify(execFile);

/** A user's own settings must not change how names are written, nor those of a repository start a program. */
const quiet = [
  ...["core.quotePath=false", "core.fsmonitor=false", "core.hooksPath=/dev/null", "core.pager=cat"].flatMap(
    (set) => ["-c", set],
  ),
  "--no-pager",
  "--no-optional-locks",
];

/** Git cannot say what has changed; the message says why and what to do. */
export class ChangedError extends Error {
  override readonly name = "ChangedError";
}

/**
 * Those of the files that differ from a Git revision in the work tree, or that Git does not know yet. Files may stand
 * in several repositories.
 * @throws ChangedError where a file stands in no repository, the revision is unknown, or there is no Git
 */
export async function changedSince(
  revision: string,
  files: readonly string[],
  cwd: string,
): Promise<string[]> {
  const changedIn = once((root: string) => changedPaths(root, revision));
  const realFolder = once((folder: string) => realpath(folder));
  const rootAt = once(async (folder: string): Promise<string> => {
    if (await exists(join(folder, ".git"))) return folder;
    const above = dirname(folder);
    if (above !== folder) return rootAt(above);
    throw new ChangedError("");
  });
  const kept: string[] = [];
  for (const file of files) {
    const path = resolve(cwd, file);
    // Git names what links lead to; the file itself may be a link, which Git keeps as such.
    const folder = await realFolder(dirname(path)).catch(() => dirname(path));
    const root = await rootAt(folder).catch(() => {
      throw new ChangedError(
        `${file} is in no Git repository, so --changed-since cannot tell whether it has changed.`,
      );
    });
    const name = relative(root, join(folder, basename(path)))
      .split(sep)
      .join("/");
    if ((await changedIn(root)).has(name)) kept.push(file);
  }
  return kept;
}

/** Computes each value once. */
function once<V>(compute: (key: string) => Promise<V>): (key: string) => Promise<V> {
  const values = new Map<string, Promise<V>>();
  return (key) => {
    let value = values.get(key);
    if (value === undefined) {
      value = compute(key);
      values.set(key, value);
    }
    return value;
  };
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch {
    return false;
  }
}

/** Paths inside a repository that differ from a revision, or that are new and not ignored by Git. */
async function changedPaths(root: string, revision: string): Promise<ReadonlySet<string>> {
  let commit: string;
  try {
    commit = (
      await git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", `${revision}^{commit}`)
    ).trim();
  } catch (error) {
    if (error instanceof ChangedError) throw error;
    throw new ChangedError(`Git knows no revision "${revision}" in ${root}; a shallow clone may lack it.`);
  }
  const changed = await git(
    root,
    ...(await withoutPrograms(root)),
    "diff",
    "--no-ext-diff",
    "--no-textconv",
    "--ignore-submodules=all",
    "--name-only",
    "-z",
    "--no-renames",
    "--diff-filter=d",
    commit,
    "--",
  );
  const fresh = await git(root, "ls-files", "-z", "--others", "--exclude-standard");
  return new Set(`${changed}${fresh}`.split("\u0000"));
}

/**
 * Options that turn off the filters that a repository's own configuration names: each is a program, and an archive may
 * come from anybody. A file that goes through one may count as changed without being so.
 */
async function withoutPrograms(root: string): Promise<string[]> {
  let names: string;
  try {
    names = await git(root, "config", "--null", "--name-only", "--get-regexp", "^filter\\..*");
  } catch (error) {
    // Git ends with an error where there is none.
    if (error instanceof ChangedError) throw error;
    return [];
  }
  const filters = new Set(
    names.split("\u0000").flatMap((name) => /^filter\.(.+)\.[a-z]+$/i.exec(name)?.[1] ?? []),
  );
  return [...filters].flatMap((name) => [
    ...["clean=", "smudge=", "process=", "required=false"].flatMap((set) => ["-c", `filter.${name}.${set}`]),
  ]);
}

async function git(folder: string, ...argv: string[]): Promise<string> {
  try {
    const { stdout } = await execute("git", [...quiet, "-C", folder, ...argv], {
      maxBuffer: 1 << 30,
    });
    return stdout;
  } catch (error) {
    const code = (error as { code?: unknown }).code;
    if (code === "ENOENT")
      throw new ChangedError("--changed-since needs the program git, which is not there.");
    const reason =
      String((error as { stderr?: unknown }).stderr ?? "")
        .trim()
        .split("\n")[0] ?? "";
    if (/dubious ownership/.test(reason))
      throw new ChangedError(`Git refuses to look into ${folder}: ${reason}`);
    throw error;
  }
}
