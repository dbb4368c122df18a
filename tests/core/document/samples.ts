import fc from "fast-check";
import { channels, interpolations } from "../../../packages/core/document/model.ts";
import { lineStartsOf, placeAt } from "../../../packages/core/document/place.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { bodyParts, type CurveDocument, rotationOrders } from "../../../packages/core/document/schema.ts";
import { figureExtras, nodeExtras, sceneOf } from "./extended.ts";

/** A document as people write it. */
export const sampleText = `{
  "format": "keyside.curves", "version": 1,
  "shot": { "name": "jetty_0040", "revision": 3, "frameRate": "24000/1001", "range": [1001, 1096] },
  "space": { "metresPerUnit": 0.01, "up": "y", "angle": "degrees" },
  "nodes": [
    { "id": "hips", "translation": [0, 95, 0], "rotationOrder": "zxy" },
    { "id": "thigh_l", "parent": "hips", "translation": [9, -4, 0] },
    { "id": "lamp" }
  ],
  "curves": [
    { "node": "hips", "channel": "translation.y", "interpolation": "bezier", "keys": [
      [1001, 95],
      [1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],
      [1020, 91, { "interpolation": "step" }]
    ] },
    { "node": "thigh_l", "channel": "rotation", "interpolation": "cubic", "keys": [
      [1001, [0, 0, 0, 1]],
      [1010.5, [0, 0.6, 0, 0.8], { "in": [0, 0.1, 0, 0], "out": [0, 0, 0, 0] }]
    ] }
  ],
  "figures": [
    { "id": "courier", "parts": { "root": "hips", "leftThigh": "thigh_l" } }
  ],
  "surfaces": [
    { "id": "floor", "normal": [0, 1, 0], "height": 0 }
  ],
  "contacts": [
    { "node": "thigh_l", "with": "floor", "frames": [1010, 1018] }
  ],
  "cameras": [
    { "id": "shotcam", "node": "lamp", "verticalFieldOfView": 30, "aspect": 1.7778 }
  ],
  "gazes": [
    { "figure": "courier", "at": "lamp", "frames": [1001, 1030] }
  ],
  "propulsors": [
    { "figure": "courier", "nodes": ["thigh_l"], "channel": "rotation.z" }
  ],
  "waivers": [
    { "check": "hard-stop", "node": "hips", "frames": [1040, 1042], "reason": "comic stop" }
  ]
}
`;

/** The problems of a text as "code line:column path", in order. */
export function problemsOf(text: string): string[] {
  const lines = lineStartsOf(text);
  return readShot(text).problems.map(({ code, start, path }) => {
    const { line, column } = placeAt(lines, start);
    return `${code} ${line}:${column} ${path}`;
  });
}

/** The sample with a piece replaced; the piece has to be there once. */
export function sampleWith(piece: string, by: string): string {
  if (sampleText.split(piece).length !== 2) throw new Error(`"${piece}" is not there exactly once.`);
  return sampleText.replace(piece, () => by);
}

const value = fc.oneof(
  fc.double({ min: -1e6, max: 1e6, noNaN: true }),
  fc.integer({ min: -1000, max: 1000 }),
  fc.integer({ min: -99999, max: 99999 }).map((n) => n / 100),
);
const vector = fc.tuple(value, value, value);
const quaternion = fc.tuple(value, value, value, fc.double({ min: 0.1, max: 1, noNaN: true }));
const interpolation = fc.constantFrom(...interpolations);
const optional = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });

function withoutUndefined<T extends object>(object: T): T {
  return Object.fromEntries(Object.entries(object).filter(([, member]) => member !== undefined)) as T;
}

function curveArbitrary(node: string, channel: (typeof channels)[number]) {
  const isQuaternion = channel === "rotation";
  const handle: fc.Arbitrary<unknown> = isQuaternion ? quaternion : fc.oneof(value, fc.tuple(value, value));
  const extras = fc
    .record({ in: optional(handle), out: optional(handle), interpolation: optional(interpolation) })
    .map(withoutUndefined);
  const frame = fc.oneof(
    fc.integer({ min: -50, max: 200 }),
    fc.integer({ min: -100, max: 400 }).map((n) => n / 4),
  );
  return fc
    .record({
      interpolation: optional(interpolation),
      keys: fc.uniqueArray(fc.tuple(frame, isQuaternion ? quaternion : value, optional(extras)), {
        selector: ([at]) => at,
        minLength: 1,
        maxLength: 6,
      }),
    })
    .map((curve) =>
      withoutUndefined({
        node,
        channel,
        interpolation: curve.interpolation,
        keys: curve.keys
          .sort((a, b) => a[0] - b[0])
          .map(([at, number, more]) =>
            more === undefined || Object.keys(more).length === 0 ? [at, number] : [at, number, more],
          ),
      }),
    );
}

/** Documents without problems, but for handles that do not fit their segments. */
export const documents: fc.Arbitrary<CurveDocument> = fc
  .uniqueArray(fc.string({ minLength: 1, maxLength: 6, unit: "grapheme" }), { minLength: 1, maxLength: 5 })
  .chain((ids) => {
    const nodes = fc.tuple(
      ...ids.map((id, index) =>
        fc
          .record({
            parent: index === 0 ? fc.constant(undefined) : optional(fc.constantFrom(...ids.slice(0, index))),
            translation: optional(vector),
            fixedRotation: optional(quaternion),
            rotationOrder: optional(fc.constantFrom(...rotationOrders)),
          })
          .chain((node) => nodeExtras.map((extras) => withoutUndefined({ id, ...node, ...extras }))),
      ),
    );
    const heads = fc.uniqueArray(fc.tuple(fc.constantFrom(...ids), fc.constantFrom(...channels)), {
      selector: ([node, channel]) => `${node} ${channel}`,
      maxLength: 5,
    });
    const scene = sceneOf(ids);
    return fc.record({
      nodes,
      curves: heads.chain((list) =>
        fc.tuple(...list.map(([node, channel]) => curveArbitrary(node, channel))),
      ),
      shot: fc
        .record({
          name: optional(fc.string()),
          frameRate: fc.oneof(
            fc.constantFrom("24000/1001", 24, 25, "30", 59.94),
            fc.integer({ min: 1, max: 240 }),
          ),
          range: fc.constant([0, 100]),
          stage: optional(fc.constantFrom("blocking", "splining", "polish")),
          style: optional(fc.constantFrom("full", "snappy", "our-show")),
          animators: optional(fc.constant(["Ana"])),
        })
        .map(withoutUndefined),
      space: optional(
        fc.record({ up: fc.constantFrom("x", "y", "z"), angle: fc.constantFrom("degrees", "radians") }),
      ),
      figures: optional(
        fc
          .tuple(fc.constantFrom(...bodyParts), figureExtras(ids))
          .map(([part, extras]) => [{ id: "one", parts: { [part]: ids[0] }, ...extras }]),
      ),
      surfaces: scene.surfaces,
      surroundings: optional(scene.surroundings),
      props: optional(scene.props),
      cameras: optional(scene.cameras),
      sounds: optional(scene.sounds),
      stages: optional(scene.stages),
      waivers: optional(fc.constant([{ check: "hard-stop", reason: "agreed", frames: [1, 2] }])),
      studio: optional(fc.jsonValue().filter((json) => !JSON.stringify(json).includes("__proto__"))),
    });
  })
  .map(
    (parts) =>
      withoutUndefined({ format: "keyside.curves", version: 1, ...parts }) as unknown as CurveDocument,
  );
