import { type Dirent, statSync } from "node:fs";
import { readdir, realpath } from "node:fs/promises";
import { join } from "node:path";

export interface WalkOptions {
  /** Whether a folder is looked into, by its path from the one where the walk begins. */
  enters(folder: string): boolean;
  /** Whether a file is wanted, by the same. */
  wants(file: string): boolean;
  /** Told of folders that cannot be looked into. */
  failed(folder: string, error: unknown): void;
}

/**
 * All files under a folder that are wanted, as paths from it, with slashes, by name. Links are followed; each folder is
 * looked into once, by whatever names, and by its own name rather than a link's.
 */
export async function filesUnder(root: string, { enters, wants, failed }: WalkOptions): Promise<string[]> {
  const files: string[] = [];
  const seen = new Set<string>();
  const folders = [""];
  const links: string[] = [];
  for (;;) {
    // Links wait until all else is done.
    const folder = folders.pop() ?? links.shift();
    if (folder === undefined) return files.sort();
    let entries: Dirent[];
    try {
      const real = await realpath(join(root, folder));
      if (seen.has(real)) continue;
      seen.add(real);
      entries = await readdir(real, { withFileTypes: true });
    } catch (error) {
      failed(folder, error);
      continue;
    }
    for (const entry of entries) {
      const path = folder === "" ? entry.name : `${folder}/${entry.name}`;
      const kind = entry.isSymbolicLink() ? kindBehind(join(root, path)) : kindOf(entry);
      if (kind === "folder") {
        if (enters(path)) (entry.isSymbolicLink() ? links : folders).push(path);
      } else if (kind === "file" && wants(path)) files.push(path);
    }
  }
}

function kindOf(entry: Dirent): "file" | "folder" | null {
  return entry.isDirectory() ? "folder" : entry.isFile() ? "file" : null;
}

/** Where a link leads; what is neither file nor folder is told as it is read. */
function kindBehind(path: string): "file" | "folder" | null {
  try {
    return statSync(path).isDirectory() ? "folder" : "file";
  } catch {
    return null;
  }
}
