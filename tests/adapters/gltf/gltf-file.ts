/** A glTF 2.0 document in which numbers are put as accessors of one buffer. */
export class GltfFile {
  private readonly bytes: number[] = [];
  readonly document: Record<string, unknown> & { accessors: object[]; bufferViews: object[] } = {
    asset: { version: "2.0" },
    accessors: [],
    bufferViews: [],
  };

  /** Adds single-precision numbers and gives the accessor's index. */
  floats(type: "SCALAR" | "VEC3" | "VEC4", numbers: readonly number[]): number {
    const data = new Uint8Array(Float32Array.from(numbers).buffer);
    const width = { SCALAR: 1, VEC3: 3, VEC4: 4 }[type];
    this.document.bufferViews.push({ buffer: 0, byteOffset: this.bytes.length, byteLength: data.length });
    this.bytes.push(...data);
    return (
      this.document.accessors.push({
        bufferView: this.document.bufferViews.length - 1,
        componentType: 5126,
        count: numbers.length / width,
        type,
      }) - 1
    );
  }

  /** As .gltf text with its buffer embedded. */
  text(): string {
    const uri = `data:application/octet-stream;base64,${Buffer.from(this.bytes).toString("base64")}`;
    return JSON.stringify({ ...this.document, buffers: [{ uri, byteLength: this.bytes.length }] });
  }

  /** As the bytes of a .glb file. */
  binary(): Uint8Array {
    const json = Buffer.from(
      JSON.stringify({ ...this.document, buffers: [{ byteLength: this.bytes.length }] }),
    );
    const chunk = (kind: number, data: Uint8Array, fill: number) => {
      const padded = Buffer.alloc(Math.ceil(data.length / 4) * 4, fill);
      padded.set(data);
      const head = Buffer.alloc(8);
      head.writeUInt32LE(padded.length, 0);
      head.writeUInt32LE(kind, 4);
      return Buffer.concat([head, padded]);
    };
    const chunks = [chunk(0x4e4f534a, json, 0x20), chunk(0x004e4942, Uint8Array.from(this.bytes), 0)];
    const head = Buffer.alloc(12);
    head.writeUInt32LE(0x46546c67, 0);
    head.writeUInt32LE(2, 4);
    head.writeUInt32LE(12 + chunks[0].length + chunks[1].length, 8);
    return new Uint8Array(Buffer.concat([head, ...chunks]));
  }
}
