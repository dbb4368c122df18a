/**
 * Skeletons and documents for benchmarks: random but the same for the same seed.
 */

/** A small generator of uniform numbers (mulberry32). */
export function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Joints of a two-legged figure; what is missing to `count` hangs on as finger-like chains. */
const body = [
  ["hips", null, 0, 95, 0],
  ["spine", "hips", 0, 12, 0],
  ["chest", "spine", 0, 18, 0],
  ["neck", "chest", 0, 22, 0],
  ["head", "neck", 0, 10, 2],
  ...["l", "r"].flatMap((side) => {
    const x = side === "l" ? 1 : -1;
    return [
      [`shoulder_${side}`, "chest", 4 * x, 18, 0],
      [`upper_arm_${side}`, `shoulder_${side}`, 14 * x, 0, 0],
      [`forearm_${side}`, `upper_arm_${side}`, 28 * x, 0, 0],
      [`hand_${side}`, `forearm_${side}`, 25 * x, 0, 0],
      [`thigh_${side}`, "hips", 9 * x, -4, 0],
      [`shin_${side}`, `thigh_${side}`, 0, -43, 0],
      [`foot_${side}`, `shin_${side}`, 0, -42, 0],
      [`toes_${side}`, `foot_${side}`, 0, -6, 14],
    ];
  }),
];

/**
 * A document with `count` nodes over `frames` frames.
 * @param {{ count: number, frames: number, every: number, seed: number }} options every: frames from key to key
 */
export function skeletonDocument({ count, frames, every, seed }) {
  const uniform = random(seed);
  const joints = [...body].slice(0, count);
  const fingers = ["thumb", "index", "middle", "ring", "little"];
  for (let i = 0; joints.length < count; i++) {
    const side = i % 2 === 0 ? "l" : "r";
    const finger = fingers[(i >> 1) % 5];
    const link = Math.floor(i / 10) + 1;
    const parent = link === 1 ? `hand_${side}` : `${finger}_${link - 1}_${side}`;
    joints.push([`${finger}_${link}_${side}`, parent, (side === "l" ? 1 : -1) * 3, 0, (i % 5) - 2]);
  }
  const nodes = joints.map(([id, parent, ...translation]) => ({
    id,
    ...(parent === null ? {} : { parent }),
    translation,
    rotationOrder: "zxy",
  }));
  const curves = joints.flatMap(([id, parent]) => {
    const phase = uniform() * 6;
    const rate = 0.02 + uniform() * 0.03;
    const channels = parent === null ? ["translation.x", "translation.y", "translation.z"] : [];
    return [...channels, "rotation.x", "rotation.y", "rotation.z"].map((channel, k) => {
      // Sways of the hips by two centimetres and turns of every joint by ten degrees: busy, and nothing leaves the ground.
      const size = channel.startsWith("translation") ? 2 : 10;
      const base = channel === "translation.y" ? 92 : 0;
      const keys = [];
      for (let frame = 1; frame <= frames; frame += every) {
        keys.push([frame, round(base + size * Math.sin(phase + k + frame * rate * 6.28))]);
      }
      return { node: id, channel, interpolation: every > 1 ? "smooth" : "linear", keys };
    });
  });
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: `bench_${count}`, frameRate: 24, range: [1, frames] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    curves,
  };
}

/** Two of these figures side by side, a metre and a half apart, and the camera that sees them both. */
export function pairDocument(options) {
  const [one, other] = [0, 1].map((k) => skeletonDocument({ ...options, seed: options.seed + k }));
  const named = (id) => (id === undefined ? {} : { parent: `other_${id}` });
  return {
    ...one,
    nodes: [
      ...one.nodes,
      ...other.nodes.map(({ parent, ...node }) => ({ ...node, id: `other_${node.id}`, ...named(parent) })),
      { id: "eye", translation: [75, 100, 500] },
    ],
    curves: [
      ...one.curves,
      ...other.curves.map((curve) => ({
        ...curve,
        node: `other_${curve.node}`,
        keys:
          curve.channel === "translation.x" ? curve.keys.map(([frame, x]) => [frame, x + 150]) : curve.keys,
      })),
    ],
    cameras: [{ id: "shotcam", node: "eye", verticalFieldOfView: 30, aspect: 16 / 9 }],
  };
}

function round(value) {
  return Math.round(value * 100) / 100;
}
