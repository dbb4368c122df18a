import fc from "fast-check";
import type { KeyEdit, KeyHandle } from "../../../packages/core/document/edit.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";

/** Few keys at few frames, so that edits meet; with handles, interpolations of keys, and properties nobody knows. */
export const keyedDocument = {
  format: "keyside.curves",
  version: 1,
  shot: { frameRate: 24, range: [1, 8] },
  space: { metresPerUnit: 1 },
  nodes: [{ id: "point" }, { id: "other" }],
  curves: [
    {
      node: "point",
      channel: "translation.x",
      interpolation: "bezier",
      keys: [
        [1, 0],
        [3, 1, { in: [-1, 0], out: [1, 0], mark: "of the tool" }],
        [4, 2, { interpolation: "step" }],
        [6, 1],
      ],
    },
    { node: "point", channel: "translation.y", interpolation: "smooth", keys: [[2, 5]] },
  ],
} as unknown as CurveDocument;

const frame = fc.integer({ min: 1, max: 6 });
const value = fc.integer({ min: 0, max: 9 });
const place = {
  node: fc.constantFrom("point", "point", "other"),
  channel: fc.constantFrom("translation.x", "translation.x", "translation.y"),
  frame,
} as const;
const handle: fc.Arbitrary<KeyHandle> = fc.oneof(fc.constant(null), fc.tuple(fc.constant(1), value));
const keyEdit = fc.oneof(
  fc.record(
    {
      kind: fc.constant("set" as const),
      ...place,
      value,
      interpolation: fc.constantFrom("step" as const, "linear" as const, null),
      handles: fc.record({ in: handle, out: handle }, { requiredKeys: [] }),
    },
    { requiredKeys: ["kind", "node", "channel", "frame", "value"] },
  ),
  fc.record(
    { kind: fc.constant("move" as const), ...place, toFrame: frame, value },
    { requiredKeys: ["kind", "node", "channel", "frame", "toFrame"] },
  ),
  fc.record({ kind: fc.constant("remove" as const), ...place }),
) as fc.Arbitrary<KeyEdit>;

/** Calls of a tool, one after the other: each a few edits that are made at once. */
export const groupsOfEdits = fc.array(fc.array(keyEdit, { minLength: 1, maxLength: 3 }), {
  minLength: 1,
  maxLength: 24,
});
