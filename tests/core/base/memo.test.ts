import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Memo } from "../../../packages/core/base/memo.ts";
import type { MeasureDefinition } from "../../../packages/core/base/memo-cell.ts";

interface Sheet {
  readonly memo: Memo;
  readonly ran: string[];
}

const input: MeasureDefinition<Sheet, number, number> = { name: "input", compute: () => 0 };
const read = (sheet: Sheet, key: number) => sheet.memo.read(sheet, input, key);

function counted<K, V>(
  name: string,
  compute: (sheet: Sheet, key: K) => V,
  same?: (a: V, b: V) => boolean,
): MeasureDefinition<Sheet, K, V> {
  return {
    name,
    same,
    compute: (sheet, key) => {
      sheet.ran.push(`${name} ${key}`);
      return compute(sheet, key);
    },
  };
}

function sheetOf(...values: number[]): Sheet {
  const sheet: Sheet = { memo: new Memo(), ran: [] };
  for (const [key, value] of values.entries()) sheet.memo.write(input, key, value);
  return sheet;
}

describe("memo", () => {
  test("computes a value once, and again only after something that it asked for has changed", () => {
    const double = counted("double", (sheet, key: number) => 2 * read(sheet, key));
    const sheet = sheetOf(1, 10);
    expect(sheet.memo.read(sheet, double, 0)).toBe(2);
    expect(sheet.memo.read(sheet, double, 0)).toBe(2);
    expect(sheet.ran).toEqual(["double 0"]);
    sheet.memo.write(input, 1, 11);
    expect(sheet.memo.read(sheet, double, 0)).toBe(2);
    expect(sheet.ran).toEqual(["double 0"]);
    sheet.memo.write(input, 0, 5);
    expect(sheet.memo.read(sheet, double, 0)).toBe(10);
    expect(sheet.ran).toEqual(["double 0", "double 0"]);
  });

  test("stops where a measure comes out the same", () => {
    const sign = counted("sign", (sheet, key: number) => Math.sign(read(sheet, key)));
    const word = counted("word", (sheet, key: number) =>
      sheet.memo.read(sheet, sign, key) < 0 ? "down" : "up",
    );
    const sheet = sheetOf(3);
    expect(sheet.memo.read(sheet, word, 0)).toBe("up");
    sheet.memo.write(input, 0, 7);
    expect(sheet.memo.read(sheet, word, 0)).toBe("up");
    expect(sheet.ran).toEqual(["word 0", "sign 0", "sign 0"]);
    sheet.memo.write(input, 0, -7);
    expect(sheet.memo.read(sheet, word, 0)).toBe("down");
  });

  test("uses the measure's own likeness", () => {
    const list = counted(
      "list",
      (sheet, _: undefined) => [Math.round(read(sheet, 0))],
      (a, b) => a[0] === b[0],
    );
    const size = counted("size", (sheet, _: undefined) => sheet.memo.read(sheet, list, undefined).length);
    const sheet = sheetOf(1);
    const first = sheet.memo.read(sheet, list, undefined);
    sheet.memo.read(sheet, size, undefined);
    sheet.memo.write(input, 0, 1.2);
    expect(sheet.memo.read(sheet, list, undefined)).toBe(first);
    sheet.memo.read(sheet, size, undefined);
    expect(sheet.ran.filter((name) => name.startsWith("size"))).toHaveLength(1);
  });

  test("follows what a measure asks for now, not what it once asked for", () => {
    const chosen = counted("chosen", (sheet, _: undefined) => read(sheet, read(sheet, 0)));
    const sheet = sheetOf(1, 10, 20);
    expect(sheet.memo.read(sheet, chosen, undefined)).toBe(10);
    sheet.memo.write(input, 0, 2);
    expect(sheet.memo.read(sheet, chosen, undefined)).toBe(20);
    sheet.ran.length = 0;
    sheet.memo.write(input, 1, 11);
    expect(sheet.memo.read(sheet, chosen, undefined)).toBe(20);
    expect(sheet.ran).toEqual([]);
  });

  test("says which measure asks for itself", () => {
    const loop: MeasureDefinition<Sheet, number, number> = {
      name: "loop",
      compute: (sheet, key) => sheet.memo.read(sheet, loop, key),
    };
    const sheet = sheetOf(1);
    expect(() => sheet.memo.read(sheet, loop, 0)).toThrow('The measure "loop" asks for itself.');
  });

  test("a failing measure fails again when it is asked again, and works once its input is fixed", () => {
    const root = counted("root", (sheet, key: number) => {
      const value = read(sheet, key);
      if (value < 0) throw new Error("no root");
      return Math.sqrt(value);
    });
    const sheet = sheetOf(-1);
    expect(() => sheet.memo.read(sheet, root, 0)).toThrow("no root");
    expect(() => sheet.memo.read(sheet, root, 0)).toThrow("no root");
    sheet.memo.write(input, 0, 9);
    expect(sheet.memo.read(sheet, root, 0)).toBe(3);
    sheet.memo.write(input, 0, -4);
    expect(() => sheet.memo.read(sheet, root, 0)).toThrow("no root");
    expect(() => sheet.memo.read(sheet, root, 0)).toThrow("no root");
  });

  test("an input that is taken back has what its measure computes", () => {
    const double = counted("double", (sheet, key: number) => 2 * read(sheet, key));
    const sheet = sheetOf(4);
    expect(sheet.memo.read(sheet, double, 0)).toBe(8);
    sheet.memo.clear(sheet, input, 0);
    expect(sheet.memo.read(sheet, double, 0)).toBe(0);
    sheet.memo.write(input, 0, 5);
    expect(sheet.memo.read(sheet, double, 0)).toBe(10);
  });

  test("forgets what nobody asks for any more, and keeps what is asked for", () => {
    const double = counted("double", (sheet, key: number) => 2 * read(sheet, key));
    const newest = counted("newest", (sheet, _: undefined) =>
      sheet.memo.read(sheet, double, read(sheet, -1)),
    );
    const sheet = sheetOf(1);
    sheet.memo.write(input, -1, 0);
    for (let key = 1; key <= 5000; key++) {
      sheet.memo.write(input, key, key);
      sheet.memo.write(input, -1, key);
      sheet.memo.clear(sheet, input, key - 1);
      expect(sheet.memo.read(sheet, newest, undefined)).toBe(2 * key);
    }
    expect(sheet.memo.size).toBeLessThan(500);
    sheet.ran.length = 0;
    sheet.memo.write(input, 7, 7);
    expect(sheet.memo.read(sheet, newest, undefined)).toBe(10_000);
    expect(sheet.ran).toEqual([]);
  });

  test("after any run of edits gives what a fresh computation gives", () => {
    const sum: MeasureDefinition<Sheet, number, number> = {
      name: "sum",
      compute: (sheet, key) => (key < 0 ? 0 : read(sheet, key) + sheet.memo.read(sheet, sum, key - 1)),
    };
    const parity: MeasureDefinition<Sheet, number, number> = {
      name: "parity",
      compute: (sheet, key) => Math.abs(sheet.memo.read(sheet, sum, key) % 2),
    };
    const report: MeasureDefinition<Sheet, undefined, string> = {
      name: "report",
      compute: (sheet) => [0, 1, 2, 3].map((key) => sheet.memo.read(sheet, parity, key)).join(""),
    };
    const edit = fc.tuple(fc.nat(3), fc.integer({ min: -5, max: 5 }), fc.boolean());
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 30 }), (edits) => {
        const values = [0, 1, 2, 3];
        const sheet = sheetOf(...values);
        for (const [key, value, look] of edits) {
          values[key] = value;
          sheet.memo.write(input, key, value);
          if (!look) continue;
          const fresh = sheetOf(...values);
          expect(sheet.memo.read(sheet, report, undefined)).toBe(fresh.memo.read(fresh, report, undefined));
        }
      }),
    );
  });
});

