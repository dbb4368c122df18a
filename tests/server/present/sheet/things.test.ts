import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Study } from "../../../../packages/core/base/study.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { examples } from "../../../../packages/core/faults/examples.ts";
import { bodyOf, poseOf } from "../../../../packages/server/present/sheet/draw/body.ts";
import {
  drawnChanges,
  drawnEdges,
  drawnThing,
  drawnThingsOf,
  thingsAt,
} from "../../../../packages/server/present/sheet/draw/things.ts";
import { fromTheSide } from "../../../../packages/server/present/sheet/draw/view.ts";
import { makeSheet } from "../../../../packages/server/present/sheet/make.ts";
import { drawnOf } from "../../../../packages/server/present/sheet/moving.ts";
import { sheetPage } from "../../../../packages/server/present/sheet/page.ts";
import { Points } from "../../../../packages/server/present/sheet/points.ts";
import { bipedDocument, documentOf, everyFrame, studyOf } from "../../../support/shots.ts";
import { judged, unbalanced } from "./shots.ts";

type Shapes = NonNullable<CurveDocument["nodes"][number]["shapes"]>;
/** Looks along −z, 100 pixels a metre, y down. */
const front = fromTheSide(1, 0);
const placing = {
  scale: 100,
  place: ([x, y]: readonly [number, number]) => [100 * x, -100 * y] as const,
};

const withShapes = (shapes: Shapes, more: Partial<CurveDocument> = {}, at = (_: number) => 0) =>
  studyOf(documentOf([{ id: "box", shapes }], { "box translation.x": everyFrame(1, 10, at) }, { more }));

describe("the outline of a thing", () => {
  test("is the faces of a box that look this way: one of a box seen square, three of one that is turned", () => {
    const faces = (rotation: [number, number, number, number]) => {
      const study = withShapes([{ kind: "box", size: [1, 1, 1], rotation }]);
      const [seen] = thingsAt(study, front, 0);
      return (drawnThing(seen, placing).match(/M/g) ?? []).length;
    };
    expect(faces([0, 0, 0, 1])).toBe(1);
    expect(faces([0.3, 0.4, 0.1, 0.86])).toBe(3);
  });

  test("holds each place of a capsule, and goes out to its radius", () => {
    const study = withShapes([{ kind: "capsule", radius: 0.1, from: [0, 0, 0], to: [0.5, 0, 0] }]);
    const [seen] = thingsAt(study, front, 0);
    const numbers = [...drawnThing(seen, placing).matchAll(/[MAL ](-?[\d.]+) (-?[\d.]+)(?=[AZL]|$)/g)];
    expect(numbers.map(([, x, y]) => [Number(x), Number(y)])).toEqual(
      expect.arrayContaining([
        [0, 10],
        [0, -10],
        [50, -10],
        [50, 10],
      ]),
    );
  });

  test("is one disc where a ball hides the other", () => {
    const study = withShapes([{ kind: "capsule", radius: 0.1, from: [0, 0, 0], to: [0, 0, -1] }]);
    const [seen] = thingsAt(study, front, 0);
    expect(drawnThing(seen, placing)).toMatch(/d="M-10 0a10 10 /);
  });

  test("has no numbers that are none, whatever the shape", () => {
    const number = fc.double({ min: -1, max: 1, noNaN: true });
    const place = fc.tuple(number, number, number);
    fc.assert(
      fc.property(place, place, fc.double({ min: 0.001, max: 1, noNaN: true }), (from, to, radius) => {
        const [seen] = thingsAt(withShapes([{ kind: "capsule", radius, from, to }]), front, 0);
        expect(drawnThing(seen, placing)).not.toMatch(/NaN|Infinity/);
      }),
    );
  });
});

describe("what is drawn beside figures", () => {
  test("is left out where it is hidden, and a prop without a shape is a mark", () => {
    const study = studyOf(
      documentOf(
        [
          { id: "lamp", visible: [[3, 10]], shapes: [{ kind: "sphere", radius: 0.1 }] },
          { id: "cup", translation: [1, 0, 0] },
        ],
        { "lamp translation.x": everyFrame(1, 10, () => 0) },
        { more: { props: [{ node: "cup" }] } },
      ),
    );
    expect(drawnThingsOf(study)).toHaveLength(2);
    expect(thingsAt(study, front, 0)).toHaveLength(1);
    expect(thingsAt(study, front, 2)).toHaveLength(2);
    expect(drawnThing(thingsAt(study, front, 0)[0], placing)).toMatch(/<rect .*x="96.5"/);
  });

  test("of a body, what is hidden is left out, and the player is told of it", () => {
    const document = bipedDocument({}, { range: [1, 10] });
    const hiding = (id: string) =>
      studyOf({
        ...document,
        nodes: document.nodes.map((node) => (node.id === id ? { ...node, visible: [[4, 10]] } : node)),
      });
    const bonesAt = (study: Study, sample: number) =>
      poseOf(study, bodyOf(study, 0), front, sample)?.bones.length ?? Number.NaN;
    const arm = hiding("forearm_l");
    const all = bonesAt(studyOf(document), 0);
    expect(bonesAt(arm, 3)).toBe(all);
    expect(bonesAt(arm, 0)).toBeLessThan(all);
    expect(bonesAt(arm, 0)).toBeGreaterThan(all / 2);
    expect(bonesAt(hiding("hips"), 0)).toBe(0);
    const [figure] = drawnOf(arm, "arm", new Points()).figures;
    expect(figure.hidden).toHaveLength(1);
    expect(figure.hidden?.[0].seen).toEqual([[3, 9]]);
    expect(figure.hidden?.[0].bones).toHaveLength(all - bonesAt(arm, 0));
    expect(drawnOf(studyOf(document), "all", new Points()).figures[0].hidden).toBeUndefined();
  });

  test("surfaces by their edges", () => {
    const surfaces: CurveDocument["surfaces"] = [
      { id: "floor", height: 0 },
      {
        id: "table",
        height: 0.7,
        edges: [
          [-1, -1],
          [1, 1],
        ],
      },
    ];
    const edges = drawnEdges(withShapes([], { surfaces }), front, 0, placing);
    expect(edges).toHaveLength(1);
    expect(edges[0]).toContain("-100 -70");
  });

  test("what a fix moves is drawn again, dashed; what stays is not", () => {
    const ball: Shapes = [{ kind: "sphere", radius: 0.1 }];
    const [before, moved] = [withShapes(ball), withShapes(ball, {}, () => 0.2)].map((study) =>
      thingsAt(study, front, 0),
    );
    expect(drawnChanges(before, moved, placing)).toContain("fixed-thing");
    expect(drawnChanges(before, before, placing)).toBe("");
  });
});

test("a sheet shows the prop of a note in the hands that hold it, before the fix and after it", async () => {
  const version = await judged(examples["no-load"].faulty[0].motion());
  const html = sheetPage(makeSheet(version, { previous: null, fixes: true, lightest: "polish" }));
  expect(unbalanced(html)).toBeNull();
  const from = html.indexOf("<h3>No load");
  const item = html.slice(from, html.indexOf("</li>", from));
  const poses = item.slice(item.indexOf('class="poses"'), item.indexOf('class="over-time"'));
  expect(poses.match(/class="thing"/g)?.length).toBe(poses.match(/class="body"/g)?.length);
  expect(poses).toContain("fixed-thing");
});
