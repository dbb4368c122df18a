import { channels } from "@keyside/core";
import { keyEditSchema } from "@keyside/core/internal";
import type { ToDesk } from "@keyside/desk/link";
import { z } from "zod";

/** What pages say, held against what they may say. */

/** Common practice: far more than a page moves at once, and little beside what a message may hold. */
const mostEdits = 100_000;
const mostChannels = 10_000;
/** Numbers of a line, lines of a remark, and what is put in order at once. */
const mostPlaces = 6000;
const mostStrokes = 200;
const mostListed = 5000;

const request = z.number().int().min(0);
const words = (most: number) => z.string().min(1).max(most);
const fingerprint = words(1000);
const id = words(200);
const channelName = z.object({ node: z.string().min(1), channel: z.enum(channels) });
const plain = <T extends string>(type: T) => z.object({ type: z.literal(type), request });

const text = words(4000).regex(/\S/);
const by = z.string().max(200);
const frames = z.tuple([z.number(), z.number()]);
const weight = z.enum(["must", "should", "could", "keep"]);
const stroke = z.object({
  line: z.array(z.number()).min(3).max(mostPlaces),
  facing: z.tuple([z.number(), z.number(), z.number()]),
  frames,
  target: words(1000).nullable(),
});
const strokes = z.array(stroke).max(mostStrokes);
const remark = z.object({
  ...{ text, weight, by, strokes },
  frames: frames.nullable(),
  node: words(1000).nullable(),
});
const change = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("add"), remark }),
  z.object({
    kind: z.literal("change"),
    id,
    to: remark.omit({ by: true }).extend({ isDone: z.boolean() }).partial(),
    by,
  }),
  z.object({ kind: z.literal("remove"), id }),
  z.object({ kind: z.literal("take-back"), id }),
  z.object({
    kind: z.literal("decide"),
    fingerprint,
    to: z.object({
      isKept: z.boolean().optional(),
      reason: text.optional(),
      text: text.nullable().optional(),
      weight: weight.exclude(["keep"]).nullable().optional(),
    }),
    by,
  }),
  z.object({ kind: z.literal("order"), order: z.array(words(1000)).max(mostListed), by }),
]);

const toDesk = z.discriminatedUnion("type", [
  z.object({ type: z.literal("keys"), request, of: z.array(channelName).max(mostChannels) }),
  z.object({
    type: z.literal("edit"),
    request,
    base: z.number().int().min(0),
    group: words(200),
    label: words(200),
    edits: z.array(keyEditSchema).min(1).max(mostEdits),
  }),
  plain("undo"),
  plain("redo"),
  z.object({ type: z.literal("fix"), request, fingerprint }),
  z.object({ type: z.literal("apply"), request, fingerprint }),
  z.object({ type: z.literal("review"), request, label: words(200), change }),
  z.object({ type: z.literal("save"), request, over: z.boolean().optional() }),
  plain("reload"),
  plain("keep"),
  z.object({ type: z.literal("recover"), request, id }),
  z.object({ type: z.literal("discard"), request, id }),
]);

/** A message of a page, or why it is none and which request it may have been. */
export type Taken = { readonly message: ToDesk } | { readonly request: number | null; readonly why: string };

export function messageFrom(text: string): Taken {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { request: null, why: "The page sent what is no JSON." };
  }
  const read = toDesk.safeParse(value);
  if (read.success) return { message: read.data as ToDesk };
  const given = request.safeParse((value as { request?: unknown } | null)?.request);
  const [{ path, message }] = read.error.issues;
  const where = path.length === 0 ? "" : ` (${path.join(".")}: ${message})`;
  return { request: given.success ? given.data : null, why: `This is no message of the desk${where}.` };
}
