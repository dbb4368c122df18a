import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = new URL("../../", import.meta.url);
const text = (path) => readFileSync(fileURLToPath(new URL(path, root)), "utf8");

/** Real files, cut small so that many inputs can be tried: what is read does not hang on how much of it there is. */
export function seeds() {
  const demo = JSON.parse(text("demo/shots/quay_0070_v1.curves.json"));
  const capture = text("tests/fixtures/capture/forward-jump.bvh");
  return {
    document: [shortened(demo, 12, 14), shortened(demo, 5, 30), lined(shortened(demo, 3, 8)), invented()],
    bvh: [shortBvh(capture, 6), bvh()],
    gltf: [gltf("LINEAR"), gltf("CUBICSPLINE")],
    glb: [glb("LINEAR"), glb("CUBICSPLINE")],
    buffer: [
      latin(
        Buffer.concat([
          Buffer.from(new Float32Array([0, 1]).buffer),
          Buffer.from([1, 4, 0, 0]),
          Buffer.alloc(24, 65),
        ]),
      ),
      "node,parent,rotationOrder,translation.x,translation.y,translation.z,fixedRotation.x,fixedRotation.w,metresPerUnit,up,firstFrame,lastFrame\na,,zxy,1,2,3,,,0.01,z,1,2\nb,a,,,,,0.6,0.8,0.01,z,1,2\n",
    ],
    csv: [
      "frame@24,node,channel,value,interpolation,in.frames,in.value,out.frames,out.value\n1,a,rotation.x,2,bezier,,,1,3\n9,a,rotation.x,4,cubic,,1.5,,-1\n1,b,quaternion.x,0,cubic,,0.1,,0\n1,b,quaternion.y,0,cubic,,,,\n1,b,quaternion.z,0,cubic,,,,\n1,b,quaternion.w,1,cubic,,,,\n",
      "frame,hips.translation.x,hips.rotation.z\n1,0,0\n2,1.5,10\n3,3,20\n4,4,35\n",
      "time;a tx;a ty\n0;1,5;2\n0,04;1,6;3\n",
    ],
    config: [
      JSON.stringify({
        rate: 24,
        style: "snappy",
        tiers: { minor: 0.3, major: 0.6 },
        failOn: "minor",
        ignore: ["**/old/**"],
        checks: { pop: { tier: "minor", floor: "2 cm", angleFloor: 9 }, twinning: false },
      }),
    ],
    expression: [
      "angularSpeed(subject) > 1 deg/s",
      "speed(subject) / height > 0.5 H/s and angle(rotation(subject)) < 30 deg or not (1 + 2 * 3 >= 4)",
      "max(speed(subject), 2 m/s) - 0.35 * -1.5e3 m/s",
    ],
    waivers: [
      JSON.stringify({
        format: "keyside.waivers",
        version: 1,
        waivers: [
          { check: "pop", node: "hips", frames: [10, 12], reason: "meant", by: "A. Nobody", lastRevision: 3 },
        ],
      }),
    ],
    cache: [
      JSON.stringify({
        name: null,
        frameRate: 24,
        range: [1, 9],
        figures: ["a"],
        inferred: ["The ground was inferred."],
        notes: [
          {
            check: "pop",
            tier: "major",
            weight: 0.5,
            figure: "a",
            node: "hips",
            part: "hips",
            frames: [3, 4],
            keys: [{ node: "hips", channel: "rotation.x", frame: 3, line: 7, column: 5 }],
            message: "m",
            measured: { quantity: "q", value: 2, unit: "m" },
            expected: { max: 1, unit: "m", source: "s" },
            why: "w",
            suggestion: "s",
            fingerprint: "f",
          },
        ],
      }),
    ],
    message: [
      '{"jsonrpc":"2.0","id":1,"method":"keyside/hello","params":{"protocols":[1]}}',
      '{"jsonrpc":"2.0","id":2,"method":"keyside/editKeys","params":{"shot":"a","revision":1,"edits":[{"kind":"set","node":"a","channel":"translation.x","frame":3,"value":2}]}}',
      '{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///a.curves.json","version":2},"contentChanges":[{"text":"{}"}]}}',
      '{"jsonrpc":"2.0","id":"x","result":null}',
    ],
  };
}

/** What earlier runs have found: each is tried again, as it is. */
export function finds() {
  const folder = new URL("finds/", import.meta.url);
  return readdirSync(folder)
    .filter((name) => name.includes("."))
    .map((name) => ({ target: name.split(".")[0], name, text: readFileSync(new URL(name, folder), "utf8") }));
}

/** The first keys of the first nodes of a document. */
function shortened(document, nodeCount, frames) {
  const nodes = document.nodes.slice(0, nodeCount);
  const ids = new Set(nodes.map(({ id }) => id));
  const first = document.shot.range?.[0] ?? 1;
  const curves = document.curves
    .filter(({ node }) => ids.has(node))
    .map((curve) => ({ ...curve, keys: curve.keys.filter(([frame]) => frame < first + frames) }))
    .filter(({ keys }) => keys.length > 0);
  const { format, version, space } = document;
  return JSON.stringify({
    format,
    version,
    shot: { ...document.shot, range: [first, first + frames] },
    space,
    nodes,
    curves,
  });
}

const lined = (json) => JSON.stringify(JSON.parse(json), null, 1);

