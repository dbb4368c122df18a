import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { agendaOf } from "../../../packages/core/review/agenda.ts";
import { addRemark, arrangeReview, decide, markRemark } from "../../../packages/core/review/change.ts";
import { isOfAnotherShot, nodeOfRemark, reviewMisfits } from "../../../packages/core/review/fit.ts";
import { motionHashOf, reviewVersionOf } from "../../../packages/core/review/motion-hash.ts";
import { emptyReview, type Remark } from "../../../packages/core/review/schema.ts";
import { anyReview } from "./any-review.ts";
import { ballAt } from "./shots.ts";

const ada = { by: "Ada", date: "2031-04-02" };
const note = (check: string, tier: "major" | "minor", frame: number) => ({
  ...{ check, tier, node: "hips", fingerprint: `${check}${frame}` },
  frames: [frame, frame + 4] as [number, number],
});
const notes = [note("hang-time", "major", 70), note("pop", "major", 30), note("no-drag", "minor", 5)];

const named = (items: ReturnType<typeof agendaOf<(typeof notes)[number]>>) =>
  items.map((item) => (item.kind === "remark" ? item.remark.text : item.note.check));

describe("remarks and notes in one list", () => {
  const said = [
    ["praise", "keep"],
    ["first", "must"],
    ["third", "should"],
  ] as const;
  const review = said.reduce(
    (before, [text, weight]) => addRemark(before, { text, weight, ...ada }, text).review,
    emptyReview(),
  );

  test("stand by weight, remarks first, praise last, where nobody put them into an order", () => {
    expect(named(agendaOf(review, notes))).toEqual([
      "first",
      "hang-time",
      "pop",
      "third",
      "no-drag",
      "praise",
    ]);
  });

  test("stand in the reviewer's order, and the rest follows", () => {
    const { review: decided, decision } = decide(review, {
      ...note("no-drag", "minor", 5),
      verdict: "kept",
      ...ada,
    });
    const arranged = arrangeReview(decided, [decision.id, "praise"], ada);
    expect(named(agendaOf(arranged, notes))).toEqual([
      "no-drag",
      "praise",
      "first",
      "hang-time",
      "pop",
      "third",
    ]);
  });

  test("a note that is raised or lowered stands with its new weight", () => {
    const { review: decided } = decide(review, {
      ...note("no-drag", "minor", 5),
      verdict: "kept",
      weight: "must",
      ...ada,
    });
    const [, , , raised] = agendaOf(decided, notes);
    expect(raised).toMatchObject({ kind: "note", weight: "must", decision: { by: "Ada" } });
  });

  test("each stand there once, whatever the review", () => {
    fc.assert(
      fc.property(anyReview, (any) => {
        const items = agendaOf(any, notes);
        expect(items).toHaveLength(any.remarks.length + notes.length);
        expect(new Set(items.map((item) => (item.kind === "remark" ? item.remark : item.note))).size).toBe(
          items.length,
        );
      }),
    );
  });

  test("a remark has the state that was said last, in this version's file or another's", () => {
    const { mark } = markRemark(review, { of: "first", state: "done", ...ada });
    const state = agendaOf(review, [], [mark]).flatMap((item) =>
      item.kind === "remark" ? [item.state] : [],
    );
    expect(state).toEqual(["done", "open", "open"]);
  });
});

describe("a review beside a shot that it does not fit", () => {
  const { shot, study } = ballAt([
    [0, 0, 0],
    [0, 1, 0],
    [0, 2, 0],
  ]);
  const remark = (fields: Partial<Remark>) =>
    addRemark(emptyReview("ball_0010"), { text: "Higher.", ...ada, ...fields }, "hb7").review;
  const told = (fields: Partial<Remark>) =>
    reviewMisfits(study, remark(fields), "ball_0010").map(({ message }) => message);

  test.each<[string, Partial<Remark>, RegExp]>([
    [
      "frames that are not there",
      { frames: [2, 90] },
      /^The remark hb7 speaks of frames 2 to 90; the shot has frames 1 to 3/,
    ],
    [
      "a part that is not there",
      { node: "bll" },
      /^The remark hb7 speaks of "bll", which is not in the shot; it is told of the whole shot\. Did you mean "ball"\?$/,
    ],
    [
      "a camera that is not there",
      { strokes: [{ frame: 1, camera: "cam", points: [[0, 0, 0]] }] },
      /^The remark hb7 has a stroke through the camera "cam".*it keeps its plane\.$/,
    ],
    [
      "a plane without normal",
      { strokes: [{ frame: 1, plane: { origin: [0, 0, 0], normal: [0, 0, 0] }, points: [[0, 0, 0]] }] },
      /plane has no normal; it is drawn as its points\.$/,
    ],
    [
      "a target for a part that is not there",
      { strokes: [{ frame: 1, points: [[0, 0, 0]], target: { node: "bll", frames: [1, 2] } }] },
      /target path for "bll".*it is not measured\. Did you mean "ball"\?$/,
    ],
  ])("tells of %s", (_, fields, sentence) => {
    expect(told(fields)).toEqual([expect.stringMatching(sentence)]);
  });

  test("has nothing to tell of a stroke without camera", () => {
    expect(told({ node: "ball", frames: [1, 2], strokes: [{ frame: 1, points: [[0, 0, 0]] }] })).toEqual([]);
  });

  test("knows another shot from another version of the same", () => {
    const of = (shot: string | null) => isOfAnotherShot(emptyReview(shot), "quay_0070_v2");
    expect([of("quay_0070_v1"), of("quay_0070"), of(null), of("pier_0010_v2"), of("quay_0080_v2")]).toEqual([
      false,
      false,
      false,
      true,
      true,
    ]);
    expect(reviewMisfits(study, emptyReview("pier_0010"), "ball_0010")).toMatchObject([
      { message: expect.stringMatching(/^The review is of the shot "pier_0010", and this is "ball_0010"/) },
    ]);
  });

  test("finds a part again that was renamed, where the remark says which part of the body it is", () => {
    const named = remark({ node: "old", part: "root" }).remarks[0] as Remark;
    expect(nodeOfRemark(study, named)).toBe(null);
    expect(nodeOfRemark(study, { ...named, node: "ball" })).toBe("ball");
  });

  test("names a version by its keys, and not by how its file is laid out", () => {
    const same = ballAt([
      [0, 0, 0],
      [0, 1, 0],
      [0, 2, 0],
    ]).shot;
    const other = ballAt([
      [0, 0, 0],
      [0, 1, 0],
      [0, 2.001, 0],
    ]).shot;
    expect(motionHashOf(same)).toBe(motionHashOf(shot));
    expect(motionHashOf(other)).not.toBe(motionHashOf(shot));
    expect(reviewVersionOf(shot, "ball.curves.json")).toEqual({
      file: "ball.curves.json",
      hash: motionHashOf(shot),
    });
  });
});
