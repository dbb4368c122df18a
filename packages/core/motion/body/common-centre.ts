import { floats } from "../../base/room.ts";

/** A thing whose weight hangs on a body. */
export interface Load {
  /** Rig index. */
  readonly thing: number;
  /** Nodes (rig indices) at whose middle it weighs on the body: the thing itself, or the hands that bear their part of it. */
  readonly at: readonly number[];
  /** Its mass as far as the body carries it, over the body's own, at each sample. */
  readonly share: Float64Array;
}

/**
 * A body's series and those of its loads as one, by their masses at each sample: places, speeds or accelerations.
 * @param body 3 numbers per sample @param ofLoad the same of where a load weighs
 * @returns the body's own series where it carries nothing
 */
export function withLoads<L extends { readonly share: Float64Array }>(
  body: Float64Array,
  loads: readonly L[],
  ofLoad: (load: L) => Float64Array,
): Float64Array {
  if (loads.length === 0) return body;
  const out = floats(body.length);
  out.set(body);
  const paths = loads.map(ofLoad);
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

/** Middle of the series of some nodes, 3 numbers per sample: places, speeds or accelerations of where a load weighs. */
export function middleOfNodes(
  nodes: readonly number[],
  seriesOf: (node: number) => Float64Array,
): Float64Array {
  if (nodes.length === 1) return seriesOf(nodes[0]);
  const all = nodes.map(seriesOf);
  const out = floats(all[0].length);
  for (const series of all) for (let k = 0; k < out.length; k++) out[k] += series[k] / all.length;
  return out;
}
