import { describe, expect, test } from "vitest";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { addRemark, markRemark } from "../../../packages/core/review/change.ts";
import { followVersions } from "../../../packages/core/review/follow.ts";
import { motionHashOf } from "../../../packages/core/review/motion-hash.ts";
import { emptyReview, type ReviewFile } from "../../../packages/core/review/schema.ts";
import { ballAt } from "./shots.ts";

type Place = [number, number, number];

/** A ball that rises to a height by a smooth curve; `off` lets it jump aside on frame 12. */
function version(name: string, height: number, off: number, review: ReviewFile | null) {
  const places = Array.from({ length: 25 }, (_, i): Place => {
    const t = i / 24;
    return [i === 11 ? off : 0, height * t * t * (3 - 2 * t), 0];
  });
  const { shot, study } = ballAt(places);
  return { shot, study, notes: notesOf(study), file: `${name}.curves.json`, review };
}

const on = (day: number) => ({ by: "Ada", date: `2031-04-0${day}` });
const plain = (name: string, height: number, off: number) => version(name, height, off, null);
const hash = (height: number, off: number) => ({ hash: motionHashOf(plain("", height, off).shot) });
const target = {
  frame: 1,
  plane: { origin: [0, 0, 0] as Place, normal: [0, 0, 1] as Place },
  points: [
    [0, 0, 0],
    [0, 2, 0],
  ] as Place[],
  target: { node: "ball", frames: [1, 25] as [number, number] },
};
const first = addRemark(
  addRemark(
    emptyReview(),
    { text: "Rise to two metres.", strokes: [target], version: hash(1, 0.4), ...on(1) },
    "hb7",
  ).review,
  { text: "Lovely.", weight: "keep", version: hash(1, 0.4), ...on(1) },
  "kx4",
).review;
const second = markRemark(emptyReview(), {
  of: "hb7",
  state: "still-open",
  version: hash(1.5, 0),
  ...on(2),
}).review;
const third = markRemark(emptyReview(), { of: "hb7", state: "done", version: hash(2, 0), ...on(3) }).review;
const versions = [version("v1", 1, 0.4, first), version("v2", 1.5, 0, second), version("v3", 2, 0, third)];
const states = (cells: readonly ({ state: string } | null)[]) => cells.map((cell) => cell?.state ?? null);

describe("over versions", () => {
  const rows = followVersions(versions);

  test("a computed note is followed by measure, from where it came up to where it is gone", () => {
    const pops = rows.filter(({ kind, note }) => kind === "note" && note?.check === "pop");
    expect(pops.length).toBeGreaterThan(0);
    for (const { cells, opened, closed } of pops) {
      expect(states(cells)).toEqual(["new", "gone", null]);
      expect([opened, closed]).toEqual([0, 1]);
    }
  });

  test("a remark is followed by what people say of it", () => {
    const remark = rows.find(({ kind, remark }) => kind === "remark" && remark?.id === "hb7");
    expect(states(remark?.cells ?? [])).toEqual(["made", "still-open", "done"]);
    expect(remark).toMatchObject({ opened: 0, closed: 2 });
  });

  test("praise is neither open nor closed", () => {
    const praise = rows.find(({ remark }) => remark?.id === "kx4");
    expect(states(praise?.cells ?? [])).toEqual(["praise", "praise", "praise"]);
    expect(praise?.closed).toBe(null);
  });

  test("a target path is followed by its distance and the share of it that is gone along", () => {
    const path = rows.find(({ kind }) => kind === "target");
    expect(states(path?.cells ?? [])).toEqual(["off", "off", "met"]);
    expect(path?.closed).toBe(2);
    expect(path?.cells.map((cell) => cell?.fit?.covered.toFixed(2))).toEqual(["0.50", "0.75", "1.00"]);
  });

  test("a remark that is marked open again is open", () => {
    const again = markRemark(emptyReview(), {
      of: "hb7",
      state: "open",
      version: hash(2.2, 0),
      ...on(4),
    }).review;
    const [row] = followVersions([...versions, version("v4", 2.2, 0, again)]);
    expect(states(row?.cells ?? [])).toEqual(["made", "still-open", "done", "open"]);
    expect(row?.closed).toBe(null);
  });

  test("what comes back is the same row, and open again", () => {
    const [one, two] = versions as [(typeof versions)[0], (typeof versions)[0]];
    const back = followVersions([one, two, version("v3", 1, 0.4, null)]).filter(
      ({ note }) => note?.check === "pop",
    );
    expect(back.map(({ cells, closed }) => [states(cells), closed])).toContainEqual([
      ["new", "gone", "back"],
      null,
    ]);
  });

  test("of one version alone everything is new", () => {
    for (const { cells } of followVersions([plain("v1", 1, 0.4)])) expect(states(cells)).toEqual(["new"]);
  });
});
