import { z } from "zod";
import { channels, interpolations } from "./terms.ts";

const finite = z.number().refine(Number.isFinite, "must be a finite number");
const vector3 = z.tuple([finite, finite, finite]);
const quaternion = z.tuple([finite, finite, finite, finite]);
const id = z.string().min(1);
const frames = z.tuple([finite, finite]).describe("First and last frame.");

/**
 * The six rotation orders, written as the matrix product for column vectors: "zxy" is Rz · Rx · Ry, the intrinsic
 * sequence z, x, y. It is the order in which BVH lists its rotation channels.
 */
export const rotationOrders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] as const;

/** Parts of a body, as figures name them. */
export const bodyParts = [
  "root",
  "spine",
  "chest",
  "neck",
  "head",
  "jaw",
  "leftShoulder",
  "leftUpperArm",
  "leftForearm",
  "leftHand",
  "leftFingers",
  "rightShoulder",
  "rightUpperArm",
  "rightForearm",
  "rightHand",
  "rightFingers",
  "leftThigh",
  "leftShin",
  "leftFoot",
  "leftToes",
  "rightThigh",
  "rightShin",
  "rightFoot",
  "rightToes",
  "leftWing",
  "rightWing",
  "tail",
  "ears",
  "hair",
  "prop",
] as const;
export type BodyPart = (typeof bodyParts)[number];

const frameRate = z
  .union([z.number().positive(), z.string().regex(/^\d+(\.\d+)?(\/\d+)?$/)])
  .describe('Frames per second: a number, or a fraction such as "24000/1001".');

export const shotSchema = z
  .object({
    name: z.string().optional(),
    revision: z.number().int().optional(),
    frameRate,
    range: frames.optional(),
  })
  .describe("What the shot is called and how fast it runs.");

export const spaceSchema = z
  .object({
    metresPerUnit: z
      .number()
      .positive()
      .optional()
      .describe("Length of one unit; inferred from stature if left out."),
    up: z.enum(["x", "y", "z"]).default("y"),
    angle: z.enum(["degrees", "radians"]).default("degrees"),
  })
  .describe("Units of the document.");

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
  })
  .describe("A joint or object in the hierarchy.");

const partsShape = Object.fromEntries(
  bodyParts.map((part) => [part, z.union([id, z.array(id)]).optional()]),
) as Record<BodyPart, z.ZodOptional<z.ZodUnion<[typeof id, z.ZodArray<typeof id>]>>>;

export const figureSchema = z
  .object({
    id,
    parts: z.object(partsShape).optional().describe("Which node is which part; the rest is inferred."),
    stature: z.number().positive().optional().describe("Height in metres."),
    mass: z.number().positive().optional().describe("Mass in kilograms."),
  })
  .describe("A character.");

export const surfaceSchema = z.object({
  id,
  normal: vector3,
  height: finite.describe("Along the normal, in units."),
});
export const contactSchema = z.object({
  node: id,
  with: id.optional(),
  frames,
  slides: z.boolean().optional(),
});
export const cameraSchema = z.object({
  id,
  node: id,
  verticalFieldOfView: z.number().positive(),
  aspect: z.number().positive().optional(),
});
export const gazeSchema = z.object({ figure: id, at: id, frames });
export const propulsorSchema = z.object({ figure: id, nodes: z.array(id).min(1), channel: z.enum(channels) });
export const waiverSchema = z.object({
  check: z.string(),
  node: id.optional(),
  frames: frames.optional(),
  reason: z.string().min(1),
  by: z.string().optional(),
  lastRevision: z.number().int().optional(),
});

const curveHead = {
  node: id,
  channel: z.enum(channels),
  interpolation: z.enum(interpolations).default("linear"),
};
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
  .object({ ...curveHead, keys: z.array(keySchema) })
  .describe("The keys of one channel.");

/** All of the document but the curves. */
export const headerSchema = z.object({
  format: z.literal("keyside.curves"),
  version: z.literal(1),
  shot: shotSchema,
  space: spaceSchema.optional(),
  nodes: z.array(nodeSchema),
  figures: z.array(figureSchema).optional(),
  surfaces: z.array(surfaceSchema).optional(),
  contacts: z.array(contactSchema).optional(),
  cameras: z.array(cameraSchema).optional(),
  gazes: z.array(gazeSchema).optional(),
  propulsors: z.array(propulsorSchema).optional(),
  waivers: z.array(waiverSchema).optional(),
});

/** The whole document: the published JSON Schema is made from this. */
export const documentSchema = headerSchema.extend({ curves: z.array(curveSchema) });

export type DocumentHeader = z.infer<typeof headerSchema>;
export type CurveDocument = z.input<typeof documentSchema>;
export type NodeSpec = z.infer<typeof nodeSchema>;
export type FigureSpec = z.infer<typeof figureSchema>;
export type CurveSpec = z.input<typeof curveSchema>;
