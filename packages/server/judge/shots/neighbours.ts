import { realpathSync } from "node:fs";
import { realpath } from "node:fs/promises";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import type { Resolve, Resolved } from "@keyside/adapters";
import { reasonOf } from "../../base/errors.ts";
import type { Bounds } from "../../base/files/bounds.ts";
import { readPlainSync } from "../../base/files/plain.ts";
import type { Files } from "../../base/files/read.ts";

/** Files that a shot's file names, by the names that it uses. */
export type Neighbours = ReadonlyMap<string, Resolved>;

/** Files that one shot may name: common practice is one or two. */
const mostNeighbours = 64;

/**
 * Reads what a shot's file names beside itself. A file may come from anybody, so its names lead nowhere but to plain
 * files in its own folder and below: not to other folders, also not through links, and to no network.
 * @param path the file, as it is reached
 * @param most bytes that all of them may have together
 */
export async function neighboursOf(
  path: string,
  names: readonly string[],
  files: Files,
  most: number,
): Promise<Neighbours> {
  const found = new Map<string, Resolved>();
  let left = most;
  for (const [count, name] of names.entries()) {
    if (count >= mostNeighbours) {
      found.set(name, { why: `A file may name ${mostNeighbours} others.` });
      continue;
    }
    const one = await neighbour(path, name, files, left);
    if (!("why" in one)) left -= one.length;
    found.set(name, one);
  }
  return found;
}

/** What an adapter is handed to reach them. */
export function resolveIn(neighbours: Neighbours): Resolve {
  return (name) => neighbours.get(name) ?? { why: "It is not at hand here." };
}

const foreign = "Only files in the folder of the shot, and below it, are read.";

/**
 * The same for whoever cannot wait: an editor's text is read again as it changes.
 * @param path null for a text that is in no file: nothing stands beside it
 */
export function resolveBeside(path: string | null, most: number): Resolve {
  return (name) => {
    if (path === null) return { why: "The text is in no file." };
    const target = targetOf(path, name);
    if (target === null) return { why: foreign };
    try {
      if (!isWithin(realpathSync(dirname(path)), realpathSync(target))) return { why: foreign };
      return readPlainSync(target, boundsOf(most));
    } catch (error) {
      return { why: reasonOf(error) };
    }
  };
}

async function neighbour(path: string, name: string, files: Files, most: number): Promise<Resolved> {
  const target = targetOf(path, name);
  if (target === null) return { why: foreign };
  try {
    if (!isWithin(await realpath(dirname(path)), await realpath(target))) return { why: foreign };
    return await files.read(target, boundsOf(most));
  } catch (error) {
    return { why: reasonOf(error) };
  }
}

function boundsOf(most: number): Bounds {
  return {
    most: Math.max(0, most),
    wayOut: "If that is meant, --budget file=SIZE allows it.",
    isText: false,
  };
}

/** Where a name leads; null where that is not beside the file. */
function targetOf(path: string, name: string): string | null {
  const plain = plainName(name);
  if (plain === null) return null;
  const target = resolve(dirname(path), plain);
  return isWithin(dirname(path), target) ? target : null;
}

/** A relative path without what parts of URIs mean; null for addresses, absolute paths and names that are none. */
function plainName(name: string): string | null {
  if (/^[a-z][a-z0-9+.-]*:/i.test(name) || /^[/\\]/.test(name)) return null;
  let plain: string;
  try {
    plain = decodeURIComponent(name);
  } catch {
    plain = name;
  }
  const isPlain =
    plain !== "" &&
    !plain.includes("\u0000") &&
    !plain.includes("\\") &&
    !isAbsolute(plain) &&
    !/^[a-z]:/i.test(plain);
  return isPlain ? plain : null;
}

function isWithin(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== "" && way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
