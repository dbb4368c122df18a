import { z } from "zod";
import { absurd } from "../terms.ts";

/* What the parts of the document's schema are made of. */

export const finite = z.number().min(-absurd).max(absurd);
/** A length, a mass, a proportion: nothing that is posed is smaller than a billionth. */
export const extent = z.number().min(1e-9).max(absurd);
export const vector2 = z.tuple([finite, finite]);
export const vector3 = z.tuple([finite, finite, finite]);
export const quaternion = z.tuple([finite, finite, finite, finite]);
export const id = z.string().min(1);
export const frames = z.tuple([finite, finite]).describe("First and last frame.");
export const stretch = frames.describe("First and last frame for which this holds; all if left out.");

const colour = z.string().regex(/^#[0-9a-fA-F]{6}$/, 'a colour of sRGB as "#rrggbb"');
/** A display colour, or keys of one: each colour holds until the next. */
export const colourSchema = z.union([colour, z.array(z.tuple([finite, colour])).min(1)], {
  error: 'a colour of sRGB as "#rrggbb", or keys of it: [[frame, "#rrggbb"], …]',
});
