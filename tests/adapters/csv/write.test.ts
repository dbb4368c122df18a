import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadOptions, WriteOptions } from "../../../packages/adapters/adapter.ts";
import { csvAdapter } from "../../../packages/adapters/csv/adapter.ts";
import { readTable } from "../../../packages/adapters/csv/table.ts";
import { Problems } from "../../../packages/adapters/problems.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { anyShot } from "../../support/any-shot.ts";
import { worldDistance } from "../../support/world-distance.ts";

const bytes = (content: string | Uint8Array) =>
  typeof content === "string" ? new TextEncoder().encode(content) : content;

/** A shot as tables, and those read again. */
async function again(shot: Shot, options: Omit<WriteOptions, "file"> = {}) {
  const { files, lost } = (await csvAdapter.write?.(shot, { file: "a.csv", ...options })) ?? {
    files: [],
    lost: [],
  };
  const table = files[0].content as string;
  const told: ReadOptions = { file: "a.csv" };
  const found = new Map(files.map(({ name, content }) => [name, bytes(content)]));
  const result = csvAdapter.readText?.(table, (name) => found.get(name) ?? { why: "none" }, told);
  expect(result?.problems).toEqual([]);
  return { shot: result?.shot as Shot, lost, files, table };
}

/** What of a curve means something. */
const essence = ({ node, channel, frames, values, modes, handles }: Curve) => ({
  node,
  channel,
  frames: [...frames],
  values: [...values],
  modes: [...modes],
  handles: handles?.every(Number.isNaN) === false ? [...handles] : null,
});

const styles = fc.record({ decimalComma: fc.boolean(), safeCells: fc.boolean() });

describe("tables that are written", () => {
  it("hold keys with their handles, and nodes, without any loss (long)", async () => {
    await fc.assert(
      fc.asyncProperty(anyShot(), styles, async (shot, style) => {
        const { shot: read, lost } = await again(shot, style);
        expect(lost).toEqual([]);
        expect(read.curves.map(essence)).toEqual(shot.curves.map(essence));
        expect(read.header.nodes).toEqual(shot.header.nodes);
        expect(read.header.space).toEqual(shot.header.space);
        expect(read.header.shot.name).toBe("any");
        expect([read.range, read.frameRate]).toEqual([shot.range, shot.frameRate]);
        expect(worldDistance(shot, read)).toBe(0);
      }),
      { numRuns: 60 },
    );
  });

  it("hold the poses of all frames (wide, or baked)", async () => {
    const layout = fc.constantFrom(
      { layout: "wide" as const },
      { isBaked: true },
      { layout: "wide" as const, isBaked: true },
    );
    await fc.assert(
      fc.asyncProperty(anyShot(), styles, layout, async (shot, style, how) => {
        const { shot: read } = await again(shot, { ...style, ...how });
        expect(worldDistance(shot, read)).toBeLessThan(1e-9);
      }),
      { numRuns: 40 },
    );
  });

  it("are cut into the same cells by a general library", async () => {
    await fc.assert(
      fc.asyncProperty(
        anyShot(),
        styles,
        fc.constantFrom("long" as const, "wide" as const),
        async (shot, style, layout) => {
          const { files } = await again(shot, { ...style, layout });
          for (const { content } of files) {
            const delimiter = style.decimalComma ? ";" : ",";
            const theirs = parse(content as string, { delimiter, relax_column_count: true });
            const ours = readTable(content as string, new Problems()).rows.map((row) =>
              row.map(({ text }) => text),
            );
            expect(ours).toEqual(theirs);
          }
        },
      ),
      { numRuns: 20 },
    );
  });

  it("keep names of all kinds, whatever part cells", async () => {
    const shot = fc.sample(anyShot(), { numRuns: 1, seed: 5 })[0];
    const names = ['a,"b"', "c;d\te", " blank ", "=sum(1)", "x\r\ny", "ü"];
    const nodes = names.map((id, i) => ({ id, ...(i === 0 ? {} : { parent: names[i - 1] }) }));
    const curves = names.map(
      (node): Curve => ({
        ...{ node, channel: "rotation.x", interpolation: "linear", width: 1 },
        ...{ frames: Float64Array.of(1, 9), values: Float64Array.of(0.1, 1e-7), modes: Uint8Array.of(1, 1) },
        ...{ handles: null, ownModes: null, place: null },
      }),
    );
    const named = { ...shot, header: { ...shot.header, nodes }, curves };
    for (const decimalComma of [false, true]) {
      const { shot: read } = await again(named, { decimalComma });
      expect(read.header.nodes).toEqual(nodes);
      expect(read.curves.map(essence)).toEqual(curves.map(essence));
    }
  });

  it("say what they could not carry", async () => {
    const shot = fc
      .sample(anyShot(), { numRuns: 40, seed: 7 })
      .find(({ curves }) => curves.some(({ modes }) => modes.length > 1 && modes[0] !== 1)) as Shot;
    const { lost } = await again(shot, { layout: "wide" });
    expect(lost.join()).toMatch(/written frame by frame/);
  });
});

