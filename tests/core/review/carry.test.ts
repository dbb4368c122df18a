import { describe, expect, test } from "vitest";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { carryDecisions } from "../../../packages/core/review/carry.ts";
import { addRemark, decide } from "../../../packages/core/review/change.ts";
import { decisionAbout } from "../../../packages/core/review/drops.ts";
import { emptyReview, type ReviewFile } from "../../../packages/core/review/schema.ts";
import { ballAt } from "./shots.ts";

/** A ball that goes along smoothly but for a jump aside of so many metres on a frame; none if null. */
function version(jump: { frame: number; size: number } | null, review: ReviewFile = emptyReview()) {
  const { shot, study } = ballAt(
    Array.from({ length: 48 }, (_, i): [number, number, number] => {
      const t = i / 47;
      return [jump?.frame === i + 1 ? jump.size : 0, t * t * (3 - 2 * t), 0];
    }),
  );
  return { shot, notes: notesOf(study), review };
}

const jump = { frame: 20, size: 0.4 };
const [pop] = version(jump).notes.filter(({ check }) => check === "pop");
const ada = { by: "Ada", date: "2031-04-02" };
const carrier = { by: "Ben", date: "2031-04-09", from: "ball_v1.curves.json" };
const about = { check: "pop", node: "ball", frames: [pop.frames[0], pop.frames[1]] as [number, number] };
const dropped = { ...about, verdict: "dropped", reason: "a comic jolt", rank: 2, ...ada } as const;
const first = decide(addRemark(emptyReview(), { text: "Softer.", ...ada }).review, dropped).review;

describe("decisions are carried to the next version", () => {
  test("with their author, date, words and place; it is said who carried them, and remarks stay", () => {
    const { review, carried, left } = carryDecisions(version(jump, first), version(jump), carrier);
    expect(left).toEqual([]);
    expect(carried).toEqual([{ ...first.decisions[0], carried: carrier }]);
    expect(review.decisions).toEqual(carried);
    expect(review.remarks).toEqual([]);
  });

  test("to where the note is now, when the keys were re-timed", () => {
    const later = version({ ...jump, frame: 23 });
    const { review } = carryDecisions(version(jump, first), later, carrier);
    const [now] = later.notes.filter(({ check }) => check === "pop");
    expect(now.frames).not.toEqual(pop.frames);
    expect(decisionAbout(review, now)).toMatchObject({ verdict: "dropped", frames: now.frames });
  });

  test("not where the note is gone", () => {
    const { review, left } = carryDecisions(version(jump, first), version(null), carrier);
    expect(left).toEqual([{ decision: first.decisions[0], why: "gone" }]);
    expect(review).toEqual(emptyReview());
  });

  test("not where what was dropped has become worse; what was kept goes on", () => {
    const worse = version({ ...jump, size: 2 });
    expect(carryDecisions(version(jump, first), worse, carrier).left).toMatchObject([{ why: "worse" }]);
    const kept = decide(emptyReview(), { ...about, verdict: "kept", text: "Mend the jolt.", ...ada }).review;
    expect(carryDecisions(version(jump, kept), worse, carrier).carried).toMatchObject([
      { text: "Mend the jolt.", by: "Ada" },
    ]);
  });

  test("not over a decision that is there, unless it is asked for; twice is as once", () => {
    const own = decide(emptyReview(), { ...about, verdict: "kept", by: "Cleo", date: "2031-04-08" }).review;
    const [before, after] = [version(jump, first), version(jump, own)];
    expect(carryDecisions(before, after, carrier)).toMatchObject({
      review: own,
      left: [{ why: "decided" }],
    });
    const forced = carryDecisions(before, after, { ...carrier, replaces: true }).review;
    expect(forced.decisions).toMatchObject([{ verdict: "dropped", by: "Ada", carried: carrier }]);
    expect(carryDecisions(before, version(jump, forced), carrier).review).toEqual(forced);
  });

  test("not where people disagree, and not past the last revision for which it holds", () => {
    const [decision] = first.decisions;
    const other = { ...decision, id: `${decision.id}.b`, verdict: "kept" as const, conflicts: decision.id };
    const contested = { ...first, decisions: [decision, other] };
    const { left } = carryDecisions(version(jump, contested), version(jump), carrier);
    expect(left.map(({ why }) => why)).toEqual(["contested", "contested"]);
    const ending = decide(emptyReview(), { ...dropped, lastRevision: 1 }).review;
    const second = version(jump);
    const { header } = second.shot;
    const revised = { ...second.shot, header: { ...header, shot: { ...header.shot, revision: 2 } } };
    expect(carryDecisions(version(jump, ending), { ...second, shot: revised }, carrier).left).toMatchObject([
      { why: "ended" },
    ]);
  });
});
