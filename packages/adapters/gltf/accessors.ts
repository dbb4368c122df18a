import type { Resolve } from "../adapter.ts";
import type { Problems } from "../problems.ts";
import { bytesOfDataUri } from "./bytes.ts";
import type { GltfAccessor, GltfDocument, GltfSparse } from "./document.ts";

const widths: Readonly<Record<string, number>> = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4 };

interface Component {
  readonly size: number;
  /** By what a normalized one is divided (specification 3.11). */
  readonly over: number;
  readonly read: (view: DataView, at: number) => number;
}

/** Component types by their numbers (specification 5.1.3). */
const components: Readonly<Record<number, Component>> = {
  5120: { size: 1, over: 127, read: (view, at) => view.getInt8(at) },
  5121: { size: 1, over: 255, read: (view, at) => view.getUint8(at) },
  5122: { size: 2, over: 32767, read: (view, at) => view.getInt16(at, true) },
  5123: { size: 2, over: 65535, read: (view, at) => view.getUint16(at, true) },
  5125: { size: 4, over: 4294967295, read: (view, at) => view.getUint32(at, true) },
  5126: { size: 4, over: 1, read: (view, at) => view.getFloat32(at, true) },
};

/** Component types that indices of sparse accessors may have (specification 5.3.1). */
const indexTypes: readonly number[] = [5121, 5123, 5125];

/** Numbers that accessors without data of their own may ask for where nothing else is said. */
const mostNumbers = 80_000_000;

/** Reads accessors of a document; each buffer is decoded once. */
export class Accessors {
  private readonly buffers = new Map<number, Uint8Array | null>();
  private readonly document: GltfDocument;
  private readonly binary: Uint8Array | null;
  private readonly resolve: Resolve;
  private readonly problems: Problems;

  constructor(document: GltfDocument, binary: Uint8Array | null, resolve: Resolve, problems: Problems) {
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
    const numbers =
      accessor.bufferView === undefined
        ? this.zeros(accessor, width, index)
        : this.run(
            index,
            accessor.bufferView,
            accessor.byteOffset ?? 0,
            accessor.count,
            width,
            component,
            accessor.normalized,
          );
    if (numbers === null || accessor.sparse === undefined) return numbers;
    return this.stoodIn(numbers, accessor, accessor.sparse, width, index);
  }

  /** An accessor without data is all zeros (specification 3.6.2.3); only a sparse one makes more of it. */
  private zeros({ count }: GltfAccessor, width: number, index: number): Float64Array | null {
    if (count * width > mostNumbers) {
      return this.fail(`accessors/${index}`, `Accessor ${index} asks for ${count} entries and has no data.`);
    }
    return new Float64Array(count * width);
  }

  private run(
    index: number,
    viewIndex: number,
    offset: number,
    count: number,
    width: number,
    { size, over, read }: Component,
    isNormalized = false,
  ): Float64Array | null {
    const path = `accessors/${index}`;
    const view = this.document.bufferViews?.[viewIndex];
    const bytes = view === undefined ? null : this.buffer(view.buffer);
    if (view === undefined || bytes === null)
      return this.fail(path, `The data of accessor ${index} is missing.`);
    const packed = Object.keys(view.extensions ?? {}).find((name) => /compression/i.test(name));
    if (packed !== undefined) {
      return this.fail(path, `The data of accessor ${index} is packed by ${packed}; write it plain.`);
    }
    const stride = view.byteStride ?? width * size;
    const start = (view.byteOffset ?? 0) + offset;
    // Numbers that share their bytes are no numbers of an accessor (specification 3.6.2.4); there would be no end to them.
    if (stride < width * size) {
      return this.fail(path, `The numbers of accessor ${index} lie in each other; its stride is too small.`);
    }
    if (start + (count - 1) * stride + width * size > bytes.length) {
      return this.fail(
        path,
        `Accessor ${index} reaches beyond the end of its buffer; the file is cut short.`,
      );
    }
    const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const numbers = new Float64Array(count * width);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k < width; k++) {
        const value = read(data, start + i * stride + k * size);
        numbers[i * width + k] = isNormalized ? Math.max(value / over, -1) : value;
      }
    }
    return numbers;
  }

  /** Puts the numbers of a sparse accessor in their places (specification 3.6.2.3). */
  private stoodIn(
    numbers: Float64Array,
    { count, componentType, normalized }: GltfAccessor,
    { count: own = 0, indices, values }: GltfSparse,
    width: number,
    index: number,
  ): Float64Array | null {
    const path = `accessors/${index}/sparse`;
    const kind = components[indices?.componentType ?? 0];
    const { bufferView: placesView } = indices ?? {};
    const { bufferView: valuesView } = values ?? {};
    const isWhole = own >= 1 && own <= count && indexTypes.includes(indices?.componentType ?? 0);
    if (!isWhole || kind === undefined || placesView === undefined || valuesView === undefined) {
      return this.fail(path, `What stands in for numbers of accessor ${index} is not as the format has it.`);
    }
    const places = this.run(index, placesView, indices?.byteOffset ?? 0, own, 1, kind);
    const component = components[componentType] as Component;
    const others = this.run(index, valuesView, values?.byteOffset ?? 0, own, width, component, normalized);
    if (places === null || others === null) return null;
    for (let i = 0; i < own; i++) {
      if (places[i] >= count || (i > 0 && places[i] <= places[i - 1])) {
        return this.fail(path, `The places of accessor ${index} have to rise, and to lie within it.`);
      }
      for (let k = 0; k < width; k++) numbers[places[i] * width + k] = others[i * width + k];
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
    if (buffer === undefined) return null;
    if (buffer.uri === undefined) return index === 0 ? this.binary : null;
    const tell = (message: string) => this.problems.add("buffer", message, 0, 0, `buffers/${index}`);
    if (/^data:/i.test(buffer.uri)) {
      const bytes = bytesOfDataUri(buffer.uri);
      if (bytes === null) tell(`The base64 data of buffer ${index} cannot be read.`);
      return bytes;
    }
    const found = this.resolve(buffer.uri);
    if (!("why" in found)) return found;
    tell(`The file "${buffer.uri}" of buffer ${index} cannot be read. ${found.why}`);
    return null;
  }
}
