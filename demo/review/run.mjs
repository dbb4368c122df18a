// @ts-check
/**
 * A review of three versions of one shot, from the first look to approval, on the command line: the list for the animator,
 * what became of everything, and the remarks as a table for a tracker. `node demo/review/run.mjs [FOLDER]` runs it alone.
 */
import { mkdir } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { processCommandIo, run } from "@keyside/server";
import { makeReview } from "./make.mjs";

/** Checks of which the versions' notes tell; all would make a long list. */
const checks = "hang-time,twinning,hard-stop,pop,lone-joint,no-drag,contact-slide";

/** One for all calls: each one listens to the end of the process's output. */
const io = processCommandIo();

/**
 * Puts the versions, their reviews and what is made of them into a folder, and prints the list and the history.
 * @param {string} folder it is made if it is not there
 */
export async function reviewedVersions(folder) {
  await mkdir(folder, { recursive: true });
  const files = await makeReview(folder);
  const names = files.map((file) => basename(file));
  console.log("A review of three versions, from the first look to approval:");
  console.log(
    await said(
      folder,
      "check",
      names[0],
      "--only",
      checks,
      "--tier",
      "major",
      "--for",
      "animator",
      "--no-cache",
    ),
  );
  console.log(await said(folder, "history", ...names, "--only", checks));
  await said(
    folder,
    "history",
    ...names,
    "--only",
    checks,
    "--format",
    "html",
    "--out",
    "history.html",
    "--force",
  );
  await said(
    folder,
    "sheet",
    names[0],
    "--no-fixes",
    "--format",
    "markdown",
    "--for",
    "animator",
    "--out",
    "for-animator.md",
    "--force",
  );
  await said(
    folder,
    "review",
    "export",
    names[0],
    "--format",
    "csv",
    "--out",
    "quay_0070.remarks.csv",
    "--force",
  );
  // A tracker gives its rows back: one remark is done there, and a new one has come.
  await said(
    folder,
    "review",
    "import",
    names[1],
    fileURLToPath(new URL("tracker.csv", import.meta.url)),
    "--by",
    "Tracker",
    "--date",
    "2031-04-10",
  );
  console.log(await said(folder, "review", "list", names[1]));
  console.log(`Review: ${pathToFileURL(join(folder, "history.html"))}\n`);
}

/** What the command prints. @param {string} cwd @param {...(string | undefined)} words */
async function said(cwd, ...words) {
  let text = "";
  const stdout = (/** @type {string} */ more) => {
    text += more;
  };
  await run(
    words.filter((word) => word !== undefined),
    { ...io, cwd, stdout },
  );
  return text;
}

const own = fileURLToPath(import.meta.url);
if (process.argv[1] === own) {
  await reviewedVersions(resolve(process.argv[2] ?? join(dirname(own), "../out/review")));
}
