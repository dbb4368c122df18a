import { createHash } from "node:crypto";
import { dirname, resolve } from "node:path";
import { bounds } from "../files/bounds.ts";
import { readPlainSync } from "../files/plain.ts";

/** The files that modules are made of, and a digest of what is in them. */
export interface ModuleFiles {
  readonly files: readonly string[];
  readonly digest: string;
}

const imported = /\b(?:import|from)\s*\(?\s*["'](\.{1,2}\/[^"'\n]+)["']/g;

/**
 * Follows modules through what they import by relative paths. What comes from a package is not followed: its version is
 * not part of the digest.
 * @param modules absolute paths
 */
export function filesOfModules(modules: readonly string[]): ModuleFiles {
  const digest = createHash("sha256");
  const files: string[] = [];
  const visit = (path: string, isNamed: boolean) => {
    if (files.includes(path)) return;
    let text: string;
    try {
      text = new TextDecoder().decode(readPlainSync(path, bounds.settings));
    } catch (error) {
      // Words that only look like an import; what is really missing is told when the module is loaded.
      if (!isNamed) return;
      throw error;
    }
    files.push(path);
    digest.update(`${text.length}\n${text}`);
    for (const [, name = ""] of text.matchAll(imported)) visit(resolve(dirname(path), name), false);
  };
  for (const path of modules) visit(path, true);
  return { files, digest: modules.length === 0 ? "" : digest.digest("hex") };
}
