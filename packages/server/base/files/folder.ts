import { mkdirSync, statSync } from "node:fs";
import { dirname } from "node:path";
import { codeOf } from "../errors.ts";

/**
 * Makes a folder and those above it that are missing. Node's own way goes round for ever where the system takes no new
 * folders and says that something is missing, as under /proc.
 * @throws the system's error
 */
export function makeFolder(path: string): void {
  try {
    mkdirSync(path);
  } catch (error) {
    const code = codeOf(error);
    if (code === "EEXIST" && statSync(path).isDirectory()) return;
    const above = dirname(path);
    if (code !== "ENOENT" || above === path || statSync(above, { throwIfNoEntry: false }) !== undefined) {
      throw error;
    }
    makeFolder(above);
    // Another run may have made it meanwhile.
    mkdirAgain(path);
  }
}

function mkdirAgain(path: string): void {
  try {
    mkdirSync(path);
  } catch (error) {
    if (codeOf(error) !== "EEXIST") throw error;
  }
}
