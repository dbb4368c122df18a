/** Stands in {@link KeyBuffer.modes} for a key that does not name its interpolation. */
export const inherited = 255;

/** Handle numbers per key, by numbers per key. */
export const handleStride = (width: 1 | 4): 4 | 8 => (width === 1 ? 4 : 8);

/** Keys of one curve while they are read; used again for the next curve, so that reading allocates little. */
export class KeyBuffer {
  count = 0;
  width: 1 | 4 = 1;
  /** Whether `width` is settled: by the channel, or by the first key. */
  hasWidth = false;
  capacity = 1024;
  frames = new Float64Array(1024);
  values = new Float64Array(4096);
  modes = new Uint8Array(1024);
  handles = new Float64Array(8192);
  keyStart = new Int32Array(1024);
  keyEnd = new Int32Array(1024);
  /** Position of each key in the document's list, which also counts keys that were left out. */
  rawIndex = new Int32Array(1024);
  /** Number of keys up to which `handles` is filled; 0 while no key has any. */
  handled = 0;
  /** Whether each key so far stands behind the one before. */
  isAscending = true;
  /** Keys left out because they hold a number where a quaternion is due, or the other way round. */
  mismatches = 0;
  extras: Map<number, Record<string, unknown>> | null = null;
  /** Frames and modes of the curve that was read before. */
  lastFrames: Float64Array | null = null;
  lastModes: Uint8Array | null = null;

  reset(): void {
    this.count = 0;
    this.hasWidth = false;
    this.width = 1;
    this.handled = 0;
    this.isAscending = true;
    this.mismatches = 0;
    this.extras = null;
  }

  grow(): void {
    this.capacity *= 2;
    const { capacity } = this;
    this.frames = widened(this.frames, new Float64Array(capacity));
    this.values = widened(this.values, new Float64Array(capacity * 4));
    this.modes = widened(this.modes, new Uint8Array(capacity));
    this.handles = widened(this.handles, new Float64Array(capacity * 8));
    this.keyStart = widened(this.keyStart, new Int32Array(capacity));
    this.keyEnd = widened(this.keyEnd, new Int32Array(capacity));
    this.rawIndex = widened(this.rawIndex, new Int32Array(capacity));
  }

  /** Makes the handles of keys up to and including `index` exist, left out where they were not set. */
  openHandles(index: number): void {
    const stride = handleStride(this.width);
    this.handles.fill(Number.NaN, this.handled * stride, (index + 1) * stride);
    this.handled = index + 1;
  }
}

function widened<T extends { set(from: T): void }>(from: T, into: T): T {
  into.set(from);
  return into;
}

/** Counts the key whose numbers have been stored at the end of the buffer. */
export function storePlace(buffer: KeyBuffer, keyStart: number, keyEnd: number, raw: number): void {
  const { count } = buffer;
  if (count > 0 && !(buffer.frames[count] > buffer.frames[count - 1])) buffer.isAscending = false;
  buffer.keyStart[count] = keyStart;
  buffer.keyEnd[count] = keyEnd;
  buffer.rawIndex[count] = raw;
  buffer.count = count + 1;
}
