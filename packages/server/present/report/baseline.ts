import { z } from "zod";
import { reasonOf, UnreadableError } from "../../base/errors.ts";
import { streamPlain } from "../../base/files/plain.ts";
import { jsonMembers, MembersError } from "../../judge/archive/json-members.ts";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import type { JudgedShot } from "../../judge/shots/shot-report.ts";
import { isShown } from "../text/shown.ts";
import type { WriterOptions } from "./writer-options.ts";

const entrySchema = z.object({
  shot: z.string().describe("What the shot is called: its own name, else its file's."),
  fingerprints: z.array(z.string()).describe("Fingerprints of the notes that are known."),
});

/** A baseline: the notes of an archive at one time, so that later runs tell what is new. */
export const baselineSchema = z
  .object({
    format: z.literal("keyside.baseline"),
    version: z.literal(1),
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    shots: z.array(entrySchema).describe("Shots of the same name share what is known."),
  })
  .describe("Notes that are known and are left out by keyside check --baseline.");

/** JSON Schema (draft 2020-12) of a baseline. */
export function baselineJsonSchema(): Record<string, unknown> {
  return { title: "Keyside baseline", ...z.toJSONSchema(baselineSchema) };
}

/** Writes a baseline instead of a report: a line per shot that has notes. */
export function baselineWriter({ lightest }: Pick<WriterOptions, "lightest">): ReportWriter {
  let isFirst = true;
  return {
    begin({ version }) {
      const tool = JSON.stringify({ name: "keyside", version });
      return `{\n  "format": "keyside.baseline",\n  "version": 1,\n  "tool": ${tool},\n  "shots": [`;
    },
    shot(shot) {
      const fingerprints = shot.notes
        .filter(({ tier }) => isShown(tier, lightest))
        // What a note speaks for now may stand by itself in the next version, and is known then.
        .flatMap(({ fingerprint, also = [] }) => [fingerprint, ...also.map((other) => other.fingerprint)]);
      if (fingerprints.length === 0) return "";
      const text = `${isFirst ? "\n" : ",\n"}    ${JSON.stringify({ shot: shot.name, fingerprints })}`;
      isFirst = false;
      return text;
    },
    error: () => "",
    end: () => `${isFirst ? "]" : "\n  ]"}\n}\n`,
  };
}

/** What is known of an archive. */
export class Baseline {
  private readonly byShot = new Map<string, Set<string>>();

  add({ shot, fingerprints }: z.infer<typeof entrySchema>): void {
    const known = this.byShot.get(shot) ?? new Set();
    this.byShot.set(shot, known);
    for (const fingerprint of fingerprints) known.add(fingerprint);
  }

  /** A shot without the notes that are known; how many those are is said in it. */
  newIn(shot: JudgedShot): JudgedShot {
    const known = this.byShot.get(shot.name);
    const notes =
      known === undefined ? shot.notes : shot.notes.filter(({ fingerprint }) => !known.has(fingerprint));
    return { ...shot, notes, known: shot.notes.length - notes.length };
  }
}

const head = baselineSchema.pick({ format: true, version: true });

/**
 * Reads a baseline, one shot at a time.
 * @throws UnreadableError where it is none, or is not whole
 */
export async function readBaseline(path: string, shown: string): Promise<Baseline> {
  const baseline = new Baseline();
  const seen: Record<string, unknown> = {};
  try {
    const chunks = await streamPlain(path);
    for await (const { name, text } of jsonMembers(chunks, new Set(["shots"]))) {
      if (name !== "shots") {
        seen[name] = JSON.parse(text);
        continue;
      }
      const entry = entrySchema.safeParse(JSON.parse(text));
      if (!entry.success) throw notABaseline(shown);
      baseline.add(entry.data);
    }
  } catch (error) {
    if (error instanceof UnreadableError) throw error;
    if (error instanceof MembersError || error instanceof SyntaxError) {
      throw new UnreadableError(
        shown,
        `It is not a whole baseline: ${error.message}. Write it again with keyside baseline.`,
      );
    }
    throw new UnreadableError(shown, reasonOf(error));
  }
  if (!head.safeParse(seen).success) throw notABaseline(shown);
  return baseline;
}

function notABaseline(shown: string): UnreadableError {
  return new UnreadableError(shown, "It is no baseline of this version; write one with keyside baseline.");
}