describe("the table of nodes", () => {
  const read = (nodes: string, keys = "frame@24,a.rotation.x\n1,0\n2,3\n") =>
    csvAdapter.readText?.(keys, () => bytes(nodes), { file: "walk.csv" });

  it("may hold little", () => {
    const { shot, problems } = read("parent;node;translation.y\n;a;\na;b;1,5\n") ?? {};
    expect(problems).toEqual([]);
    expect(shot?.header.nodes).toEqual([{ id: "a" }, { id: "b", parent: "a", translation: [0, 1.5, 0] }]);
    expect(shot?.header.space).toEqual({ angle: "degrees" });
  });

  it("tells its faults with its own name and line", () => {
    const told = (nodes: string) => read(nodes)?.problems.map(({ message }) => message);
    expect(told("name\na\n")).toEqual([
      'walk.nodes.csv, line 1: The table has no column "node"; name it in the first line.',
    ]);
    expect(told("node,parent\na,c\n")).toEqual([
      'walk.nodes.csv, line 1: The parent "c" of "a" has no row; the node is taken for a root.',
    ]);
    expect(told("node,translation.x,rotationOrder\na,far,zzz\na,1,\n,2,\n")).toEqual([
      'walk.nodes.csv, line 2: "zzz" is no rotationOrder (xyz, xzy, yxz, yzx, zxy, zyx); it is left out.',
      'walk.nodes.csv, line 2: "far" is no number; it is left out.',
      'walk.nodes.csv, line 3: "a" has a row already.',
      "walk.nodes.csv, line 4: This row names no node; it is passed over.",
    ]);
  });

  it("is not asked for where a table has no name", () => {
    expect(csvAdapter.needs?.(bytes(""), {})).toEqual([]);
    expect(csvAdapter.needs?.(bytes(""), { file: "Walk.CSV" })).toEqual(["Walk.nodes.csv"]);
  });
});

it("all interpolations that are written are read", () => {
  const rows = ["step", "linear", "smooth", "bezier", "cubic"].map(
    (mode, i) => `${i + 1},a,rotation.x,${i},${mode}`,
  );
  const { shot, problems } =
    csvAdapter.readText?.(
      `frame@24,node,channel,value,interpolation\n${rows.join("\n")}\n`,
      () => ({ why: "" }),
      {},
    ) ?? {};
  expect(problems).toEqual([]);
  expect([...(shot?.curves[0].modes ?? [])]).toEqual([0, 1, 2, 3, 4]);
});

it("the adapter of tables knows its files by their bytes", () => {
  for (const head of ["frame@24,a.rotation.x\n", "node;channel;frame;value\n", '"frame"\tx\n']) {
    expect(csvAdapter.detect(bytes(head)), head).toBe(true);
  }
  expect(csvAdapter.detect(bytes("HIERARCHY\n"))).toBe(false);
});
