import fc from "fast-check";
import { Euler, MathUtils, Matrix4, Quaternion, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { readGltf } from "../../../packages/adapters/gltf/index.ts";
import { valueAt } from "../../../packages/core/curve/evaluate.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { GltfFile } from "./gltf-file.ts";

const curveIn = (shot: Shot | null, node: string, channel: string): Curve =>
  shot?.curves.find((curve) => curve.node === node && curve.channel === channel) as Curve;

/** Two nodes: the first moves by STEP, the second turns by LINEAR and grows by CUBICSPLINE. */
function sample(): GltfFile {
  const file = new GltfFile();
  const half = Math.SQRT1_2;
  const samplers = [
    {
      input: file.floats("SCALAR", [0, 0.5, 1]),
      output: file.floats("VEC3", [0, 1, 2, 3, 4, 5, 6, 7, 8]),
      interpolation: "STEP",
    },
    {
      input: file.floats("SCALAR", [0, 1 / 24]),
      output: file.floats("VEC4", [0, 0, 0, 1, 0, half, 0, half]),
    },
    {
      input: file.floats("SCALAR", [0, 2]),
      output: file.floats("VEC3", [0, 0, 0, 0, 1, 1, 1, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 0]),
      interpolation: "CUBICSPLINE",
    },
  ];
  Object.assign(file.document, {
    nodes: [
      { name: "hips", children: [1], translation: [0, 0.9, 0] },
      { name: "chest", rotation: [0, 0, half, half], scale: [1, 2, 1] },
    ],
    animations: [
      {
        channels: [
          { sampler: 0, target: { node: 0, path: "translation" } },
          { sampler: 1, target: { node: 1, path: "rotation" } },
          { sampler: 2, target: { node: 1, path: "scale" } },
        ],
        samplers,
      },
    ],
  });
  return file;
}

describe("a sound glTF file", () => {
  it.each(["text", "binary"] as const)("gives nodes and curves (%s)", (kind) => {
    const { shot, problems } = readGltf(sample()[kind](), { rate: 24 });
    expect(problems).toEqual([]);
    const [hips, chest] = shot?.header.nodes ?? [];
    expect(hips).toEqual({ id: "hips", translation: [0, 0.9, 0] });
    expect(chest).toMatchObject({ id: "chest", parent: "hips", scale: [1, 2, 1] });
    expect(chest.rotation?.[2]).toBeCloseTo(90, 9);
    expect(shot?.header.space).toEqual({ metresPerUnit: 1, up: "y", angle: "degrees" });
    expect(shot?.range).toEqual([0, 48]);
    const y = curveIn(shot, "hips", "translation.y");
    expect([[...y.frames], [...y.values], y.interpolation]).toEqual([[0, 12, 24], [1, 4, 7], "step"]);
    const turn = curveIn(shot, "chest", "rotation");
    expect([...turn.frames]).toEqual([0, 1]);
    expect(turn).toMatchObject({ width: 4, interpolation: "linear", handles: null });
    expect(turn.values[7]).toBeCloseTo(Math.SQRT1_2, 6);
  });

  it("reads minus zero, which means nothing in a shot, as 0", () => {
    const file = new GltfFile();
    const input = file.floats("SCALAR", [0, 0.5, 1]);
    const output = file.floats("VEC3", [-0, 1, 2, 3, -0, 5, 6, 7, 8]);
    Object.assign(file.document, {
      nodes: [{ name: "hips", translation: [-0, 0.9, 0] }],
      animations: [
        {
          channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
          samplers: [{ input, output }],
        },
      ],
    });
    const { shot } = readGltf(file.text(), { rate: 24 });
    expect(shot?.header.nodes[0].translation?.map((value) => Object.is(value, -0))).toEqual([
      false,
      false,
      false,
    ]);
    for (const { values } of shot?.curves ?? [])
      expect([...values].some((v) => Object.is(v, -0))).toBe(false);
    expect([...curveIn(shot, "hips", "translation.x").values]).toEqual([0, 3, 6]);
  });

  it("keeps cubic tangents: 0.75 at a quarter of a two-second segment from 0 to 1 with out-tangent 1, in-tangent 0", () => {
    // glTF 2.0 specification, appendix C, worked by hand: v = (2t³−3t²+1)·0 + 2·(t³−2t²+t)·1 + (−2t³+3t²)·1 + 0.
    const t = 0.5;
    const expected = 2 * (t ** 3 - 2 * t ** 2 + t) + (-2 * t ** 3 + 3 * t ** 2);
    expect(expected).toBe(0.75);
    const curve = curveIn(readGltf(sample().text(), { rate: 30 }).shot, "chest", "scale.x");
    expect([...curve.frames]).toEqual([0, 60]);
    expect(valueAt(curve, 30)).toBeCloseTo(expected, 6);
  });

  it("takes a matrix apart, and rest quaternions, as a general 3D library does", () => {
    const angle = fc.double({ min: -3, max: 3, noNaN: true });
    const factor = fc.double({ min: 0.2, max: 4, noNaN: true });
    fc.assert(
      fc.property(angle, angle, angle, factor, factor, (a, b, c, u, v) => {
        const turn = new Quaternion().setFromEuler(new Euler(a, b, c, "ZYX"));
        const matrix = new Matrix4().compose(new Vector3(1, 2, 3), turn, new Vector3(u, v, 1));
        const file = new GltfFile();
        Object.assign(file.document, {
          nodes: [
            { name: "m", matrix: matrix.elements },
            { name: "q", rotation: turn.toArray() },
          ],
        });
        const [m, q] = readGltf(file.text()).shot?.header.nodes ?? [];
        expect(m.translation).toEqual([1, 2, 3]);
        expect(m.scale?.[0]).toBeCloseTo(u, 9);
        for (const { rotation } of [m, q]) {
          const [x, y, z] = (rotation ?? []).map((degrees) => MathUtils.degToRad(degrees));
          const back = new Quaternion().setFromEuler(new Euler(x, y, z, "XYZ"));
          expect(Math.abs(back.dot(turn))).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  it("reads normalized integers, strides and cameras", () => {
    const file = new GltfFile();
    const input = file.floats("SCALAR", [0, 1]);
    // Two quaternions as signed normalized 16-bit numbers, each in 12 bytes.
    const raw = new Uint8Array(new Int16Array([0, 0, 0, 32767, 9, 9, 0, 32767, 0, 0]).buffer);
    const buffers = [{ uri: `data:;base64,${Buffer.from(raw).toString("base64")}`, byteLength: raw.length }];
    const text = JSON.parse(file.text());
    text.bufferViews.push({ buffer: 1, byteLength: raw.length, byteStride: 12 });
    text.buffers.push(...buffers);
    text.accessors.push({ bufferView: 1, componentType: 5122, normalized: true, count: 2, type: "VEC4" });
    text.nodes = [{ name: "cam", camera: 0 }];
    text.cameras = [{ type: "perspective", perspective: { yfov: Math.PI / 6, aspectRatio: 1.5 } }];
    text.animations = [
      { channels: [{ sampler: 0, target: { node: 0, path: "rotation" } }], samplers: [{ input, output: 1 }] },
    ];
    const { shot, problems } = readGltf(JSON.stringify(text));
    expect(problems).toEqual([]);
    expect([...curveIn(shot, "cam", "rotation").values]).toEqual([0, 0, 0, 1, 0, 1, 0, 0]);
    expect(shot?.header.cameras?.[0]).toMatchObject({ id: "cam", node: "cam", aspect: 1.5 });
    expect(shot?.header.cameras?.[0].verticalFieldOfView).toBeCloseTo(30, 9);
  });

  it("reads what a camera sees where a pointer drives it, and tells of pointers that lead to no camera", () => {
    const file = new GltfFile();
    const input = file.floats("SCALAR", [0, 1]);
    const angle = file.floats("SCALAR", [Math.PI / 6, Math.PI / 4]);
    // In-tangent, value and out-tangent of each key, per second.
    const half = file.floats("SCALAR", [0, 1, 2.4, -2.4, 3, 0]);
    const text = JSON.parse(file.text());
    text.nodes = [
      { name: "lens", camera: 0 },
      { name: "plan", camera: 1 },
    ];
    text.cameras = [
      { type: "perspective", perspective: { yfov: Math.PI / 6 } },
      { type: "orthographic", orthographic: { xmag: 2, ymag: 1, znear: 0, zfar: 9 } },
    ];
    const drives = (sampler: number, pointer: string) => ({
      sampler,
      target: { path: "pointer", extensions: { KHR_animation_pointer: { pointer } } },
    });
    text.animations = [
      {
        channels: [
          drives(0, "/cameras/0/perspective/yfov"),
          drives(1, "/cameras/1/orthographic/ymag"),
          drives(0, "/cameras/7/perspective/yfov"),
          drives(0, "/nodes/0/translation"),
        ],
        samplers: [
          { input, output: angle },
          { input, output: half, interpolation: "CUBICSPLINE" },
        ],
      },
    ];
    const { shot, problems, remarks } = readGltf(JSON.stringify(text));
    const [lens, plan] = shot?.header.cameras ?? [];
    expect(lens.zoom).toMatchObject({ interpolation: "linear" });
    expect(lens.zoom?.keys.map(([frame, value]) => [frame, Math.round(1e4 * value) / 1e4])).toEqual([
      [0, 30],
      [24, 45],
    ]);
    expect(plan.zoom?.interpolation).toBe("cubic");
    const [first, second] = plan.zoom?.keys ?? [];
    expect(first?.slice(0, 2)).toEqual([0, 2]);
    expect(second?.slice(0, 2)).toEqual([24, 6]);
    expect(first?.[2]?.out).toBeCloseTo(0.2, 6);
    expect(second?.[2]?.in).toBeCloseTo(-0.2, 6);
    expect(problems.map(({ message }) => message)).toEqual([
      "Channel 2 drives what camera 7 sees, which it cannot; it is passed over.",
    ]);
    expect(remarks?.[0]).toMatch(/^Properties that are animated by pointers are not judged \(1 channel\)/);
  });

  it("asks for buffers that stand in files of their own", () => {
    const document = JSON.parse(sample().text());
    const bytes = Buffer.from(document.buffers[0].uri.split(",")[1], "base64");
    document.buffers[0].uri = "walk.bin";
    const asked: string[] = [];
    const resolve = (uri: string) => {
      asked.push(uri);
      return new Uint8Array(bytes);
    };
    expect(readGltf(JSON.stringify(document), { resolve }).problems).toEqual([]);
    expect(asked).toEqual(["walk.bin"]);
    expect(readGltf(JSON.stringify(document)).problems[0]).toMatchObject({
      code: "buffer",
      message: 'The file "walk.bin" of buffer 0 cannot be read. It is not at hand here.',
      path: "buffers/0",
    });
  });
});

describe("glTF files with faults", () => {
  // biome-ignore lint/suspicious/noExplicitAny: documents are broken on purpose.
  const broken = (spoil: (document: any) => void) => {
    const document = JSON.parse(sample().text());
    spoil(document);
    const { shot, problems } = readGltf(JSON.stringify(document));
    return { codes: problems.map(({ code }) => code), curves: shot?.curves.length ?? -1 };
  };
  // biome-ignore lint/suspicious/noExplicitAny: as above.
  const remarked = (change: (document: any) => void) => {
    const document = JSON.parse(sample().text());
    change(document);
    const { shot, problems, remarks = [] } = readGltf(JSON.stringify(document));
    expect(problems).toEqual([]);
    return { curves: shot?.curves.length ?? -1, remarks };
  };

  it.each([
    ["", "json"],
    ["{", "json"],
    ["null", "gltf"],
    ['{"asset":{"version":"2.0"},"nodes":[null]}', "gltf"],
    ['{"nodes":[]}', "no-nodes"],
  ])("%j has nothing to read", (text, code) => {
    const result = readGltf(text);
    expect(result.shot).toBeNull();
    expect(result.problems.map((problem) => problem.code)).toContain(code);
  });

  it("names each fault and reads the rest", () => {
    expect(broken((d) => delete d.asset)).toEqual({ codes: ["version"], curves: 7 });
    expect(broken((d) => d.nodes[0].children.push(7)).codes).toEqual(["node-parent"]);
    expect(broken((d) => (d.nodes[1].children = [0])).codes).toEqual(["node-parent"]);
    expect(broken((d) => (d.nodes[0].translation = [1])).codes).toEqual(["node"]);
    const channel = (spoil: (channel: { target: object }) => void) =>
      broken((d) => spoil(d.animations[0].channels[0]));
    expect(channel((c) => (c.target = { node: 0, path: "colour" }))).toEqual({
      codes: ["animation-channel"],
      curves: 4,
    });
    expect(channel((c) => (c.target = { node: 1, path: "scale" })).codes).toEqual(["duplicate-curve"]);
    expect(broken((d) => (d.animations[0].samplers[0].interpolation = "BEZIER")).codes).toEqual([
      "animation-sampler",
    ]);
    expect(broken((d) => (d.animations[0].samplers[0].input = 3)).codes).toEqual(["accessor"]);
    expect(broken((d) => (d.accessors[1].sparse = {})).codes).toEqual(["accessor"]);
    expect(broken((d) => (d.accessors[1].count = 4000)).codes).toEqual(["accessor"]);
    expect(broken((d) => (d.accessors[1].count = 2)).codes).toEqual(["key-count"]);
    expect(broken((d) => (d.buffers[0].uri = "data:;base64,&&")).codes).toContain("buffer");
  });

  it("makes remarks of what is legal and not judged", () => {
    expect(remarked((d) => delete d.animations)).toEqual({
      curves: 0,
      remarks: ["The file has no animation; its nodes stand still, and no motion is judged."],
    });
    expect(remarked((d) => d.animations.push({})).remarks[0]).toMatch(
      /^The file has 2 animations, and the first/,
    );
    expect(remarked((d) => (d.nodes[1].name = "hips")).remarks).toEqual([
      'Two nodes are called "hips"; one is read as "hips_2".',
    ]);
    const target = (to: object) => remarked((d) => (d.animations[0].channels[0].target = to));
    expect(target({ node: 0, path: "weights" })).toEqual({
      curves: 4,
      remarks: ["Weights of morph targets are not judged (1 channel)."],
    });
    expect(target({ path: "scale" }).remarks).toEqual([
      "Channels without a node are not judged (1 channel).",
    ]);
    expect(target({ path: "pointer", extensions: {} }).remarks[0]).toMatch(
      /^Properties that are animated by pointers/,
    );
    const bare = readGltf('{"asset":{"version":"2.0"}}');
    expect(bare).toMatchObject({
      problems: [],
      remarks: ["The file has no nodes; there is nothing to judge."],
    });
    expect(bare.shot?.header.nodes).toEqual([]);
  });

  it("leaves out keys that are not later than the one before, or no numbers", () => {
    const file = new GltfFile();
    const samplers = [
      {
        input: file.floats("SCALAR", [0, 1, 1, 2]),
        output: file.floats("VEC3", [0, 0, 0, 1, 1, 1, 2, 2, 2, Number.NaN, 3, 3]),
      },
    ];
    const channels = [{ sampler: 0, target: { node: 0, path: "translation" } }];
    Object.assign(file.document, { nodes: [{ name: "a" }], animations: [{ channels, samplers }] });
    const { shot, problems } = readGltf(file.binary());
    expect(problems.map(({ code }) => code)).toEqual(["key", "key"]);
    expect([...curveIn(shot, "a", "translation.x").frames]).toEqual([0, 24]);
  });
});
