import fc from "fast-check";

/** A document in which every reference and every stretch of frames that the format knows stands at least once. */
export const extendedText = `{
  "format": "keyside.curves", "version": 1,
  "shot": { "name": "pool_0010", "frameRate": 24, "range": [1, 96], "stage": "splining", "style": "snappy", "animators": ["Ana", "Ben"] },
  "space": { "metresPerUnit": 0.01, "up": "y", "angle": "degrees" },
  "nodes": [
    { "id": "hips", "translation": [0, 95, 0], "colour": [[1, "#d08040"], [24, "#804020"]] },
    { "id": "thigh_l", "parent": "hips", "shapes": [{ "kind": "capsule", "radius": 7, "from": [0, 0, 0], "to": [0, -42, 0] }] },
    { "id": "foot_l", "parent": "thigh_l", "translation": [0, -84, 0] },
    { "id": "ball_l", "parent": "foot_l", "translation": [0, -7, 14] },
    { "id": "hand_l", "parent": "hips", "shapes": [{ "kind": "sphere", "radius": 5 }, { "kind": "sphere", "radius": 2, "centre": [0, 6, 0] }] },
    { "id": "hand_r", "parent": "hips", "visible": [] },
    { "id": "crate", "shapes": [{ "kind": "box", "size": [40, 30, 40], "centre": [0, 15, 0], "rotation": [0, 0, 0, 1] }], "visible": [[1, 40], [40, 60], [70, 96]] },
    { "id": "cam" }
  ],
  "curves": [
    { "node": "hips", "channel": "translation.y", "interpolation": "linear", "keys": [
      [1, 95],
      [24, 91]
    ] }
  ],
  "figures": [
    { "id": "diver", "parts": { "root": "hips", "leftFingers": ["hand_l"] }, "limbs": [{ "id": "near leg", "kind": "leg", "side": "left", "nodes": ["thigh_l", "foot_l", "ball_l"], "sole": { "heel": { "node": "foot_l", "at": [0, -7, -4] }, "ball": "ball_l", "toe": { "node": "ball_l", "at": [0, 0, 6] }, "thickness": 2 } }, { "id": "far leg", "kind": "other", "nodes": ["foot_l"], "sole": { "heel": "foot_l", "ball": { "node": "ball_l", "at": [0, 0, 1] }, "toe": "ball_l" } }], "animators": ["Cem"] }
  ],
  "surfaces": [
    { "id": "floor", "height": 0 },
    { "id": "step", "height": 16, "edges": [[-60, 40], [60, 90]] },
    { "id": "pool", "normal": [0, 1, 0], "height": -20, "edges": [[0, 0], [50, 0], [50, 80], [20, 40], [0, 80]] },
    { "id": "lid", "height": 30, "node": "crate", "edges": [[-20, -20], [20, 20]] }
  ],
  "contacts": [
    { "node": "foot_l", "with": "floor", "frames": [1, 10] },
    { "node": "hand_l", "with": "crate", "frames": [1, 10] }
  ],
  "surroundings": [
    { "medium": "air" },
    { "medium": "water", "density": 1025, "below": "pool", "frames": [1, 96] }
  ],
  "props": [
    { "node": "crate", "mass": 12, "heldBy": [{ "node": "hand_l", "frames": [20, 60] }, { "node": "hand_r", "frames": [30, 60], "slides": true }, { "node": "hand_l", "frames": [60, 70] }] }
  ],
  "cameras": [
    { "id": "wide", "node": "cam", "verticalFieldOfView": 30, "aspect": 1.7778, "near": 1, "far": 10000, "zoom": { "interpolation": "bezier", "keys": [[1, 30, { "out": [6, 0] }], [24, 45, { "in": [-6, 0] }]] }, "frames": [1, 48] },
    { "id": "side", "node": "cam", "verticalExtent": 300, "background": "#c8d0d8", "zoom": { "keys": [[50, 300], [96, 250]] } }
  ],
  "gazes": [
    { "figure": "diver", "at": "crate", "frames": [1, 30] }
  ],
  "propulsors": [
    { "figure": "diver", "nodes": ["thigh_l"], "channel": "rotation.x" }
  ],
  "sounds": [
    { "file": "sound/splash.wav", "frame": 61.5, "node": "crate", "label": "splash" }
  ],
  "stages": [
    { "stage": "blocking", "frames": [70, 96] },
    { "stage": "polish", "frames": [1, 20] }
  ],
  "waivers": [
    { "check": "hard-stop", "node": "hips", "frames": [20, 30], "reason": "a comic stop" }
  ]
}
`;

const number = fc.integer({ min: -99999, max: 99999 }).map((n) => n / 100);
const positive = fc.integer({ min: 1, max: 99999 }).map((n) => n / 100);
const vector = fc.tuple(number, number, number);
const turn = fc.tuple(number, number, number, fc.constant(1));
const frames = fc.tuple(number, fc.nat({ max: 500 })).map(([first, more]) => [first, first + more]);
const words = fc.string({ minLength: 1, maxLength: 8, unit: "grapheme" });

/** Stretches of which none runs into another. */
const stretches = fc
  .uniqueArray(fc.integer({ min: -200, max: 400 }), { minLength: 2, maxLength: 6 })
  .map((ends) => ends.sort((a, b) => a - b))
  .map((ends) => ends.flatMap((end, i) => (i % 2 === 1 ? [[ends[i - 1], end]] : [])));

