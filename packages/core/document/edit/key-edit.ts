import { z } from "zod";
import { type Channel, channels, type Interpolation, interpolations } from "../model.ts";

const finite = z.number();
const quaternion = z.tuple([finite, finite, finite, finite]);
const handle = z
  .union([finite, z.tuple([finite, finite]), quaternion])
  .nullable()
  .describe("[frames, value], or a slope for a cubic segment; null takes the handle away.");
const place = {
  node: z.string().min(1),
  channel: z.enum(channels),
  frame: finite.describe("Where the key stands before the edits."),
};

/** A key edit as it comes from outside, for example over a connection. */
export const keyEditSchema = z
  .discriminatedUnion("kind", [
    z.object({
      kind: z.literal("set"),
      ...place,
      value: z.union([finite, quaternion]),
      handles: z.object({ in: handle.optional(), out: handle.optional() }).optional(),
      interpolation: z
        .enum(interpolations)
        .nullable()
        .optional()
        .describe("Of the segment that starts at the key; null takes the curve's own."),
    }),
    z.object({
      kind: z.literal("move"),
      ...place,
      toFrame: finite,
      value: z.union([finite, quaternion]).optional(),
    }),
    z.object({ kind: z.literal("remove"), ...place }),
  ])
  .describe("A change of one key.");

export type KeyValue = number | readonly [number, number, number, number];
/** `[frames, value]`, a slope, or four slopes of a quaternion; null takes the handle away. */
export type KeyHandle = number | readonly [number, number] | readonly [number, number, number, number] | null;

interface KeyPlace {
  readonly node: string;
  readonly channel: Channel;
  /** The key's frame before the edits, to within a millionth of a frame. */
  readonly frame: number;
}

/** Gives a key a value. Makes the key where there is none at the frame, and the curve where the channel has none. */
export interface SetKey extends KeyPlace {
  readonly kind: "set";
  readonly value: KeyValue;
  /** Handles that are left out stay as they are. */
  readonly handles?:
    | { readonly in?: KeyHandle | undefined; readonly out?: KeyHandle | undefined }
    | undefined;
  /** Of the segment that starts at the key; null takes the curve's own, left out leaves it as it is. */
  readonly interpolation?: Interpolation | null | undefined;
}

/** Moves a key in time, with its handles. */
export interface MoveKey extends KeyPlace {
  readonly kind: "move";
  readonly toFrame: number;
  readonly value?: KeyValue | undefined;
}

/** Takes a key out; a curve without keys is taken out whole. */
export interface RemoveKey extends KeyPlace {
  readonly kind: "remove";
}

/**
 * A change of one key. The edits of one list are made at once: each names its key by the frame at which the key stands
 * before any of them, so that a whole run of keys can be moved by one frame in any order.
 */
export type KeyEdit = SetKey | MoveKey | RemoveKey;
