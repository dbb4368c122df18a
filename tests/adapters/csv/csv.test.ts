import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsv, writeCsv } from "../../../packages/adapters/csv/index.ts";
import type { Curve } from "../../../packages/core/document/model.ts";

const plain = (curves: readonly Curve[] | undefined) =>
  curves?.map(({ node, channel, frames, values }) => [node, channel, [...frames], [...values]]);
const codes = (text: string) =>
  readCsv(text).problems.map(({ code, start, end }) => [code, text.slice(start, end)]);

describe("angles of a table that are keyed on every frame", () => {
  const table = (frames: readonly number[]) =>
    [
      "frame@24,arm.rotation.x,arm.rotation.y,arm.rotation.z",
      `${frames[0]},10,80,20`,
      `${frames[1]},-170,80,-160`,
    ].join("\n");

  it("are those nearest to the frame before, in the node's order", () => {
    // The turn of (−170, 80, −160)° is that of (10, 100, 20)° where y turns between the others, else another one.
    expect(plain(readCsv(table([1, 2])).shot?.curves)).toEqual([
      ["arm", "rotation.x", [1, 2], [10, 10]],
      ["arm", "rotation.y", [1, 2], [80, 100]],
      ["arm", "rotation.z", [1, 2], [20, 20]],
    ]);
    const nodes = [{ id: "arm", rotationOrder: "yxz" as const }];
    expect(readCsv(table([1, 2]), { nodes }).shot?.curves[0].values[1]).not.toBe(10);
  });

  it("stay as they are where keys are set here and there", () => {
    expect(readCsv(table([1, 3])).shot?.curves[0].values[1]).toBe(-170);
  });
});

describe("the long table", () => {
  const text =
    "frame@24000/1001,node,channel,value,interpolation\n1,hips,translation.y,95,\n9,hips,translation.y,88.5,step\n1,head,rotation.x,-3e0,\n";

  it("gives one key per row, at the place of its number", () => {
    const { shot, problems } = readCsv(text);
    expect(problems).toEqual([]);
    expect(plain(shot?.curves)).toEqual([
      ["hips", "translation.y", [1, 9], [95, 88.5]],
      ["head", "rotation.x", [1], [-3]],
    ]);
    expect(shot?.frameRate).toEqual({ numerator: 24000, denominator: 1001 });
    expect(shot?.range).toEqual([1, 9]);
    expect(shot?.header.nodes).toEqual([{ id: "hips" }, { id: "head" }]);
    expect([...(shot?.curves[0].modes ?? [])]).toEqual([1, 0]);
    const place = shot?.curves[0].place;
    expect(text.slice(place?.keyStart[1], place?.keyEnd[1])).toBe("88.5");
  });

  it("sorts keys, and knows columns in any order", () => {
    const { shot } = readCsv('value;channel;frame@25;node\n"1,5";translation.x;3;a\n2;Translation.X;1;a');
    expect(plain(shot?.curves)).toEqual([["a", "translation.x", [1, 3], [2, 1.5]]]);
  });

  it("drives a given hierarchy", () => {
    const nodes = [{ id: "hips" }, { id: "spine", parent: "hips" }];
    expect(readCsv(text, { nodes }).shot?.header.nodes).toEqual([...nodes, { id: "head" }]);
  });
});

describe("the wide table", () => {
  it("gives a curve per column, no key for an empty cell", () => {
    const text =
      'frame@24,hips.translation.y,"crew:l.arm.rotation.z",a.quaternion.x,a.quaternion.y,a.quaternion.z,a.quaternion.w\r\n1,95,,0,0,0,1\r\n2,96,-4,,,,\r\n';
    const { shot, problems } = readCsv(text);
    expect(problems).toEqual([]);
    expect(plain(shot?.curves)).toEqual([
      ["hips", "translation.y", [1, 2], [95, 96]],
      ["a", "rotation", [1], [0, 0, 0, 1]],
      ["crew:l.arm", "rotation.z", [2], [-4]],
    ]);
  });
});