/** Corners around a middle at ascending angles: such an outline does not cross itself. */
const edges = fc.oneof(
  fc.tuple(number, number, positive, positive).map(([x, y, w, h]) => [
    [x, y],
    [x + w, y + h],
  ]),
  fc
    .tuple(fc.constantFrom(3, 4, 5, 8), fc.infiniteStream(fc.integer({ min: 1, max: 100 })))
    .map(([count, stream]) =>
      Array.from({ length: count }, (_, i) => {
        const reach = stream.next().value as number;
        const angle = (2 * Math.PI * i) / count;
        return [reach * Math.cos(angle), reach * Math.sin(angle)];
      }),
    ),
);

const shape = fc.oneof(
  fc.record(
    { kind: fc.constant("sphere"), radius: positive, centre: vector },
    { requiredKeys: ["kind", "radius"] },
  ),
  fc.record({ kind: fc.constant("capsule"), radius: positive, from: vector, to: vector }),
  fc.record(
    {
      kind: fc.constant("box"),
      size: fc.tuple(positive, positive, positive),
      centre: vector,
      rotation: turn,
    },
    { requiredKeys: ["kind", "size"] },
  ),
);

const colour = fc.stringMatching(/^[0-9a-fA-F]{6}$/).map((digits) => `#${digits}`);

/** What a node may have besides its place. */
export const nodeExtras = fc.record(
  {
    shapes: fc.array(shape, { maxLength: 3 }),
    colour: fc.oneof(
      colour,
      fc
        .uniqueArray(fc.integer({ min: -50, max: 200 }), { minLength: 1, maxLength: 4 })
        .chain((at) =>
          fc.tuple(...at.sort((a, b) => a - b).map((frame) => fc.tuple(fc.constant(frame), colour))),
        ),
    ),
    visible: stretches,
  },
  { requiredKeys: [] },
);

/** Members of a document about nodes with these ids, but for its figures. */
export function sceneOf(ids: readonly string[]) {
  const id = fc.constantFrom(...ids);
  const surfaceIds = ["ground", "pool", "lid"];
  const zoom = (most: number) =>
    fc.record(
      {
        interpolation: fc.constantFrom("step", "linear", "smooth"),
        keys: fc
          .uniqueArray(fc.integer({ min: -50, max: 200 }), { minLength: 1, maxLength: 4 })
          .map((at) => at.sort((a, b) => a - b).map((frame, i) => [frame, most / (i + 2)])),
      },
      { requiredKeys: ["keys"] },
    );
  const picture = {
    id: fc.constant(""),
    node: id,
    aspect: positive,
    near: fc.constantFrom(0, 0.5),
    background: colour,
    far: fc.constantFrom(1, 1e4),
    frames,
  };
  const requiredKeys = ["id", "node"] as ("id" | "node")[];
  const camera = fc.oneof(
    fc.record(
      { ...picture, verticalFieldOfView: fc.integer({ min: 1, max: 179 }), zoom: zoom(179) },
      { requiredKeys: [...requiredKeys, "verticalFieldOfView"] },
    ),
    fc.record(
      { ...picture, verticalExtent: positive, zoom: zoom(5000) },
      { requiredKeys: [...requiredKeys, "verticalExtent"] },
    ),
  );
  return {
    surfaces: fc.tuple(
      ...surfaceIds.map((surface) =>
        fc.record(
          {
            id: fc.constant(surface),
            normal: fc.tuple(number, number, positive),
            height: number,
            node: id,
            edges,
          },
          { requiredKeys: ["id", "height"] },
        ),
      ),
    ),
    surroundings: fc.array(
      fc.record(
        {
          medium: fc.constantFrom("air", "water", "vacuum"),
          density: fc.nat({ max: 2000 }),
          below: fc.constantFrom(...surfaceIds),
          frames,
        },
        { requiredKeys: ["medium"] },
      ),
      { maxLength: 3 },
    ),
    props: fc
      .uniqueArray(
        fc.record(
          {
            node: id,
            mass: positive,
            heldBy: stretches.map((held) =>
              held.map((stretch) => ({ node: ids[0], frames: stretch, slides: true })),
            ),
          },
          { requiredKeys: ["node"] },
        ),
        { selector: ({ node }) => node, maxLength: 3 },
      )
      .map((props) => props.filter(({ node }) => node !== ids[0])),
    cameras: fc
      .array(camera, { maxLength: 3 })
      .map((cameras) => cameras.map((one, i) => ({ ...one, id: `cam${i}` }))),
    sounds: fc.array(
      fc.record(
        { file: words.map((name) => `./${name}`), frame: number, node: id, label: words },
        { requiredKeys: ["file", "frame"] },
      ),
      { maxLength: 3 },
    ),
    stages: stretches.map((list) =>
      list.map((one, i) => ({ stage: i === 0 ? "blocking" : "polish", frames: one })),
    ),
  };
}

/** What a figure may have besides its parts. */
export function figureExtras(ids: readonly string[]) {
  const id = fc.constantFrom(...ids);
  const point = fc.oneof(id, fc.record({ node: id, at: vector }));
  const limb = fc.record(
    {
      id: fc.constant(""),
      kind: fc.constantFrom("leg", "arm", "wing", "fin", "tail", "neck", "tentacle", "other"),
      side: fc.constantFrom("left", "right"),
      nodes: fc.uniqueArray(id, { minLength: 1, maxLength: 4 }),
      sole: fc.record(
        { heel: point, ball: point, toe: point, thickness: fc.nat() },
        { requiredKeys: ["toe"] },
      ),
    },
    { requiredKeys: ["id", "kind", "nodes"] },
  );
  return fc.record(
    {
      limbs: fc
        .array(limb, { maxLength: 8 })
        .map((limbs) => limbs.map((one, i) => ({ ...one, id: `limb ${i}` }))),
      animators: fc.array(words, { maxLength: 2 }),
    },
    { requiredKeys: [] },
  );
}
