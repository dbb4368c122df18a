// @ts-check
/** From what the shots of a run are drawn. */
import { execFileSync } from "node:child_process";

/** Development shots are always the same: they may be looked at, and worked with. */
export const developmentSeed = "development";
export const developmentShots = 24;

/** What a report needs at least. */
export const reportFaults = 400;
export const reportFrames = 10_000;

/** Files that change nothing that is measured. */
const isDocumentation = (/** @type {string} */ path) => path.startsWith("docs/") || path.endsWith(".md");

/**
 * The seed of a report: no one can choose the commit's name, so no one can choose the shots.
 * @param {string} folder in the repository
 * @param {(command: string[]) => string} [git] runs git and gives what it prints
 * @returns {{ seed: string, commit: string }}
 * @throws Error where files outside the docs are changed: the commit would not be what was measured
 */
export function seedOfCommit(folder, git = gitIn(folder)) {
  const commit = git(["rev-parse", "HEAD"]).trim();
  const changed = changedFiles(git(["status", "--porcelain", "--untracked-files=all"])).filter(
    (path) => !isDocumentation(path),
  );
  if (changed.length > 0) {
    const named =
      changed.slice(0, 5).join(", ") + (changed.length > 5 ? ` and ${changed.length - 5} more` : "");
    throw new Error(
      `The report's shots are drawn from the commit, and files are not committed: ${named}. Commit them, or give a seed: --seed TEXT.`,
    );
  }
  return { seed: `commit ${commit}`, commit };
}

/** Paths in what `git status --porcelain` prints. @param {string} status */
export function changedFiles(status) {
  return status
    .split("\n")
    .filter((line) => line !== "")
    .flatMap((line) => line.slice(3).split(" -> "))
    .map((path) => path.replace(/^"(.*)"$/, "$1"));
}

/** @param {string} folder @returns {(command: string[]) => string} */
function gitIn(folder) {
  return (command) => {
    try {
      return execFileSync("git", command, {
        cwd: folder,
        encoding: "utf8",
        stdio: ["ignore", "pipe", "pipe"],
      });
    } catch (error) {
      throw new Error(
        `The report's shots are drawn from the commit, and git does not tell it (${error instanceof Error ? error.message.split("\n")[0] : error}). Give a seed: --seed TEXT.`,
      );
    }
  };
}
