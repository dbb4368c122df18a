import { z } from "zod";
import { extent, frames, id } from "./schema/base.ts";
import { curveSchema } from "./schema/curves.ts";
import { animators, figureSchema } from "./schema/figures.ts";
import { nodeSchema } from "./schema/nodes.ts";
import {
  cameraSchema,
  contactSchema,
  gazeSchema,
  propSchema,
  soundSchema,
  surfaceSchema,
  surroundingSchema,
} from "./schema/scene.ts";
import { channels } from "./terms.ts";

export { curveSchema, keySchema } from "./schema/curves.ts";
export * from "./schema/figures.ts";
export * from "./schema/nodes.ts";
export * from "./schema/scene.ts";

/** The version of the format that this program writes; it reads all older ones. */
export const formatVersion = 1;

/** Stages of work on a shot, in their order. */
export const workStages = ["blocking", "splining", "polish"] as const;
const stage = z.enum(workStages).describe("How far the work is: what is still to come is no fault of it.");

const frameRate = z
  .union([z.number().positive(), z.string().regex(/^\d+(\.\d+)?(\/\d+)?$/)])
  .describe('Frames per second: a number, or a fraction such as "24000/1001".');

export const shotSchema = z
  .object({
    name: z.string().optional(),
    revision: z.number().int().optional(),
    frameRate,
    range: frames.optional(),
    stage: stage.optional(),
    style: z
      .string()
      .min(1)
      .optional()
      .describe("Style of animation by which it is judged: one that there is, or one of the configuration."),
    animators: animators.optional(),
  })
  .describe("What the shot is called and how fast it runs.");

export const spaceSchema = z
  .object({
    metresPerUnit: extent.optional().describe("Length of one unit; inferred from stature if left out."),
    up: z
      .enum(["x", "y", "z"])
      .optional()
      .describe("Axis that points up; that on which the rest pose stands if left out, else y."),
    angle: z.enum(["degrees", "radians"]).default("degrees"),
  })
  .describe("Units of the document.");

export const propulsorSchema = z.object({ figure: id, nodes: z.array(id).min(1), channel: z.enum(channels) });

export const stageSchema = z
  .object({ stage, frames })
  .describe("Frames that are at another stage of work than the shot.");

export const waiverSchema = z.object({
  check: z.string(),
  node: id.optional(),
  frames: frames.optional(),
  reason: z.string().min(1),
  by: z.string().optional(),
  lastRevision: z.number().int().optional(),
});

/** All of the document but the curves. A document of a newer version keeps its number. */
export const headerSchema = z.object({
  format: z.literal("keyside.curves"),
  version: z.number().int().min(1),
  shot: shotSchema,
  space: spaceSchema.optional(),
  nodes: z.array(nodeSchema),
  figures: z.array(figureSchema).optional(),
  surfaces: z.array(surfaceSchema).optional(),
  contacts: z.array(contactSchema).optional(),
  surroundings: z.array(surroundingSchema).optional(),
  props: z.array(propSchema).optional(),
  cameras: z.array(cameraSchema).optional(),
  gazes: z.array(gazeSchema).optional(),
  propulsors: z.array(propulsorSchema).optional(),
  sounds: z.array(soundSchema).optional(),
  stages: z.array(stageSchema).optional(),
  waivers: z.array(waiverSchema).optional(),
});

/** The whole document: the published JSON Schema is made from this. */
export const documentSchema = headerSchema.extend({
  version: z.literal(formatVersion),
  curves: z.array(curveSchema),
});

/** A document without its curves. */
export type DocumentHeader = z.infer<typeof headerSchema>;
/** A curve document as plain data, as it stands in a file. */
export type CurveDocument = Omit<z.input<typeof documentSchema>, "version"> & Pick<DocumentHeader, "version">;
/** A node as a document declares it. */
export type NodeSpec = z.infer<typeof nodeSchema>;
/** A figure as a document declares it. */
export type FigureSpec = z.infer<typeof figureSchema>;
/** A curve as it stands in a document. */
export type CurveSpec = z.input<typeof curveSchema>;

type EntryOf<List extends keyof DocumentHeader> =
  NonNullable<DocumentHeader[List]> extends (infer E)[] ? E : never;
/** A shape that a node carries, as a document declares it. */
export type ShapeSpec = NonNullable<NodeSpec["shapes"]>[number];
/** A limb of a figure, as a document declares it. */
export type LimbSpec = NonNullable<FigureSpec["limbs"]>[number];
/** A surface, as a document declares it. */
export type SurfaceSpec = EntryOf<"surfaces">;
/** What is around the figures, as a document declares it. */
export type SurroundingSpec = EntryOf<"surroundings">;
/** An object that figures handle, as a document declares it. */
export type PropSpec = EntryOf<"props">;
/** A camera, as a document declares it. */
export type CameraSpec = EntryOf<"cameras">;
/** A sound in a file of its own, as a document declares it. */
export type SoundSpec = EntryOf<"sounds">;
/** A stretch of the shot with its stage of work, as a document declares it. */
export type StageSpec = EntryOf<"stages">;
/** One of {@link workStages}. */
export type WorkStage = (typeof workStages)[number];
