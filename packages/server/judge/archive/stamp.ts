import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { version } from "../../base/version.ts";

/** What a shot's result depends on in this package: reading, judging, reporting one shot. */
const ownFolders = ["judge", "base"];

/** The stamp of the code that a bundle was made of; the build puts it in. */
declare const stampOfBundle: string | undefined;

/**
 * A text that is the same exactly where the program is: its version and a digest of the code that makes results, so
 * that results of an older build are never taken for those of a newer one that has the same version. Null where the
 * code cannot be found (it has been packed into one file): then nothing can be kept safely.
 */
export function toolStamp(): string | null {
  if (typeof stampOfBundle === "string") return stampOfBundle;
  try {
    const require = createRequire(import.meta.url);
    const own = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
    const folders = [
      ...["@keyside/core", "@keyside/adapters"].map((name) => dirname(require.resolve(name))),
      ...ownFolders.map((name) => join(own, name)),
    ];
    const digest = createHash("sha256");
    for (const [index, folder] of folders.entries()) {
      for (const name of codeUnder(folder)) {
        digest.update(`${index}/${name}\n`);
        digest.update(readFileSync(join(folder, name)));
      }
    }
    return `${version} ${digest.digest("hex")}`;
  } catch {
    return null;
  }
}

function codeUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => /(?<!\.d)\.(js|ts)$/.test(name))
    .map((name) => name.replaceAll("\\", "/"))
    .sort();
}
