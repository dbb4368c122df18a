import { adapters } from "@keyside/adapters";
import { median } from "./measure.mjs";

/** Processor time of reading glTF chains of some lengths. @returns rows of a table, with exponents */
export async function gltfReader(sizes, rounds) {
  const rows = [];
  let before = null;
  for (const links of sizes) {
    const bytes = new TextEncoder().encode(JSON.stringify(gltfChain(links)));
    const gltf = adapters.find(({ endings }) => endings.includes(".gltf"));
    const times = [];
    for (let round = 0; round <= rounds; round++) {
      const start = process.cpuUsage();
      const read = gltf.read(bytes, () => ({ why: "nothing is beside it" }), { file: "chain.gltf" });
      if (read.shot === null) throw new Error(read.problems[0].message);
      const { user, system } = process.cpuUsage(start);
      if (round > 0) times.push((user + system) / 1000);
    }
    const time = median(times);
    const exponent =
      before === null ? "" : (Math.log(time / before.time) / Math.log(links / before.links)).toFixed(2);
    rows.push([links.toLocaleString("en-US"), `${time.toFixed(0)} ms`, exponent]);
    before = { links, time };
  }
  return rows;
}

/** One chain of nodes, the first of which moves. */
function gltfChain(links) {
  const count = 24;
  const data = new Float32Array(4 * count);
  for (let i = 0; i < count; i++) {
    data[i] = i / 24;
    data[count + 3 * i + 1] = Math.sin(i / 4);
  }
  const uri = `data:application/octet-stream;base64,${Buffer.from(data.buffer).toString("base64")}`;
  return {
    asset: { version: "2.0" },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: Array.from({ length: links }, (_, i) => ({
      name: `link ${i}`,
      translation: [0, 0.1, 0],
      ...(i + 1 < links ? { children: [i + 1] } : {}),
    })),
    buffers: [{ byteLength: data.byteLength, uri }],
    bufferViews: [
      { buffer: 0, byteLength: 4 * count },
      { buffer: 0, byteOffset: 4 * count, byteLength: 12 * count },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count, type: "SCALAR", min: [0], max: [(count - 1) / 24] },
      { bufferView: 1, componentType: 5126, count, type: "VEC3" },
    ],
    animations: [
      {
        samplers: [{ input: 0, output: 1 }],
        channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
      },
    ],
  };
}
