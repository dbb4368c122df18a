import { expect, test } from "vitest";
import { readGltf } from "../../../packages/adapters/gltf/read.ts";

const bytes = Buffer.from(new Float32Array([0, 1, 2, 3]).buffer).toString("base64");

/** A document of one node that moves; \`change\` makes something of it. */
function moving(change: (document: ReturnType<typeof plain>) => void = () => {}) {
  const document = plain();
  change(document);
  return document;
}

// biome-ignore lint/suspicious/noExplicitAny: tests put what is wrong where they like.
type Loose = any;

function plain(): Loose {
  return {
    asset: { version: "2.0" },
    nodes: [{ name: "a" }],
    animations: [
      {
        channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
        samplers: [{ input: 0, output: 1 }],
      },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count: 1, type: "SCALAR" },
      { bufferView: 0, byteOffset: 4, componentType: 5126, count: 1, type: "VEC3" },
    ],
    bufferViews: [{ buffer: 0, byteLength: 16 }],
    buffers: [{ byteLength: 16, uri: `data:;base64,${bytes}` }],
  };
}

const read = (document: unknown, options = {}) => readGltf(JSON.stringify(document), options);
const codes = (document: unknown) => read(document).problems.map(({ code }) => code);

test("the document that the others are made of is fine", () => {
  expect(codes(moving())).toEqual([]);
  expect(read(moving()).shot?.curves).toHaveLength(3);
});

test.each<[string, (document: Loose) => void]>([
  ["names that are no texts", (d) => (d.nodes = [{ name: { a: 1 } }, { name: 5 }, { name: [] }])],
  ["a count beyond all numbers", (d) => (d.accessors[0].count = 1e12)],
  ["a count that is none", (d) => (d.accessors[0].count = "3")],
  ["a count below 0", (d) => (d.accessors[0].count = -3)],
  ["a kind with the name of an inherited member", (d) => (d.accessors[0].componentType = "constructor")],
  ["a type with the name of an inherited member", (d) => (d.accessors[0].type = "constructor")],
  ["an interpolation of that name", (d) => (d.animations[0].samplers[0].interpolation = "constructor")],
  ["a sampler of that name", (d) => (d.animations[0].channels[0].sampler = "length")],
  ["a node of that name", (d) => (d.animations[0].channels[0].target.node = "length")],
  ["a target that is none", (d) => (d.animations[0].channels[0].target = null)],
  ["a path that is none", (d) => (d.animations[0].channels[0].target.path = {})],
  ["children that are none", (d) => (d.nodes[0].children = ["length", -1, 1.5, null])],
  ["a translation that is none", (d) => (d.nodes[0].translation = { length: 3 })],
  ["an offset below 0", (d) => (d.accessors[0].byteOffset = -4)],
  ["numbers that lie in each other", (d) => (d.bufferViews[0].byteStride = 4)],
  [
    "no stride at all, and numbers without end",
    (d) => {
      d.bufferViews[0].byteStride = 0;
      for (const accessor of d.accessors) accessor.count = 30_000_000;
    },
  ],
  [
    "a camera that is none",
    (d) => {
      d.nodes[0].camera = 0;
      d.cameras = [{ perspective: { yfov: "wide" } }];
    },
  ],
  ["a buffer that is none", (d) => (d.buffers[0].uri = 7)],
])("%s: told with its place, and nothing is thrown", (_, change) => {
  const { problems } = read(moving(change));
  expect(problems.length).toBeGreaterThan(0);
  for (const { message } of problems) expect(message).not.toContain("undefined");
});

test.each([
  ["null", "null"],
  ["a list", "[]"],
  ["nodes that are none", '{"nodes":[1]}'],
  ["channels that are none", '{"nodes":[{}],"animations":[{"channels":[1]}]}'],
])("%s: no glTF", (_, text) => {
  const { shot, problems } = readGltf(text);
  expect(shot).toBeNull();
  expect(problems[0]?.code).toBe("gltf");
});

test("a file that was cut short says so, in our own words, with its place", () => {
  const text = JSON.stringify(moving(), null, 1);
  const { problems } = readGltf(text.slice(0, 100));
  expect(problems[0]?.message).toMatch(
    /^This is no glTF\. Line \d+, column \d+: the text ends in the middle; the file was cut short\.$/,
  );
  expect(readGltf('{"a":}').problems[0]?.message).toBe(
    'This is no glTF. Line 1, column 6: "}" is no JSON in this place.',
  );
});

test("bytes that were cut short, or are of the format's first version, say so", () => {
  /** The header and the first chunk of a binary file, after which `missing` bytes do not come. */
  const binary = (version: number, missing: number) => {
    const json = Buffer.from(JSON.stringify(moving()));
    const head = Buffer.alloc(20);
    head.write("glTF");
    [version, 20 + json.length, json.length, 0x4e4f534a].forEach((word, i) => {
      head.writeUInt32LE(word, 4 + 4 * i);
    });
    const whole = Buffer.concat([head, json]);
    return whole.subarray(0, whole.length - missing);
  };
  const said = (version: number, missing: number) => readGltf(binary(version, missing)).problems[0]?.message;
  expect(said(2, 0)).toBeUndefined();
  const { length } = binary(2, 0);
  expect(said(2, 60)).toBe(`The file ends after ${length - 60} of its ${length} bytes; it was cut short.`);
  expect(said(1, 60)).toBe("This is binary glTF of version 1; version 2 is read. Save it as glTF 2.0.");
});

test("chains of any depth, and rings", () => {
  const count = 50_000;
  const nodes = Array.from({ length: count }, (_, i) => ({ children: i < count - 1 ? [i + 1] : [] }));
  const chain = read({ ...plain(), nodes, animations: [] });
  expect(chain.shot?.header.nodes.filter(({ parent }) => parent !== undefined)).toHaveLength(count - 1);
  nodes[count - 1] = { children: [0] };
  const ring = read({ ...plain(), nodes, animations: [] });
  expect(ring.problems.map(({ code }) => code)).toContain("node-parent");
  expect(ring.shot?.header.nodes.filter(({ parent }) => parent !== undefined)).toHaveLength(count - 1);
});

test("channels that share what they are made of are counted before they are made", () => {
  const many = moving((d) => {
    d.nodes = Array.from({ length: 40_000 }, () => ({}));
    d.animations[0].channels = d.nodes.map((_: unknown, node: number) => ({
      sampler: 0,
      target: { node, path: "translation" },
    }));
  });
  expect(read(many).shot?.curves).toHaveLength(120_000);
  const { shot, problems } = read(many, { mostKeys: 100_000 });
  expect(shot).toBeNull();
  expect(problems[0]?.message).toBe(
    "Its channels have 120000 keys, and at most 100000 are allowed. If that is meant, --budget keys=120000 allows it.",
  );
});
