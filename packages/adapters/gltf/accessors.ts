import type { Problems } from "../problems.ts";
import { bytesOfBase64 } from "./bytes.ts";
import type { GltfDocument } from "./document.ts";

const widths: Readonly<Record<string, number>> = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4 };

/** Component types: bytes each, how one is read, and by what a normalized one is divided (specification 3.11). */
const components: Readonly<
  Record<number, { size: number; over: number; read: (view: DataView, at: number) => number }>
> = {
  5120: { size: 1, over: 127, read: (view, at) => view.getInt8(at) },
  5121: { size: 1, over: 255, read: (view, at) => view.getUint8(at) },
  5122: { size: 2, over: 32767, read: (view, at) => view.getInt16(at, true) },
  5123: { size: 2, over: 65535, read: (view, at) => view.getUint16(at, true) },
  5126: { size: 4, over: 1, read: (view, at) => view.getFloat32(at, true) },
};

/** Reads accessors of a document; each buffer is decoded once. */
export class Accessors {
  private readonly buffers = new Map<number, Uint8Array | null>();
  private readonly document: GltfDocument;
  private readonly binary: Uint8Array | null;
  private readonly resolve: (uri: string) => Uint8Array | null;
  private readonly problems: Problems;

  constructor(
    document: GltfDocument,
    binary: Uint8Array | null,
    resolve: (uri: string) => Uint8Array | null,
    problems: Problems,
  ) {
    this.document = document;
    this.binary = binary;
    this.resolve = resolve;
    this.problems = problems;
  }

  /** All numbers of an accessor in a row; null (and a problem) where they cannot be read. */
  numbers(index: number, width: number): Float64Array | null {
    const path = `accessors/${index}`;
    const accessor = this.document.accessors?.[index];
    const component = components[accessor?.componentType ?? 0];
    if (accessor?.count === undefined || component === undefined || widths[accessor.type] !== width) {
      return this.fail(path, `Accessor ${index} is missing, or not ${width} numbers of a known type.`);
    }
    if (accessor.sparse !== undefined || accessor.bufferView === undefined) {
      return this.fail(path, `Accessor ${index} is sparse or has no data; write its numbers out in full.`);
    }
    const view = this.document.bufferViews?.[accessor.bufferView];
    const bytes = view === undefined ? null : this.buffer(view.buffer);
    if (view === undefined || bytes === null)
      return this.fail(path, `The data of accessor ${index} is missing.`);
    const stride = view.byteStride ?? width * component.size;
    const start = (view.byteOffset ?? 0) + (accessor.byteOffset ?? 0);
    // Numbers that share their bytes are no numbers of an accessor (specification 3.6.2.4); there would be no end to them.
    if (stride < width * component.size) {
      return this.fail(path, `The numbers of accessor ${index} lie in each other; its stride is too small.`);
    }
    if (start + (accessor.count - 1) * stride + width * component.size > bytes.length) {
      return this.fail(
        path,
        `Accessor ${index} reaches beyond the end of its buffer; the file is cut short.`,
      );
    }
    const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const numbers = new Float64Array(accessor.count * width);
    for (let i = 0; i < accessor.count; i++) {
      for (let k = 0; k < width; k++) {
        const value = component.read(data, start + i * stride + k * component.size);
        numbers[i * width + k] = accessor.normalized === true ? Math.max(value / component.over, -1) : value;
      }
    }
    return numbers;
  }

  private fail(path: string, message: string): null {
    this.problems.add("accessor", message, 0, 0, path);
    return null;
  }

  private buffer(index: number): Uint8Array | null {
    const known = this.buffers.get(index);
    if (known !== undefined) return known;
    const bytes = this.load(index);
    this.buffers.set(index, bytes);
    return bytes;
  }

  private load(index: number): Uint8Array | null {
    const buffer = this.document.buffers?.[index];
    if (buffer?.uri === undefined) return index === 0 && buffer !== undefined ? this.binary : null;
    const data = /^data:[^,]*;base64,/i.exec(buffer.uri);
    const bytes = data === null ? this.resolve(buffer.uri) : bytesOfBase64(buffer.uri.slice(data[0].length));
    if (bytes === null) {
      const what =
        data === null ? `The file "${buffer.uri}" of buffer ${index}` : `The base64 data of buffer ${index}`;
      this.problems.add("buffer", `${what} cannot be read.`, 0, 0, `buffers/${index}`);
    }
    return bytes;
  }
}
