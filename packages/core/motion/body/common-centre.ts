import { floats } from "../../base/room.ts";

/** A thing whose weight hangs on a body. */
export interface Load {
  /** Rig index. */
  readonly thing: number;
  /** Its mass as far as the body carries it, over the body's own, at each sample. */
  readonly share: Float64Array;
}

/**
 * A body's series and those of its loads as one, by their masses at each sample: places, speeds or accelerations.
 * @param body 3 numbers per sample @param ofThing the same of a load's node
 * @returns the body's own series where it carries nothing
 */
export function withLoads<T>(
  body: Float64Array,
  loads: readonly { readonly thing: T; readonly share: Float64Array }[],
  ofThing: (thing: T) => Float64Array,
): Float64Array {
  if (loads.length === 0) return body;
  const out = floats(body.length);
  out.set(body);
  const paths = loads.map(({ thing }) => ofThing(thing));
  for (let k = 0; k < out.length; k++) {
    let mass = 1;
    loads.forEach(({ share }, n) => {
      const part = share[(k / 3) | 0];
      mass += part;
      out[k] += part * paths[n][k];
    });
    out[k] /= mass;
  }
  return out;
}
