import { type GLTF, WebIO } from "@gltf-transform/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Accessors } from "../../../packages/adapters/gltf/accessors.ts";
import type { GltfDocument } from "../../../packages/adapters/gltf/document.ts";
import { shapedDocument } from "../../../packages/adapters/gltf/shape.ts";
import { Problems } from "../../../packages/adapters/problems.ts";

const kinds = {
  5120: Int8Array,
  5121: Uint8Array,
  5122: Int16Array,
  5123: Uint16Array,
  5126: Float32Array,
} as const;
const widths = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4 } as const;

/** An accessor of any kind: plain or normalized, packed or with gaps, dense, sparse over numbers, or sparse over nothing. */
const anyAccessor = fc
  .record({
    kind: fc.constantFrom(5120, 5121, 5122, 5123, 5126),
    type: fc.constantFrom("SCALAR", "VEC2", "VEC3", "VEC4"),
    count: fc.integer({ min: 1, max: 9 }),
    gap: fc.constantFrom(0, 4, 8),
    normalized: fc.boolean(),
    dense: fc.boolean(),
    sparse: fc.option(fc.uniqueArray(fc.nat({ max: 8 }), { minLength: 1, maxLength: 4 }), { nil: null }),
    indexKind: fc.constantFrom(5121, 5123, 5125),
    bytes: fc.uint8Array({ minLength: 600, maxLength: 600 }),
  })
  .map(({ kind, type, count, gap, normalized, dense, sparse, indexKind, bytes }) => {
    const Kind = kinds[kind as keyof typeof kinds];
    const width = widths[type as keyof typeof widths];
    // Bytes that make no numbers are told of elsewhere.
    if (kind === 5126) for (let at = 3; at < bytes.length; at += 4) bytes[at] &= 0x3f;
    const element = width * Kind.BYTES_PER_ELEMENT;
    const stride = Math.ceil(element / 4) * 4 + gap;
    const places = (sparse ?? []).filter((place) => place < count).sort((a, b) => a - b);
    const indices = { 5121: Uint8Array, 5123: Uint16Array, 5125: Uint32Array }[indexKind as 5121];
    if (places.length > 0) bytes.set(new Uint8Array(indices.from(places).buffer), 400);
    const isSparse = places.length > 0;
    const hasData = dense || !isSparse;
    const document = {
      asset: { version: "2.0" },
      accessors: [
        {
          ...(hasData ? { bufferView: 0, byteOffset: 4 } : {}),
          ...{ componentType: kind, count, type },
          ...(normalized && kind !== 5126 ? { normalized: true } : {}),
          ...(isSparse
            ? {
                sparse: {
                  count: places.length,
                  // Said outright: the library takes the accessor's own offset where it is left out, which is 0 (5.3).
                  indices: { bufferView: 1, byteOffset: 0, componentType: indexKind },
                  values: { bufferView: 2, byteOffset: 4 },
                },
              }
            : {}),
        },
      ],
      bufferViews: [
        { buffer: 0, byteOffset: 4, byteLength: 396, byteStride: stride },
        { buffer: 0, byteOffset: 400, byteLength: 64 },
        { buffer: 0, byteOffset: 464, byteLength: 120 },
      ],
      buffers: [{ byteLength: bytes.length, uri: "a.bin" }],
    };
    return { document, bytes, width, count };
  });

const ours = (document: unknown, bytes: Uint8Array, width: number) => {
  const problems = new Problems();
  const shaped = shapedDocument(document, problems) as GltfDocument;
  const numbers = new Accessors(shaped, null, () => bytes, problems).numbers(0, width);
  return { numbers, problems: problems.all() };
};

/** A sparse accessor, the same in each run. */
function sparseOne() {
  const all = fc.sample(anyAccessor, { numRuns: 200, seed: 3 });
  const found = all.find(({ document }) => "sparse" in document.accessors[0]);
  if (found === undefined) throw new Error("None of them is sparse.");
  return found;
}

describe("accessors", () => {
  it("are read as a general library for the format reads them: strided, normalized, quantised, sparse", async () => {
    await fc.assert(
      fc.asyncProperty(anyAccessor, async ({ document, bytes, width, count }) => {
        const json = structuredClone(document) as unknown as GLTF.IGLTF;
        const theirs = await new WebIO().readJSON({
          json,
          resources: { "a.bin": bytes as Uint8Array<ArrayBuffer> },
        });
        const [accessor] = theirs.getRoot().listAccessors();
        const { numbers, problems } = ours(document, bytes, width);
        expect(problems).toEqual([]);
        for (let i = 0; i < count; i++) {
          const element = accessor.getElement(i, []);
          for (let k = 0; k < width; k++) expect(numbers?.[i * width + k]).toBeCloseTo(element[k], 12);
        }
      }),
      { numRuns: 200 },
    );
  });

  const spoilt = (spoil: (accessor: Record<string, never>) => void) => {
    const { document, bytes, width } = sparseOne();
    const copy = structuredClone(document);
    spoil(copy.accessors[0] as never);
    return ours(copy, bytes, width);
  };

  it.each<
    [
      string,
      (accessor: { sparse: { count: number; indices: { componentType: number }; values: object } }) => void,
    ]
  >([
    ["more places than numbers", (one) => (one.sparse.count = 1000)],
    ["places of no kind", (one) => (one.sparse.indices.componentType = 5126)],
    ["no values", (one) => (one.sparse.values = {})],
  ])("with %s are told", (_, spoil) => {
    const { numbers, problems } = spoilt(spoil as never);
    expect(numbers).toBeNull();
    expect(problems[0]).toMatchObject({ code: "accessor", path: "accessors/0/sparse" });
  });

  it("without data ask for no more room than a file may", () => {
    const document = {
      asset: { version: "2.0" },
      accessors: [{ componentType: 5126, count: 1e12, type: "VEC3" }],
    };
    expect(ours(document, new Uint8Array(), 3).problems[0].message).toContain(
      "asks for 1000000000000 entries",
    );
  });

  it("that an extension has packed are told so", () => {
    const document = {
      accessors: [{ bufferView: 0, componentType: 5126, count: 1, type: "SCALAR" }],
      bufferViews: [{ buffer: 0, byteLength: 4, extensions: { EXT_meshopt_compression: {} } }],
      buffers: [{ byteLength: 4, uri: "a.bin" }],
    };
    expect(ours(document, new Uint8Array(4), 1).problems[0].message).toContain(
      "packed by EXT_meshopt_compression",
    );
  });
});
