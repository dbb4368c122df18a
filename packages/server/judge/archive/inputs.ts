import type { ReportError } from "@keyside/core";
import type { Discovered } from "./discover.ts";

/** What a run has to go through: a shot's file, or what is wrong with a path that was asked for. */
export interface Input {
  readonly file: string;
  /** Why nothing can be judged here; null for a file that is to be judged. */
  readonly problem: string | null;
  /** The file itself, where `file` names an animation in it besides. */
  readonly path?: string | undefined;
  /** The animation that is meant, of a file that may hold several. */
  readonly animation?: string | undefined;
  /** Whether a configuration or an ignore file is at fault. */
  readonly isWrongUse?: true | undefined;
}

/** All inputs in the order in which they are reported, whatever the order in which they were found. */
export function inputsOf({ files, errors }: Pick<Discovered, "files" | "errors">): Input[] {
  const inputs: Input[] = files.map((file) => ({ file, problem: null }));
  for (const { file, message, isWrongUse } of errors) inputs.push({ file, problem: message, isWrongUse });
  return inputs.sort(byFile);
}

/** Order of the report: by the files' names, by UTF-16 code units, the same on every machine and in every language. */
export function byFile(a: Pick<ReportError, "file">, b: Pick<ReportError, "file">): number {
  return a.file < b.file ? -1 : a.file > b.file ? 1 : 0;
}
