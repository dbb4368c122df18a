import { tiers } from "@keyside/core";
import { z } from "zod";
import { reasonOf, UnreadableError, unwrittenReason } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";
import { writeFileWhole } from "../../base/files/write.ts";
import type { ArchiveTally } from "./archive-tally.ts";

const count = z.number().int().min(0);

/** One run in a history file: a line of JSON. */
export const historyEntrySchema = z.object({
  at: z.iso.datetime().describe("When the run ended (ISO 8601, UTC)."),
  version: z.string().describe("Version of the tool."),
  shots: count,
  failing: count.describe("Shots with a note at or above the tier that fails."),
  errors: count.describe("Inputs that could not be judged."),
  notes: z.object({ broken: count, major: count, minor: count, polish: count }),
  checks: z.record(z.string(), count).describe("Notes by check."),
  stopped: z.literal(true).optional().describe("The run was stopped before its end."),
});
/** JSON Schema (draft 2020-12) of a line of a history. */
export function historyJsonSchema(): Record<string, unknown> {
  return { title: "Keyside run", ...z.toJSONSchema(historyEntrySchema) };
}

export type HistoryEntry = z.infer<typeof historyEntrySchema>;

/**
 * Reads the runs of a history file, the oldest first; none where there is no file yet.
 * @throws UnreadableError naming the line that is wrong
 */
export async function readHistory(files: Files, path: string, shown: string): Promise<HistoryEntry[]> {
  let text: string;
  try {
    if ((await files.kind(path)) === null) return [];
    text = new TextDecoder().decode(await files.read(path, bounds.list));
  } catch (error) {
    throw new UnreadableError(shown, reasonOf(error));
  }
  const entries: HistoryEntry[] = [];
  for (const [index, line] of text.split("\n").entries()) {
    if (line.trim() === "") continue;
    entries.push(entryFrom(line, shown, index + 1));
  }
  return entries;
}

function entryFrom(line: string, shown: string, number: number): HistoryEntry {
  let data: unknown;
  try {
    data = JSON.parse(line);
  } catch {
    throw new UnreadableError(shown, `Line ${number} is not JSON; take it out, or name another file.`);
  }
  const read = historyEntrySchema.safeParse(data);
  if (read.success) return read.data;
  const where = read.error.issues[0]?.path.join(".") ?? "";
  throw new UnreadableError(
    shown,
    `Line ${number} is no run of Keyside (${where}); take it out, or name another file.`,
  );
}

/** A run as the history keeps it. */
export function historyEntry(tally: ArchiveTally, version: string, at: Date, stopped: boolean): HistoryEntry {
  return {
    at: at.toISOString(),
    version,
    shots: tally.all.shots,
    failing: tally.all.failing,
    errors: tally.errors,
    notes: { ...tally.all.tiers },
    checks: Object.fromEntries(
      [...tally.checks]
        .map(
          ([name, { tiers: counts }]) => [name, tiers.reduce((sum, tier) => sum + counts[tier], 0)] as const,
        )
        .sort(([a], [b]) => (a < b ? -1 : 1)),
    ),
    ...(stopped ? { stopped: true as const } : {}),
  };
}

/** Adds a run to a history file; the file is whole at any time. */
export async function addToHistory(
  files: Files,
  path: string,
  shown: string,
  entry: HistoryEntry,
): Promise<void> {
  // What others have added since this run began stays.
  const before = await readHistory(files, path, shown);
  const text = [...before, entry].map((one) => `${JSON.stringify(one)}\n`).join("");
  try {
    await writeFileWhole(path, text, { force: true });
  } catch (error) {
    throw new UnreadableError(shown, unwrittenReason(error));
  }
}
