import fc from "fast-check";
import { withEntries } from "../../../packages/core/review/gather.ts";
import { decisionIdOf } from "../../../packages/core/review/ids.ts";
import {
  type Decision,
  emptyReview,
  type Mark,
  type Remark,
  type ReviewFile,
} from "../../../packages/core/review/schema.ts";

const word = fc.constantFrom("hold", "the head", "slower", 'more "weight"', "\u00e9clat\n- twice", "keep");
const text = fc.array(word, { minLength: 1, maxLength: 3 }).map((words) => words.join(" "));
const by = fc.constantFrom("Ada", "Ben", "Cleo");
const date = fc.integer({ min: 0, max: 900 }).map((n) => new Date(Date.UTC(2031, 3, 2, 9, n)).toISOString());
const frames = fc.tuple(fc.integer({ min: 1, max: 50 }), fc.integer({ min: 51, max: 90 }));
const vector = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -300, max: 300 }).map((n) => n / 100)));
const stroke = fc.record({
  frame: fc.integer({ min: 1, max: 90 }),
  plane: fc.record({ origin: vector, normal: fc.constant<[number, number, number]>([0, 0, 1]) }),
  points: fc.array(vector, { minLength: 1, maxLength: 4 }),
}) as fc.Arbitrary<NonNullable<Remark["strokes"]>[number]>;
const ids = fc.constantFrom("b", "c", "d", "f", "g", "h", "k", "m");

export const anyRemark: fc.Arbitrary<Remark> = fc.record(
  {
    kind: fc.constant("remark" as const),
    id: ids,
    frames,
    node: fc.constantFrom("hips", "head"),
    text,
    weight: fc.constantFrom("must", "should", "could", "keep"),
    by,
    date,
    version: fc.record({
      file: fc.constant("quay_0070_v1.curves.json"),
      revision: fc.constant(1),
      hash: fc.constant("5d7a"),
    }),
    strokes: fc.array(stroke, { maxLength: 2 }),
  },
  { requiredKeys: ["kind", "id", "text", "weight", "by", "date"] },
);

export const anyDecision: fc.Arbitrary<Decision> = fc
  .record({
    check: fc.constantFrom("pop", "twinning"),
    frames,
    verdict: fc.constantFrom("kept" as const, "dropped" as const),
    reason: text,
    by,
    date,
  })
  .map((decision) => ({ kind: "decision", id: decisionIdOf(decision), ...decision }));

const anyMark: fc.Arbitrary<Mark> = fc.record({
  kind: fc.constant("mark" as const),
  id: fc.string({ minLength: 6, maxLength: 6, unit: fc.constantFrom(..."bcdf") }),
  of: ids,
  state: fc.constantFrom("done", "still-open"),
  by,
  date,
});

/** Any review, with entries whose ids are few enough that two of them often name the same. */
export const anyReview: fc.Arbitrary<ReviewFile> = fc
  .tuple(
    fc.uniqueArray(anyRemark, { maxLength: 6, selector: ({ id }) => id }),
    fc.uniqueArray(anyDecision, { maxLength: 3, selector: ({ id }) => id }),
    fc.uniqueArray(anyMark, { maxLength: 3, selector: ({ id }) => id }),
  )
  .map(([remarks, decisions, marks]) =>
    withEntries(emptyReview("quay_0070"), [...remarks, ...decisions, ...marks]),
  );
