import { resolve } from "node:path";
import { bounds } from "../base/files/bounds.ts";
import type { Io } from "../base/io.ts";
import { byFile, type Input } from "../judge/archive/inputs.ts";
import { detected, readerFor } from "../judge/shots/readers.ts";

/** What `--animation` takes for each animation of a file. */
export const allAnimations = "all";

/** Names of the animations of a shot's file; empty where its kind holds one, or where it cannot be read. */
export async function animationsIn(file: string, most: number, io: Io): Promise<readonly string[]> {
  const adapter = readerFor(file);
  if (adapter !== null && adapter.animations === undefined) return [];
  try {
    const bytes = await io.files.read(resolve(io.cwd, file), { ...bounds.shot, most, isText: false });
    return (adapter ?? detected(bytes))?.animations?.(bytes) ?? [];
  } catch {
    // Judging it tells what is wrong with it.
    return [];
  }
}

/**
 * Inputs with the animation that is meant; where all are meant, an input for each animation of a file that holds
 * several, whose name has the animation's behind it after a number sign.
 */
export async function withAnimations(
  inputs: readonly Input[],
  animation: string | undefined,
  most: number,
  io: Io,
): Promise<readonly Input[]> {
  if (animation === undefined) return inputs;
  const result: Input[] = [];
  for (const input of inputs) {
    const adapter = readerFor(input.file);
    if (input.problem !== null || (adapter !== null && adapter.animations === undefined)) result.push(input);
    else if (animation !== allAnimations) result.push({ ...input, animation });
    else {
      const names = await animationsIn(input.file, most, io);
      if (names.length < 2) result.push(input);
      else {
        const { file } = input;
        for (const name of names)
          result.push({ ...input, file: `${file}#${name}`, path: file, animation: name });
      }
    }
  }
  return result.sort(byFile);
}
