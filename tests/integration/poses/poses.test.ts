import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Channel, channels, interpolations } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { rotationOrders } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { rigOf, worldOf } from "../../../packages/core/index.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";

/**
 * docs/poses.md is enough to pose a document: poses.py follows that page alone, shares nothing with this program, and is
 * held against its poses here.
 */

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

interface Posed {
  readonly position: readonly (readonly number[])[];
  readonly orientation: readonly (readonly number[])[];
}

/** What the program in Python makes of documents at frames. */
function posedElsewhere(
  jobs: readonly { document: unknown; frames: readonly number[] }[],
): Promise<Record<string, Posed>[]> {
  return new Promise((done, fail) => {
    const child = spawn("python3", [at("poses.py")]);
    let [out, err] = ["", ""];
    child.stdout.setEncoding("utf8").on("data", (piece: string) => {
      out += piece;
    });
    child.stderr.setEncoding("utf8").on("data", (piece: string) => {
      err += piece;
    });
    child.on("error", fail);
    child.on("close", (code) =>
      code === 0 ? done(JSON.parse(out) as Record<string, Posed>[]) : fail(new Error(err)),
    );
    child.stdin.end(JSON.stringify(jobs));
  });
}

const settings = resolveSettings(registry);

function posedHere(document: unknown) {
  const { shot } = shotOf(document as Parameters<typeof shotOf>[0]);
  if (shot === null) throw new Error("the document cannot be read");
  const study = studyOf(shot, settings);
  const frames = [...gridOf(study).frames];
  const rig = rigOf(study);
  return { frames, ids: rig.ids, worlds: rig.ids.map((_, node) => worldOf(study, node)) };
}

/** The largest difference of positions, as a share of the farthest from the origin, and of orientations, in radians. */
async function differences(
  documents: readonly unknown[],
): Promise<{ position: number; turn: number; compared: number }> {
  const here = documents.map(posedHere);
  const there = await posedElsewhere(documents.map((document, i) => ({ document, frames: here[i].frames })));
  const worst = { position: 0, turn: 0, compared: 0 };
  here.forEach(({ frames, ids, worlds }, i) => {
    const size = Math.max(
      1e-3,
      ...worlds.map(({ position }) => position.reduce((a, b) => Math.max(a, Math.abs(b)), 0)),
    );
    ids.forEach((id, node) => {
      const other = there[i][id];
      for (let k = 0; k < frames.length; k++) {
        const dot = [0, 1, 2, 3].map((c) => other.orientation[k][c] * worlds[node].orientation[4 * k + c]);
        // Of unit quaternions: the chord between them or their negatives, which keeps its digits near 0.
        const same = Math.sign(dot.reduce((a, b) => a + b)) || 1;
        const chord = Math.hypot(
          ...[0, 1, 2, 3].map((c) => same * other.orientation[k][c] - worlds[node].orientation[4 * k + c]),
        );
        const off = Math.hypot(
          ...[0, 1, 2].map((c) => other.position[k][c] - worlds[node].position[3 * k + c]),
        );
        worst.position = Math.max(worst.position, off / size);
        worst.turn = Math.max(worst.turn, 2 * chord);
        worst.compared++;
      }
    });
  });
  return worst;
}

/** Numbers as a document would have them: a slope of 1e-300 frames is endless, and tells nothing of the page. */
const number = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((value) => Math.round(1e6 * value) / 1e6);
const triple = (low: number, high: number) =>
  fc.tuple(number(low, high), number(low, high), number(low, high));
const quaternion = fc
  .tuple(number(-1, 1), number(-1, 1), number(-1, 1), number(-1, 1))
  .filter((q) => Math.hypot(...q) > 0.1);

/**
 * A handle of a key: left out, one number, or a pair that may point back or reach beyond its neighbour. Where both
 * handles of a segment fill it, the curve is upright in its middle and rounding decides: only even keys have long ones
 * in front and odd ones behind, so that this does not happen.
 */
const handle = (side: 1 | -1, long: boolean) =>
  fc.oneof(
    fc.constant(undefined),
    number(-2, 2),
    fc.tuple(number(-1, long ? 30 : 0.9), number(-20, 20)).map(([run, rise]) => [side * run, rise]),
    fc.constant([0, 3]),
  );

const scalarKey = (index: number, low: number, high: number) =>
  fc
    .record({
      value: fc.oneof(number(low, high), fc.constant(low)),
      interpolation: fc.option(fc.constantFrom(...interpolations), { nil: undefined }),
      in: handle(-1, index % 2 === 1),
      out: handle(1, index % 2 === 1),
    })
    .map(({ value, ...more }) => ({ value: value as number | readonly number[], more }));

