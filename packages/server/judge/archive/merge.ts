import type { ReportError, ReportedShot } from "@keyside/core";
import { reportSchema } from "@keyside/core/internal";
import { reasonOf, UnreadableError } from "../../base/errors.ts";
import { streamPlain } from "../../base/files/plain.ts";
import { byFile } from "./inputs.ts";
import { jsonMembers, MembersError } from "./json-members.ts";
import type { ReportSummary } from "./report-writer.ts";
import type { Shard } from "./shard.ts";

/** A report that is to be merged with others. */
export interface Part {
  /** As it was named. */
  readonly shown: string;
  readonly path: string;
  readonly version: string;
  readonly shard: Shard | null;
  readonly shots: number;
  readonly errors: readonly ReportError[];
  readonly stopped: ReportSummary["stopped"];
}

/** Parts that do not belong together; the message says why. */
export class MergeError extends Error {
  override readonly name = "MergeError";
}

/** What comes out of several parts, in the order of the files' names. */
export type Merged =
  | { readonly kind: "shot"; readonly shot: ReportedShot }
  | { readonly kind: "error"; readonly error: ReportError };

const lists = new Set(["shots", "errors"]);
const shape = reportSchema.shape;

/**
 * Reads all of a part but its shots, which are only counted.
 * @throws UnreadableError where it is no report as JSON, or not all of one
 */
export async function openPart(path: string, shown: string): Promise<Part> {
  let tool: unknown;
  let shard: unknown;
  let stopped: unknown;
  const errors: ReportError[] = [];
  let shots = 0;
  for await (const { name, value } of membersOf(path, shown)) {
    if (name === "shots") shots++;
    else if (name === "tool") tool = value();
    else if (name === "shard") shard = value();
    else if (name === "stopped") stopped = value();
    else if (name === "errors") errors.push(value() as ReportError);
  }
  const head = reportSchema.pick({ tool: true, shard: true, errors: true, stopped: true });
  const read = head.safeParse({ tool, errors, shard, stopped });
  if (!read.success) throw notAReport(shown, read.error.issues[0]);
  const { data } = read;
  return {
    shown,
    path,
    version: data.tool.version,
    shard: data.shard ?? null,
    shots,
    errors: [...data.errors].sort(byFile),
    stopped: data.stopped ?? null,
  };
}

/**
 * Holds parts against each other.
 * @throws MergeError where versions differ, or where shards are missing, there twice, or of different partitions
 */
export function checkParts(parts: readonly Part[], version: string): void {
  for (const part of parts) {
    if (part.version === version) continue;
    throw new MergeError(
      `${part.shown} was written by version ${part.version}, and this is ${version}: merge with the same version.`,
    );
  }
  const sharded = parts.filter(({ shard }) => shard !== null);
  const whole = parts.find(({ shard }) => shard === null);
  const [first] = sharded;
  if (first?.shard == null) return;
  if (whole !== undefined) {
    throw new MergeError(`${first.shown} is one shard of an archive and ${whole.shown} is not.`);
  }
  const byIndex = new Map<number, Part>();
  for (const part of sharded) {
    const { index, of } = part.shard as Shard;
    if (of !== first.shard.of) {
      throw new MergeError(
        `${first.shown} is one of ${first.shard.of} shards and ${part.shown} is one of ${of}.`,
      );
    }
    const other = byIndex.get(index);
    if (other !== undefined)
      throw new MergeError(`${other.shown} and ${part.shown} are both shard ${index}.`);
    byIndex.set(index, part);
  }
  const missing: number[] = [];
  for (let index = 1; index <= first.shard.of; index++) if (!byIndex.has(index)) missing.push(index);
  if (missing.length === 0) return;
  const shown = missing.slice(0, 10).join(", ") + (missing.length > 10 ? " and more" : "");
  throw new MergeError(
    `Of ${first.shard.of} shards these are missing: ${shown}. Run them again (--shard I/${first.shard.of}).`,
  );
}

