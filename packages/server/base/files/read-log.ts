import { statSync } from "node:fs";
import type { Files } from "./read.ts";

/** Which files a run has read, so that it does not write over them. */
export interface ReadLog {
  /** The same files; what is read of them is remembered. */
  readonly files: Files;
  /** Remembers a file that is read in another way. */
  add(path: string): void;
  /** Whether what stands at a path has been read, under whatever name. */
  hasRead(path: string): boolean;
}

export function readLogOf(files: Files): ReadLog {
  const paths = new Set<string>();
  return {
    files: {
      ...files,
      read: (path, within) => {
        paths.add(path);
        return files.read(path, within);
      },
    },
    add: (path) => void paths.add(path),
    hasRead(path) {
      const own = identityOf(path);
      if (own === null) return false;
      for (const other of paths) if (other === path || identityOf(other) === own) return true;
      return false;
    },
  };
}

/** Tells a file from every other, whatever links lead to it; null where there is none. */
export function identityOf(path: string): string | null {
  try {
    const { dev, ino } = statSync(path, { bigint: true });
    return `${dev} ${ino}`;
  } catch {
    return null;
  }
}
