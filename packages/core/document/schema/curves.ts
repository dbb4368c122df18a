import { z } from "zod";
import { channels, interpolations } from "../terms.ts";
import { finite, id, quaternion } from "./base.ts";

const handle = z.tuple([finite, finite]).describe("Offset from the key: frames, value.");
const keyExtras = z.object({
  interpolation: z.enum(interpolations).optional(),
  in: z.union([handle, finite, quaternion]).optional(),
  out: z.union([handle, finite, quaternion]).optional(),
});
export const keySchema = z
  .union([
    z.tuple([finite, z.union([finite, quaternion])]),
    z.tuple([finite, z.union([finite, quaternion]), keyExtras]),
  ])
  .describe(
    "[frame, value] or [frame, value, { in, out, interpolation }]; a cubic key's in and out are slopes per frame.",
  );

export const curveSchema = z
  .object({
    node: id,
    channel: z.enum(channels),
    interpolation: z.enum(interpolations).default("linear"),
    keys: z.array(keySchema),
  })
  .describe("The keys of one channel.");

const zoomKeySchema = z.union(
  [
    z.tuple([finite, finite]),
    z.tuple([
      finite,
      finite,
      z.object({
        interpolation: z.enum(interpolations).optional(),
        in: z.union([handle, finite]).optional(),
        out: z.union([handle, finite]).optional(),
      }),
    ]),
  ],
  { error: "a key: [frame, value], or [frame, value, { … }]" },
);

export const zoomSchema = z
  .object({ interpolation: z.enum(interpolations).optional(), keys: z.array(zoomKeySchema).min(1) })
  .describe(
    "Keys of the verticalFieldOfView, or of the verticalExtent of a camera that has one; they replace its value.",
  );