/** How far the parts came together; null where all of them came to their end. */
export function stoppedOf(parts: readonly Part[]): ReportSummary["stopped"] {
  if (parts.every(({ stopped }) => stopped === null)) return null;
  let done = 0;
  let of = 0;
  for (const { stopped, shots, errors } of parts) {
    done += stopped?.done ?? shots + errors.length;
    of += stopped?.of ?? shots + errors.length;
  }
  return { done, of };
}

/**
 * Everything that stands in the parts, in the order of a single run. One shot of each part is in memory at a time.
 * @throws UnreadableError where a part is damaged; MergeError where a file stands in two parts
 */
export async function* merged(parts: readonly Part[]): AsyncGenerator<Merged> {
  const streams: { readonly part: Part; readonly from: AsyncIterator<Merged>; head: Merged }[] = [];
  const begin = async (part: Part, from: AsyncIterator<Merged>) => {
    const { value, done } = await from.next();
    if (done !== true) streams.push({ part, from, head: value });
  };
  try {
    for (const part of parts) {
      await begin(part, shotsIn(part));
      await begin(part, errorsIn(part));
    }
    let before: readonly [string, Part] | undefined;
    while (streams.length > 0) {
      let first = 0;
      for (let i = 1; i < streams.length; i++) {
        if (fileOf(streams[i]!.head) < fileOf(streams[first]!.head)) first = i;
      }
      const stream = streams[first]!;
      const file = fileOf(stream.head);
      if (before?.[0] === file && before[1] !== stream.part) {
        throw new MergeError(`${file} stands in ${before[1].shown} and in ${stream.part.shown}.`);
      }
      before = [file, stream.part];
      yield stream.head;
      const { value, done } = await stream.from.next();
      if (done === true) streams.splice(first, 1);
      else stream.head = value;
    }
  } finally {
    // What is given up in the middle leaves no file open.
    for (const { from } of streams) await from.return?.();
  }
}

function fileOf(one: Merged): string {
  return one.kind === "shot" ? one.shot.file : one.error.file;
}

async function* shotsIn({ path, shown }: Part): AsyncGenerator<Merged> {
  let before = "";
  for await (const { name, value } of membersOf(path, shown)) {
    if (name !== "shots") continue;
    const shot = value();
    const read = shape.shots.element.safeParse(shot);
    if (!read.success) throw notAReport(shown, read.error.issues[0]);
    if (read.data.file < before) {
      throw new UnreadableError(shown, "Its shots are not in the order of their files' names.");
    }
    before = read.data.file;
    // What was read, not what the schema makes of it: the order of members stays as it was written.
    yield { kind: "shot", shot: shot as ReportedShot };
  }
}

async function* errorsIn({ errors }: Part): AsyncGenerator<Merged> {
  for (const error of errors) yield { kind: "error", error };
}

async function* membersOf(
  path: string,
  shown: string,
): AsyncGenerator<{ readonly name: string; value(): unknown }> {
  try {
    const chunks = await streamPlain(path);
    for await (const { name, text } of jsonMembers(chunks, lists)) {
      yield { name, value: () => parsed(text, shown) };
    }
  } catch (error) {
    if (error instanceof MembersError) throw notWhole(shown, error);
    throw error instanceof UnreadableError ? error : new UnreadableError(shown, reasonOf(error));
  }
}

function parsed(text: string, shown: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw notWhole(shown, error as Error);
  }
}

function notWhole(shown: string, { message }: Error): UnreadableError {
  return new UnreadableError(shown, `It is not a whole report as JSON: ${message}.`);
}

function notAReport(
  shown: string,
  issue: { readonly path: readonly PropertyKey[]; readonly message: string } | undefined,
): UnreadableError {
  const where =
    issue === undefined || issue.path.length === 0 ? "" : ` (${issue.path.map(String).join(".")})`;
  return new UnreadableError(
    shown,
    `It is no report as JSON${where}; write parts with keyside check --format json.`,
  );
}