describe("kept pieces", () => {
  interface Course {
    readonly memo: Memo;
    readonly ran: number[];
  }
  const size = 40;
  const series: MeasureDefinition<Course, undefined, readonly number[]> = {
    name: "series",
    compute: () => [],
    isBySample: true,
    isSeries: true,
    changed: (a, b) => {
      if (a.length !== b.length) return [0, Infinity];
      const from = a.findIndex((value, i) => value !== b[i]);
      return from < 0 ? null : [from, a.findLastIndex((value, i) => value !== b[i])];
    },
  };
  const factor: MeasureDefinition<Course, undefined, number> = { name: "factor", compute: () => 1 };
  /** Sums of ten samples each, in pieces that look at two more on both sides. */
  const sums: MeasureDefinition<Course, undefined, readonly number[]> = {
    name: "sums",
    compute: (course) => {
      const times = course.memo.read(course, factor, undefined);
      return Array.from({ length: size / 10 }, (_, block) => {
        const [from, to] = [10 * block - 2, 10 * block + 11];
        return course.memo.keep(course, `${block}`, from, to, [times], () => {
          course.ran.push(block);
          const all = course.memo.read(course, series, undefined);
          let sum = 0;
          for (let i = Math.max(0, from); i <= Math.min(size - 1, to); i++) sum += all[i];
          return times * sum;
        });
      });
    },
  };
  const courseOf = (values: readonly number[], times: number): Course => {
    const course: Course = { memo: new Memo(), ran: [] };
    course.memo.write(series, undefined, values);
    course.memo.write(factor, undefined, times);
    return course;
  };
  const sumsOf = (course: Course) => course.memo.read(course, sums, undefined);

  test("are done again where what they look at has changed, and nowhere else", () => {
    const values = Array.from({ length: size }, (_, i) => i);
    const course = courseOf(values, 1);
    // Where nobody says that edits are to come, pieces are kept from the first edit on only.
    course.memo.isPatching = true;
    sumsOf(course);
    expect(course.ran.splice(0)).toEqual([0, 1, 2, 3]);
    // Sample 15 is seen by one piece alone, sample 21 by two.
    course.memo.write(series, undefined, values.with(15, 0));
    sumsOf(course);
    expect(course.ran.splice(0)).toEqual([1]);
    course.memo.write(series, undefined, values.with(15, 0).with(21, 0));
    sumsOf(course);
    expect(course.ran.splice(0)).toEqual([1, 2]);
    course.memo.write(factor, undefined, 2);
    sumsOf(course);
    expect(course.ran.splice(0)).toEqual([0, 1, 2, 3]);
    expect(course.memo.work.keptPieces).toBeGreaterThan(0);
  });

  test("hold what a fresh computation gives, however many changes lie between two reads", () => {
    const change = fc.record({
      at: fc.nat(size - 1),
      value: fc.integer({ min: -3, max: 3 }),
      isRead: fc.boolean(),
      times: fc.constantFrom(1, 1, 1, 2),
    });
    fc.assert(
      fc.property(fc.array(change, { maxLength: 60 }), (changes) => {
        let values: readonly number[] = new Array(size).fill(0);
        const course = courseOf(values, 1);
        course.memo.audit = (kept, now) => expect(kept).toEqual(now);
        for (const { at, value, isRead, times } of changes) {
          values = values.with(at, value);
          course.memo.write(series, undefined, values);
          course.memo.write(factor, undefined, times);
          if (isRead) expect(sumsOf(course)).toEqual(sumsOf(courseOf(values, times)));
        }
      }),
    );
  });
});