describe("tables with faults", () => {
  it.each([
    ["", "empty-file"],
    ["a,b\n1,2", "column"],
  ])("%j has nothing to read", (text, code) => {
    const result = readCsv(text);
    expect(result.shot).toBeNull();
    expect(result.problems[0].code).toBe(code);
  });

  it("names each at its place, and reads the rest", () => {
    expect(codes("frame,a.translation.x\n1,2")).toEqual([["frame-rate", "frame"]]);
    expect(codes("frame@24,a.translation.x,a.colour\n1,2,3")).toEqual([["column", "a.colour"]]);
    expect(codes("frame@24,a.translation.x\none,2\n2,3")).toEqual([["frame", "one"]]);
    expect(codes("frame@24,a.translation.x\n1,two\n2,3")).toEqual([["number", "two"]]);
    expect(codes("frame@24,a.translation.x\n1,2,3\n2,3")).toEqual([["row-length", "1,2,3"]]);
    expect(codes("frame@24,a.translation.x\n1,2\n1,3")).toEqual([["duplicate-key", "3"]]);
    expect(codes("frame@24,a.quaternion.x\n1,1")).toEqual([["quaternion", "1"]]);
    expect(codes('frame@24,a.translation.x\n1,2\n2,"3')).toEqual([["quote", '"']]);
    const long = "frame@24,node,channel,value,interpolation\n";
    expect(codes(`${long}1,a,spin,2,\n2,a,translation.x,3,`)).toEqual([["channel-name", "spin"]]);
    expect(codes(`${long}1,a,translation.x,2,curvy`)).toEqual([["interpolation", "curvy"]]);
    expect(codes(`${long}1,a\n2,a,translation.x,3,`)).toEqual([["row-length", "1,a"]]);
  });
});

describe("what is written", () => {
  const key = fc.tuple(fc.integer({ min: 0, max: 500 }), fc.double({ noNaN: true, min: -1e12, max: 1e12 }));
  const keys = fc.uniqueArray(key, { minLength: 1, maxLength: 8, selector: ([frame]) => frame });
  const node = fc.string({ minLength: 1, maxLength: 8 }).map((id) => `n${id.replace(/[\r\n]/g, "_")}e`);

  it.each(["n;;e", 'n;";e', 'n";;"e', "n\t\t\te", 'n,";;;",e'])("may name a node %j", (node) => {
    const quoted = `"${node.replaceAll('"', '""')}.rotation.z"`;
    const { shot, problems } = readCsv(`frame@24,${quoted}\r\n1,2.5\r\n`);
    expect(problems).toEqual([]);
    expect(plain(shot?.curves)).toEqual([[node, "rotation.z", [1], [2.5]]]);
    // The same in a table whose cells semicolons part.
    const other = readCsv(`frame@24;${quoted};m.rotation.z\r\n1;2,5;3\r\n`);
    expect(other.problems).toEqual([]);
    expect(plain(other.shot?.curves)).toContainEqual([node, "rotation.z", [1], [2.5]]);
  });

  it.each(["long", "wide"] as const)("reads back the same (%s)", (layout) => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.tuple(node, keys), { minLength: 1, maxLength: 4, selector: ([id]) => id }),
        (made) => {
          const curves = made.map(([id, own]): Curve => {
            const sorted = [...own].sort(([a], [b]) => a - b);
            return {
              node: id,
              channel: "rotation.z",
              interpolation: "linear",
              width: 1,
              frames: Float64Array.from(sorted, ([frame]) => frame),
              values: Float64Array.from(sorted, ([, value]) => value + 0),
              modes: new Uint8Array(sorted.length).fill(1),
              handles: null,
              ownModes: null,
              place: null,
            };
          });
          const text = writeCsv(
            {
              header: { format: "keyside.curves", version: 1, shot: { frameRate: "24000/1001" }, nodes: [] },
              frameRate: { numerator: 24000, denominator: 1001 },
              range: [0, 500],
              curves,
            },
            layout,
          );
          const { shot, problems } = readCsv(text);
          expect(problems).toEqual([]);
          expect(shot?.frameRate).toEqual({ numerator: 24000, denominator: 1001 });
          const byNode = (list: typeof curves | readonly Curve[]) =>
            new Map(plain(list)?.map((one) => [one[0], one]));
          expect(byNode(shot?.curves ?? [])).toEqual(byNode(curves));
        },
      ),
    );
  });
});