const turnKey = fc
  .record({
    value: quaternion,
    interpolation: fc.option(fc.constantFrom(...interpolations), { nil: undefined }),
    in: fc.option(fc.tuple(number(-0.2, 0.2), number(-0.2, 0.2), number(-0.2, 0.2), number(-0.2, 0.2)), {
      nil: undefined,
    }),
    out: fc.option(fc.tuple(number(-0.2, 0.2), number(-0.2, 0.2), number(-0.2, 0.2), number(-0.2, 0.2)), {
      nil: undefined,
    }),
  })
  .map(({ value, ...more }) => ({ value: value as number | readonly number[], more }));

const curve = (node: string, channel: Channel) => {
  const [low, high] = channel.startsWith("scale")
    ? [-1.5, 2]
    : channel.startsWith("rotation")
      ? [-300, 300]
      : [-3, 3];
  const keys = fc
    .tuple(
      ...Array.from({ length: 6 }, (_, i) => (channel === "rotation" ? turnKey : scalarKey(i, low, high))),
    )
    .chain((made) =>
      fc
        .record({
          count: fc.integer({ min: 0, max: 6 }),
          gaps: fc.array(fc.oneof(fc.integer({ min: 1, max: 7 }), number(1, 6)), {
            minLength: 6,
            maxLength: 6,
          }),
          start: fc.integer({ min: -3, max: 4 }),
          turned: fc.boolean(),
          doubled: fc.boolean(),
        })
        .map(({ count, gaps, start, turned, doubled }) => {
          let frame = start;
          const list = made.slice(0, count).map(({ value, more }, i) => {
            if (i > 0) frame += gaps[i];
            const given = Object.fromEntries(Object.entries(more).filter(([, of]) => of !== undefined));
            return Object.keys(given).length === 0 ? [frame, value] : [frame, value, given];
          });
          if (doubled && list.length > 1) list.splice(1, 0, [list[1][0], list[0][1]]);
          return turned ? list.reverse() : list;
        }),
    );
  return fc
    .record({ keys, interpolation: fc.option(fc.constantFrom(...interpolations), { nil: undefined }) })
    .map((of) => JSON.parse(JSON.stringify({ node, channel, ...of })));
};

const documents = fc.integer({ min: 1, max: 5 }).chain((count) =>
  fc
    .record({
      nodes: fc.tuple(
        ...Array.from({ length: count }, (_, i) =>
          fc.record(
            {
              id: fc.constant(`n${i}`),
              parent: fc.constantFrom("missing", ...Array.from({ length: i }, (_, k) => `n${k}`)),
              translation: triple(-2, 2),
              rotation: triple(-200, 200),
              scale: triple(-1.5, 2),
              fixedRotation: quaternion,
              rotationOrder: fc.constantFrom(...rotationOrders),
            },
            { requiredKeys: ["id"] },
          ),
        ),
      ),
      curves: fc
        .array(fc.tuple(fc.nat(count - 1), fc.constantFrom(...channels)), { maxLength: 7 })
        .chain((heads) => fc.tuple(...heads.map(([node, channel]) => curve(`n${node}`, channel)))),
      space: fc.record(
        {
          metresPerUnit: fc.constantFrom(1, 0.01, 0.0254),
          up: fc.constantFrom("x", "y", "z"),
          angle: fc.constantFrom("degrees", "radians"),
        },
        { requiredKeys: ["metresPerUnit"] },
      ),
      turned: fc.boolean(),
    })
    .map(({ nodes, turned, ...more }) => ({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24, range: [-4, 30] },
      nodes: turned ? [...nodes].reverse() : nodes,
      ...more,
    })),
);

test("a program written from docs/poses.md gets the poses of the demo shots", async () => {
  const texts = ["jetty_0040_v1", "quay_0070_v1", "steps_0110_v1"].map((name) =>
    readFileSync(at(`../../../demo/shots/${name}.curves.json`), "utf8"),
  );
  const { position, turn, compared } = await differences(texts.map((text) => JSON.parse(text)));
  expect(compared).toBeGreaterThan(10_000);
  expect(position).toBeLessThan(1e-9);
  expect(turn).toBeLessThan(1e-7);
}, 60_000);

test("and of documents with every interpolation, odd handles and odd hierarchies", async () => {
  for (let round = 0; round < 4; round++) {
    const made = fc.sample(documents, 40);
    const worst = await differences(made);
    if (worst.position > 1e-9 || worst.turn > 1e-7) {
      for (const document of made) {
        const own = await differences([document]);
        expect(
          own.position > 1e-9 || own.turn > 1e-7 ? { own, document: JSON.stringify(document) } : {},
        ).toEqual({});
      }
    }
  }
}, 120_000);
