import { rotateVector } from "../base/quaternion.ts";
import type { LocalSeries } from "./local.ts";

/** A node's path and orientation in the world, one entry per grid sample: metres, y up, right-handed. */
export interface World {
  /** 3 numbers per sample, metres. */
  readonly position: Float64Array;
  /** 4 numbers per sample, [x, y, z, w]: the turns of the whole chain, without its scales. */
  readonly orientation: Float64Array;
  /**
   * 9 numbers per sample, row by row: the turns and scales of the whole chain, the node's own included, as it acts on
   * what hangs below it; null where no node of the chain is scaled. Turns under an uneven scale shear.
   */
  readonly linear: Float64Array | null;
  /** Whether no curve drives the node or anything above it: every sample is alike. */
  readonly still: boolean;
}

/** The part of a {@link World} that shifts have no share in. */
export type WorldTurn = Pick<World, "orientation" | "linear" | "still">;

/**
 * World orientations from the parent's and the node's own turn.
 * @param out 4 numbers per sample, the first of them for `from`
 * @param from first sample to work out
 * @param to the sample behind the last one
 */
export function composeTurns(
  parent: WorldTurn,
  turn: LocalSeries,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const a = parent.orientation;
  const b = turn.values;
  const stride = turn.still ? 0 : 4;
  for (let i = from, io = 0, ia = 4 * from, ib = stride * from; i < to; i++, io += 4, ia += 4, ib += stride) {
    const ax = a[ia];
    const ay = a[ia + 1];
    const az = a[ia + 2];
    const aw = a[ia + 3];
    const bx = b[ib];
    const by = b[ib + 1];
    const bz = b[ib + 2];
    const bw = b[ib + 3];
    out[io] = aw * bx + ax * bw + ay * bz - az * by;
    out[io + 1] = aw * by - ax * bz + ay * bw + az * bx;
    out[io + 2] = aw * bz + ax * by - ay * bx + az * bw;
    out[io + 3] = aw * bw - ax * bx - ay * by - az * bz;
  }
}

/**
 * World positions from the parent's world and the node's own shift.
 * @param metres metres per unit of the shift
 * @param out 3 numbers per sample, the first of them for `from`
 * @param from first sample to work out
 * @param to the sample behind the last one
 */
export function composePositions(
  parent: World,
  shift: LocalSeries,
  metres: number,
  out: Float64Array,
  from: number,
  to: number,
): void {
  if (parent.linear !== null) {
    composeScaledPositions(parent, parent.linear, shift, metres, out, from, to);
    return;
  }
  const { position, orientation } = parent;
  const { values } = shift;
  const stride = shift.still ? 0 : 3;
  let io = 0;
  let ip = 3 * from;
  let iq = 4 * from;
  let is = stride * from;
  for (let i = from; i < to; i++, io += 3, ip += 3, iq += 4, is += stride) {
    const vx = metres * values[is];
    const vy = metres * values[is + 1];
    const vz = metres * values[is + 2];
    const x = orientation[iq];
    const y = orientation[iq + 1];
    const z = orientation[iq + 2];
    const w = orientation[iq + 3];
    const tx = 2 * (y * vz - z * vy);
    const ty = 2 * (z * vx - x * vz);
    const tz = 2 * (x * vy - y * vx);
    out[io] = position[ip] + vx + w * tx + y * tz - z * ty;
    out[io + 1] = position[ip + 1] + vy + w * ty + z * tx - x * tz;
    out[io + 2] = position[ip + 2] + vz + w * tz + x * ty - y * tx;
  }
}

function composeScaledPositions(
  parent: World,
  linear: Float64Array,
  shift: LocalSeries,
  metres: number,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const { position } = parent;
  const { values } = shift;
  const stride = shift.still ? 0 : 3;
  const way = new Float64Array(3);
  for (let i = from; i < to; i++) {
    for (let k = 0; k < 3; k++) way[k] = metres * values[stride * i + k];
    multiplyMatrix(linear, 9 * i, way);
    for (let k = 0; k < 3; k++) out[3 * (i - from) + k] = position[3 * i + k] + way[k];
  }
}

/**
 * The linear parts of a node, row by row: the parent's times turn times scale.
 * @param out 9 numbers per sample, the first of them for `from`
 * @param from first sample to work out
 * @param to the sample behind the last one
 */
export function composeLinear(
  parent: WorldTurn,
  turn: LocalSeries,
  scale: LocalSeries | null,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const column = new Float64Array(3);
  const turnStride = turn.still ? 0 : 4;
  const scaleStride = scale === null || scale.still ? 0 : 3;
  for (let i = from, io = 0; i < to; i++, io += 9) {
    for (let c = 0; c < 3; c++) {
      column[0] = column[1] = column[2] = 0;
      column[c] = scale === null ? 1 : scale.values[scaleStride * i + c];
      rotateVector(turn.values, turnStride * i, column, 0, column, 0);
      if (parent.linear === null) rotateVector(parent.orientation, 4 * i, column, 0, column, 0);
      else multiplyMatrix(parent.linear, 9 * i, column);
      out[io + c] = column[0];
      out[io + 3 + c] = column[1];
      out[io + 6 + c] = column[2];
    }
  }
}

/** v = M · v for a matrix that stands row by row. */
export function multiplyMatrix(m: Float64Array, im: number, v: Float64Array): void {
  const x = v[0];
  const y = v[1];
  const z = v[2];
  v[0] = m[im] * x + m[im + 1] * y + m[im + 2] * z;
  v[1] = m[im + 3] * x + m[im + 4] * y + m[im + 5] * z;
  v[2] = m[im + 6] * x + m[im + 7] * y + m[im + 8] * z;
}
