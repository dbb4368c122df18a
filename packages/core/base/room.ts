/**
 * Room for series: arrays of zeros that are cut from blocks which many of them share.
 *
 * An array with a buffer of its own costs the engine several times as much to make and to clear away as a view of a
 * block (measured for 240 numbers: about eight times), and a shot needs some thousands. A block is given back
 * when the last series in it is; whoever keeps a series for long keeps its block. Never hand on a series' `buffer`:
 * others lie in it.
 */

/** Bytes of a block. Small enough that one series which outlives the others keeps little. */
const blockSize = 1 << 16;
/** A series of more bytes than this gets a buffer of its own: there is little to save, and much of a block to waste. */
const mostShared = blockSize / 4;

let block = new ArrayBuffer(blockSize);
let used = 0;
/** Another block with room left: what does not fit into the one that is being filled may fit there. */
let other = block;
let otherUsed = blockSize;

/** Room for `length` numbers, all 0. */
export function floats(length: number): Float64Array {
  const size = 8 * length;
  if (size > mostShared) return new Float64Array(length);
  const at = take(size);
  return new Float64Array(block, at, length);
}

/** Room for `length` flags or other small whole numbers, all 0. */
export function bytes(length: number): Uint8Array {
  if (length > mostShared) return new Uint8Array(length);
  const at = take(length);
  return new Uint8Array(block, at, length);
}

/** Room for `length` indices, all 0. */
export function integers(length: number): Int32Array {
  const size = 4 * length;
  if (size > mostShared) return new Int32Array(length);
  const at = take(size);
  return new Int32Array(block, at, length);
}

/** Where the next bytes of the block begin; a new block is begun where too little is left of the last two. */
function take(size: number): number {
  if (used + size > blockSize) {
    const full = block;
    const fullUsed = used;
    if (otherUsed + size <= blockSize) {
      block = other;
      used = otherUsed;
      other = full;
      otherUsed = fullUsed;
    } else {
      block = new ArrayBuffer(blockSize);
      used = 0;
      if (fullUsed < otherUsed) {
        other = full;
        otherUsed = fullUsed;
      }
    }
  }
  const at = used;
  // Every kind of series can begin at a multiple of eight.
  used += (size + 7) & ~7;
  return at;
}