/** A document that has one of everything. */
function invented() {
  return JSON.stringify({
    format: "keyside.curves",
    version: 1,
    shot: { name: "fuzz_0010", revision: 2, frameRate: "24000/1001", range: [1, 12] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes: [
      { id: "hips", translation: [0, 95, 0], rotationOrder: "zxy" },
      { id: "foot_l", parent: "hips", translation: [0, -90, 0], rotation: [0, 0, 5], scale: [1, 1, 1] },
      { id: "crate", translation: [30, 0, 0] },
      { id: "cam", translation: [0, 100, 400] },
    ],
    curves: [
      {
        node: "hips",
        channel: "translation.y",
        interpolation: "bezier",
        keys: [
          [1, 95],
          [5, 88.5, { in: [-2, 0.8], out: [2, -1.1] }],
          [12, 91, { interpolation: "step" }],
        ],
      },
      {
        node: "foot_l",
        channel: "rotation",
        keys: [
          [1, [0, 0, 0, 1]],
          [12, [0, 0, 0.6, 0.8]],
        ],
      },
      {
        node: "crate",
        channel: "translation.x",
        interpolation: "linear",
        keys: [
          [1, 30],
          [12, 60],
        ],
      },
    ],
    figures: [{ id: "courier", parts: { root: "hips", leftFoot: "foot_l" } }],
    surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
    props: [{ node: "crate", mass: 12, heldBy: [{ node: "foot_l", frames: [2, 6] }] }],
    contacts: [{ node: "foot_l", with: "floor", frames: [1, 8] }],
    cameras: [{ id: "shotcam", node: "cam", verticalFieldOfView: 30, aspect: 1.7778 }],
    waivers: [{ check: "pop", node: "hips", frames: [3, 5], reason: "meant" }],
  });
}

function shortBvh(text, rows) {
  const lines = text.split(/\r?\n/);
  const motion = lines.findIndex((line) => line.startsWith("Frame Time"));
  return lines
    .slice(0, motion + 1 + rows)
    .join("\n")
    .replace(/Frames:\s*\d+/, `Frames: ${rows}`);
}

function bvh() {
  const row = (i) => `0 ${90 + i} 0 ${i} 0 0 0 ${5 * i} 0`;
  return `HIERARCHY\nROOT hips\n{\n OFFSET 0 0 0\n CHANNELS 6 Xposition Yposition Zposition Zrotation Xrotation Yrotation\n JOINT chest\n {\n  OFFSET 0 40 0\n  CHANNELS 3 Zrotation Xrotation Yrotation\n  End Site\n  {\n   OFFSET 0 40 0\n  }\n }\n}\nMOTION\nFrames: 8\nFrame Time: 0.0416667\n${Array.from({ length: 8 }, (_, i) => row(i)).join("\n")}\n`;
}

/** Bytes as a text with a character each. */
const latin = (bytes) => bytes.toString("latin1");

/** The same document as one file of bytes (glTF 2.0, section 4.4). */
function glb(interpolation) {
  const document = JSON.parse(gltf(interpolation));
  const bytes = Buffer.from(document.buffers[0].uri.replace(/^.*base64,/, ""), "base64");
  delete document.buffers[0].uri;
  const json = Buffer.from(JSON.stringify(document));
  const chunk = (kind, data, fill) => {
    const padded = Buffer.alloc(Math.ceil(data.length / 4) * 4, fill);
    data.copy(padded);
    const head = Buffer.alloc(8);
    head.writeUInt32LE(padded.length, 0);
    head.writeUInt32LE(kind, 4);
    return Buffer.concat([head, padded]);
  };
  const chunks = Buffer.concat([chunk(0x4e4f534a, json, 0x20), chunk(0x004e4942, bytes, 0)]);
  const head = Buffer.alloc(12);
  head.writeUInt32LE(0x46546c67, 0);
  head.writeUInt32LE(2, 4);
  head.writeUInt32LE(12 + chunks.length, 8);
  return latin(Buffer.concat([head, chunks]));
}

function gltf(interpolation) {
  const count = 6;
  const per = interpolation === "CUBICSPLINE" ? 3 : 1;
  const times = Float32Array.from({ length: count }, (_, i) => i / 24);
  const moves = Float32Array.from({ length: 3 * count * per }, (_, i) => i % 7);
  const bytes = Buffer.concat([Buffer.from(times.buffer), Buffer.from(moves.buffer)]);
  return JSON.stringify({
    asset: { version: "2.0" },
    nodes: [
      { name: "hips", children: [1], camera: 0 },
      { name: "foot", translation: [0, -1, 0], rotation: [0, 0, 0, 1] },
    ],
    cameras: [{ perspective: { yfov: 0.6, aspectRatio: 1.7 } }],
    animations: [
      {
        channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
        samplers: [{ input: 0, output: 1, interpolation }],
      },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count, type: "SCALAR" },
      { bufferView: 1, componentType: 5126, count: count * per, type: "VEC3" },
    ],
    bufferViews: [
      { buffer: 0, byteLength: times.byteLength },
      { buffer: 0, byteOffset: times.byteLength, byteLength: moves.byteLength },
    ],
    buffers: [
      { byteLength: bytes.length, uri: `data:application/octet-stream;base64,${bytes.toString("base64")}` },
    ],
  });
}
