import { z } from "zod";
import { colourSchema, extent, finite, frames, id, stretch, vector2, vector3 } from "./base.ts";
import { zoomSchema } from "./curves.ts";

/** Media by name, with their usual density; what a density is given for may be called anything else. */
export const media = ["air", "water", "vacuum"] as const;

export const surfaceSchema = z.object({
  id,
  normal: vector3.optional().describe("Points to where one stands on it; straight up if left out."),
  height: finite.describe("Along the normal, in units."),
  node: id.optional().describe("The node that carries it: normal, height and edges are in its space then."),
  edges: z
    .array(vector2)
    .min(2)
    .optional()
    .describe(
      "Two opposite corners of a rectangle, or three or more corners of an outline, as seen from above; " +
        "of what is steeper than 60°, as seen along the level axis that its normal is nearest to.",
    ),
});

export const contactSchema = z.object({
  node: id,
  with: id.optional(),
  frames,
  slides: z.boolean().optional(),
});

export const surroundingSchema = z
  .object({
    medium: z.enum(media).optional(),
    density: finite.min(0).optional().describe("Kilograms per cubic metre; that of the medium if left out."),
    below: id.optional().describe("The surface that bounds it: it lies against the normal of it."),
    frames: stretch.optional(),
  })
  .describe("What is around the figures, and where; air if left out. Of several the last counts.");

export const propSchema = z
  .object({
    node: id.describe("The object; its shape is that of the node."),
    mass: extent.optional().describe("Mass in kilograms."),
    heldBy: z
      .array(
        z.object({
          node: id.describe("What holds it: a hand."),
          frames,
          slides: z.boolean().optional().describe("Whether it is meant to slip along what holds it."),
        }),
      )
      .optional(),
  })
  .describe("An object that figures handle.");

export const cameraSchema = z.object({
  id,
  node: id,
  verticalFieldOfView: z
    .number()
    .positive()
    .lt(180)
    .optional()
    .describe("Degrees from the bottom of the picture to its top: a perspective camera."),
  verticalExtent: extent
    .optional()
    .describe("Units from the bottom of the picture to its top: an orthographic camera."),
  aspect: extent.optional().describe("Width of the picture over its height."),
  near: finite.min(0).optional().describe("Units; what is nearer is not seen."),
  far: extent.optional().describe("Units; what is farther is not seen."),
  zoom: zoomSchema.optional(),
  background: colourSchema
    .optional()
    .describe(
      "Colour of what is behind all that has a shape, as a node's colour is given; unknown if left out.",
    ),
  frames: frames
    .optional()
    .describe("Frames that are seen through it; all if left out. Of several the first counts."),
});

export const gazeSchema = z.object({ figure: id, at: id, frames });

export const soundSchema = z
  .object({
    file: z.string().min(1).describe("Path from the document's folder; never the sound itself."),
    frame: finite.describe("Frame at which it starts; may have a fraction."),
    node: id.optional().describe("Where it comes from."),
    label: z.string().optional().describe("What it is."),
  })
  .describe("A sound, in a file of its own.");