describe("values that are brought up to date in place", () => {
  interface Course {
    readonly memo: Memo;
    /** Of each patch its first and last sample; of each computation its name. */
    readonly ran: (string | readonly [number, number])[];
    /** Whether patches end in an error half way. */
    fails?: boolean;
  }
  const size = 30;
  const differ = (a: readonly number[], b: readonly number[]): readonly [number, number] | null => {
    if (a.length !== b.length) return [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    const from = a.findIndex((value, i) => value !== b[i]);
    return from < 0 ? null : [from, a.findLastIndex((value, i) => value !== b[i])];
  };
  const series: MeasureDefinition<Course, number, readonly number[]> = {
    name: "series",
    compute: () => [],
    isBySample: true,
    changed: differ,
  };
  const factor: MeasureDefinition<Course, undefined, number> = { name: "factor", compute: () => 1 };
  const middle = (all: readonly number[], i: number) => (all[i - 1] ?? 0) + (all[i + 1] ?? 0);
  /** A factor times the sum of the samples beside each. */
  const smooth: MeasureDefinition<Course, number, number[]> = {
    name: "smooth",
    isBySample: true,
    changed: differ,
    compute: (course, key) => {
      course.ran.push("smooth");
      const all = course.memo.read(course, series, key);
      const times = course.memo.read(course, factor, undefined);
      return all.map((_, i) => times * middle(all, i));
    },
    patch: (course, key, value, from, to) => {
      course.ran.push([from, to]);
      const all = course.memo.read(course, series, key);
      const times = course.memo.read(course, factor, undefined);
      if (all.length !== value.length) return undefined;
      const before = [...value];
      for (let i = Math.max(0, from - 1); i <= Math.min(size - 1, to + 1); i++) {
        value[i] = times * middle(all, i);
        if (course.fails === true && i === from) throw new Error("half way");
      }
      return differ(before, value);
    },
  };
  /** The samples above 2 of two series that are smoothed: kept, and asked again only where these have changed. */
  const high: MeasureDefinition<Course, undefined, string> = {
    name: "high",
    compute: (course) => {
      const isHigh = (i: number) => [0, 1].some((key) => (course.memo.read(course, smooth, key)[i] ?? 0) > 2);
      const all = (from: number, to: number) =>
        Array.from({ length: to - from + 1 }, (_, k) => from + k).filter(isHigh);
      const list = course.memo.keepPatched(
        course,
        "high",
        [],
        () => all(0, size - 1),
        (kept, from, to) => {
          const fresh = [...kept.filter((i) => i < from || i > to), ...all(from, to)].sort((a, b) => a - b);
          kept.splice(0, kept.length, ...fresh);
          return [from, to];
        },
      );
      return list.join(" ");
    },
  };
  const courseOf = (values: readonly (readonly number[])[], times: number): Course => {
    const course: Course = { memo: new Memo(), ran: [] };
    for (const [key, list] of values.entries()) course.memo.write(series, key, list);
    course.memo.write(factor, undefined, times);
    course.memo.isPatching = true;
    return course;
  };
  const smoothOf = (course: Course) => [...course.memo.read(course, smooth, 0)];
  const rise = Array.from({ length: size }, (_, i) => i);

  test("come out as in a fresh memo where nobody said that edits would come, pieces of work too", () => {
    const course = courseOf([rise, rise], 1);
    course.memo.isPatching = false;
    const highOf = (of: Course) => of.memo.read(of, high, undefined);
    highOf(course);
    for (const edited of [rise.with(15, 0), rise.with(1, 9), rise]) {
      course.memo.write(series, 0, edited);
      expect(highOf(course)).toBe(highOf(courseOf([edited, rise], 1)));
    }
    expect(course.memo.work.patches).toBe(0);
  });

  test("are worked out again between the first and the last sample that has changed since, and told of there", () => {
    const course = courseOf([rise, rise], 1);
    smoothOf(course);
    course.memo.write(series, 0, rise.with(15, 0));
    course.memo.write(series, 0, rise.with(15, 0).with(17, 0));
    course.ran.length = 0;
    expect(smoothOf(course)).toEqual(smoothOf(courseOf([rise.with(15, 0).with(17, 0)], 1)));
    expect(course.ran).toEqual([[15, 17]]);
    // What asked for it gets to know, though it is the same object.
    course.memo.read(course, high, undefined);
    const { patches } = course.memo.work;
    course.memo.write(series, 0, rise);
    const fresh = courseOf([rise, rise], 1);
    expect(course.memo.read(course, high, undefined)).toBe(fresh.memo.read(fresh, high, undefined));
    expect(course.memo.work.patches).toBe(patches + 2);
  });

  test("are computed anew where something else has changed, where they cannot be patched, and after a patch that failed", () => {
    const course = courseOf([rise], 1);
    smoothOf(course);
    course.ran.length = 0;
    course.memo.write(factor, undefined, 2);
    expect(smoothOf(course)).toEqual(smoothOf(courseOf([rise], 2)));
    expect(course.ran).toEqual(["smooth"]);
    course.memo.write(series, 0, rise.slice(1));
    expect(smoothOf(course)).toEqual(smoothOf(courseOf([rise.slice(1)], 2)));
    course.memo.write(series, 0, rise.slice(1).with(3, 40));
    course.fails = true;
    expect(() => smoothOf(course)).toThrow("half way");
    course.fails = false;
    course.ran.length = 0;
    expect(smoothOf(course)).toEqual(smoothOf(courseOf([rise.slice(1).with(3, 40)], 2)));
    expect(course.ran).toEqual(["smooth"]);
  });

  test("come to what a fresh computation gives, however many changes lie between two reads", () => {
    const change = fc.record({
      key: fc.nat(1),
      at: fc.nat(size - 1),
      value: fc.integer({ min: -3, max: 3 }),
      isRead: fc.boolean(),
      times: fc.constantFrom(1, 1, 1, 1, 2),
    });
    fc.assert(
      fc.property(fc.array(change, { maxLength: 60 }), (changes) => {
        const values = [rise, rise];
        const course = courseOf(values, 1);
        course.memo.audit = (kept, now) => expect(kept).toEqual(now);
        for (const { key, at, value, isRead, times } of changes) {
          values[key] = values[key].with(at, value);
          course.memo.write(series, key, values[key]);
          if (course.memo.read(course, factor, undefined) !== times)
            course.memo.write(factor, undefined, times);
          if (!isRead) continue;
          const fresh = courseOf(values, times);
          expect(course.memo.read(course, high, undefined)).toBe(fresh.memo.read(fresh, high, undefined));
        }
      }),
    );
  });
});
