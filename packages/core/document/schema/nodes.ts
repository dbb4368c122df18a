import { z } from "zod";
import { colourSchema, extent, frames, id, quaternion, vector3 } from "./base.ts";

/**
 * The six rotation orders, written as the matrix product for column vectors: "zxy" is Rz · Rx · Ry, the intrinsic
 * sequence z, x, y. It is the order in which BVH lists its rotation channels.
 */
export const rotationOrders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] as const;

const centre = vector3.optional().describe("In the node's space, in units; [0, 0, 0] if left out.");
const radius = extent.describe("In units.");

export const shapeSchema = z
  .discriminatedUnion(
    "kind",
    [
      z.object({ kind: z.literal("sphere"), radius, centre }),
      z.object({ kind: z.literal("capsule"), radius, from: vector3, to: vector3 }),
      z.object({
        kind: z.literal("box"),
        size: z.tuple([extent, extent, extent]),
        centre,
        rotation: quaternion.optional().describe("Turn [x, y, z, w] about its centre."),
      }),
    ],
    { error: 'one of "sphere", "capsule", "box"' },
  )
  .describe("A shape in the node's space, in units; a capsule runs between the centres of its round ends.");

export const nodeSchema = z
  .object({
    id,
    parent: id.optional(),
    translation: vector3
      .optional()
      .describe("Rest position in the parent's space; translation curves replace its components."),
    fixedRotation: quaternion
      .optional()
      .describe("A fixed turn [x, y, z, w] applied before the node's own rotation."),
    rotationOrder: z
      .enum(rotationOrders)
      .optional()
      .describe("Order of the axis rotations; xyz if left out."),
    rotation: vector3.optional().describe("Rest values of the rotation channels."),
    scale: vector3.optional().describe("Rest values of the scale channels."),
    shapes: z.array(shapeSchema).optional().describe("What can be seen of the node; together one shape."),
    colour: colourSchema
      .optional()
      .describe(
        'Display colour of sRGB, "#rrggbb", or keys of it, [[frame, "#rrggbb"], …], each of which holds until the next; ' +
          "that of the parent if left out.",
      ),
    visible: z
      .array(frames)
      .optional()
      .describe(
        "Stretches of frames in which it is seen, and all below it may be; all if left out, [] never.",
      ),
  })
  .describe("A joint or object in the hierarchy.");
