import type { Adapter } from "@keyside/adapters";
import type { ReadResult } from "@keyside/core";
import { suggestion } from "@keyside/core/internal";
import { UnreadableError } from "../errors.ts";
import { messageOf, placeIn } from "./blame.ts";

/** Members of an adapter, and what each has to be. */
const members: Readonly<Record<string, "text" | "texts" | "flag" | "function">> = {
  name: "text",
  title: "text",
  endings: "texts",
  beside: "texts",
  isBinary: "flag",
  detect: "function",
  needs: "function",
  animations: "function",
  read: "function",
  readText: "function",
  write: "function",
  cannotCarry: "texts",
};

const required: readonly string[] = ["name", "title", "endings", "detect", "cannotCarry"];

const kinds = {
  text: { is: (value: unknown) => typeof value === "string" && value.trim() !== "", wanted: "a text" },
  texts: {
    is: (value: unknown) => Array.isArray(value) && value.every((one) => typeof one === "string"),
    wanted: "a list of texts",
  },
  flag: { is: (value: unknown) => typeof value === "boolean", wanted: "true or false" },
  function: { is: (value: unknown) => typeof value === "function", wanted: "a function" },
} as const;

/**
 * What is wrong with an adapter of somebody else's, a phrase each.
 * @param taken adapters that there are already
 */
export function adapterFaults(adapter: unknown, taken: readonly Adapter[]): string[] {
  if (typeof adapter !== "object" || adapter === null || Array.isArray(adapter)) {
    return ["an object is wanted, with name, title, endings, detect, cannotCarry, and read or write"];
  }
  const given = adapter as Readonly<Record<string, unknown>>;
  const faults: string[] = [];
  for (const [name, value] of Object.entries(given)) {
    const kind = Object.hasOwn(members, name) ? members[name] : undefined;
    if (kind === undefined) {
      faults.push(
        `an adapter has no "${name}".${suggestion(name, Object.keys(members))}`.replace(/[.]$/, ""),
      );
    } else if (value !== undefined && !kinds[kind].is(value)) {
      faults.push(`${name}: ${kinds[kind].wanted} is wanted`);
    }
  }
  for (const name of required) if (given[name] === undefined) faults.push(`${name}: it is missing`);
  if (faults.length > 0) return faults;
  const { name, endings, beside = [], read, readText, write } = adapter as Adapter;
  if (!/^[a-z][a-z0-9-]*$/.test(name)) {
    faults.push("name: it is made of small letters, digits and hyphens");
  }
  if (taken.some((other) => other.name === name)) {
    faults.push(`name: another adapter is called "${name}" already`);
  }
  if (endings.length === 0) faults.push("endings: at least one is wanted");
  const others = new Set(taken.flatMap((other) => [...other.endings, ...(other.beside ?? [])]));
  for (const ending of [...endings, ...beside]) {
    if (!/^(\.[a-z0-9_-]+)+$/.test(ending)) {
      faults.push(`endings: "${ending}" is none; they are in small letters, such as ".rig.xml"`);
    }
    if (others.has(ending)) faults.push(`endings: files that end with ${ending} have an adapter already`);
  }
  if (read === undefined && readText === undefined && write === undefined) {
    faults.push("it neither reads nor writes; give it read, readText or write");
  }
  return faults;
}

/** An adapter of somebody else's: where it fails, or gives no shot and no problem, its module is named. */
export function foreignAdapter(path: string, adapter: Adapter): Adapter {
  const { name, read, readText, needs, animations, detect, write } = adapter;
  const guarded = <A extends readonly unknown[], R>(what: string, work: (...given: A) => R) => {
    return (...given: A): R => {
      try {
        return work(...given);
      } catch (error) {
        throw failed(path, name, what, error);
      }
    };
  };
  return {
    ...adapter,
    detect: guarded("detect", detect),
    ...(needs === undefined ? {} : { needs: guarded("needs", needs) }),
    ...(animations === undefined ? {} : { animations: guarded("animations", animations) }),
    ...(read === undefined ? {} : { read: asResult(path, name, guarded("read", read)) }),
    ...(readText === undefined ? {} : { readText: asResult(path, name, guarded("readText", readText)) }),
    ...(write === undefined ? {} : { write: guardedWrite(path, name, write) }),
  };
}

function failed(path: string, name: string, what: string, error: unknown): UnreadableError {
  return new UnreadableError(
    path,
    `The adapter "${name}" failed in ${what}${placeIn(path, error)}: ${messageOf(error)}.`,
  );
}

function asResult<A extends readonly unknown[]>(
  path: string,
  name: string,
  read: (...given: A) => ReadResult,
): (...given: A) => ReadResult {
  return (...given) => {
    const result: Partial<ReadResult> | null | undefined = read(...given);
    const isResult =
      Array.isArray(result?.problems) &&
      (result.shot === null || (Array.isArray(result.shot?.curves) && result.shot.header !== undefined));
    if (isResult) return { places: new Map(), ...result } as ReadResult;
    throw new UnreadableError(
      path,
      `The adapter "${name}" gave no result: it has to give what shotOf and readShot give.`,
    );
  };
}

function guardedWrite(
  path: string,
  name: string,
  write: NonNullable<Adapter["write"]>,
): NonNullable<Adapter["write"]> {
  return async (shot, options) => {
    let result: Awaited<ReturnType<typeof write>>;
    try {
      result = await write(shot, options);
    } catch (error) {
      throw failed(path, name, "write", error);
    }
    const isFile = (file: { name?: unknown; content?: unknown } | null) =>
      typeof file?.name === "string" &&
      file.name !== "" &&
      !/[\\/]/.test(file.name) &&
      (typeof file.content === "string" || file.content instanceof Uint8Array);
    const isWhole = Array.isArray(result?.files) && result.files.length > 0 && result.files.every(isFile);
    if (isWhole && Array.isArray(result.lost)) return result;
    throw new UnreadableError(
      path,
      `The adapter "${name}" gave no files: { files: [{ name, content }], lost: [] } is wanted.`,
    );
  };
}
