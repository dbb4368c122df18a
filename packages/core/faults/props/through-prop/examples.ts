import type { CurveDocument, NodeSpec, ShapeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { along, bipedDocument, type Curves, documentOf, eased } from "../../shared/examples/motions.ts";
import { holdingDocument, swing } from "../shared/held-motions.ts";
import { throughProp } from "./check.ts";

/** Half a crate's side, and the height of a table, metres. */
const half = 0.15;
const tableHeight = 0.7;

const crate: NodeSpec = { id: "crate", shapes: [{ kind: "box", size: [0.3, 0.3, 0.3] }] };
const table: NodeSpec = {
  id: "table",
  translation: [0, tableHeight / 2, 0],
  shapes: [{ kind: "box", size: [1.2, tableHeight, 0.8] }],
};
const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 };

/** A crate that comes down onto what is so high, and so many metres too deep. */
function setDown(onto: number, depth: number, nodes: readonly NodeSpec[], more: object = {}): CurveDocument {
  const height = eased(8, 28, onto + half + 0.4, onto + half - depth);
  return documentOf(
    [...nodes],
    along("crate", 1, 48, (frame) => [0, height(frame), 0]),
    { range: [1, 48], more },
  );
}

const onTable = (depth: number, more: object = {}) => setDown(tableHeight, depth, [crate, table], more);
/** A crate in the air, so high over the floor. */
const onFloor = (depth: number, more: object = {}) =>
  setDown(0, depth, [crate], { surfaces: [floor], ...more });

/** A post beside a body whose left arm swings forward from the side, so many metres ahead of the shoulder. */
function swungAt(ahead: number, curves: Curves = swing): CurveDocument {
  const document = holdingDocument(curves, [1, 60], { node: "cup", path: (_, hand) => hand.at(1) });
  const post: NodeSpec = {
    id: "post",
    translation: [0.5, 0, ahead],
    shapes: [{ kind: "capsule", radius: 0.05, from: [0, 0, 0], to: [0, 1.6, 0] }],
  };
  return { ...document, nodes: [...document.nodes, post] };
}

/** A crate that sinks into the floor, seen until it is as deep as 5 mm, or all through. */
const putAway = (visible?: [number, number][]) => {
  const document = onFloor(0.06);
  return visible === undefined
    ? document
    : { ...document, nodes: document.nodes.map((node) => ({ ...node, visible })) };
};

/** A crate that flickers while it glides along, 6 cm of it in the floor from a frame on; before that it stands on it. */
const gliding = (sinks: number) =>
  documentOf(
    [
      {
        ...crate,
        visible: [
          [1, 12],
          [15, 20],
          [24, 48],
        ],
      },
    ],
    along("crate", 1, 48, (frame) => [0.02 * frame, half - (frame < sinks ? 0 : 0.06), 0]),
    { range: [1, 48], more: { surfaces: [floor] } },
  );

const handle: ShapeSpec = { kind: "box", size: [0.12, 0.12, 0.12] };

export const throughPropExamples = defineExamples(throughProp, {
  // 1.25 % of 1.7 m are 2.1 cm.
  faulty: [
    {
      title: "a crate that is set down 8 cm into a table",
      motion: () => onTable(0.08),
      right: () => onTable(0),
      note: {
        node: "crate",
        frames: [23, 48],
        key: { node: "crate", channel: "translation.y" },
        measured: 0.08,
      },
    },
    {
      title: "a crate that is set down 6 cm through the floor",
      motion: () => onFloor(0.06),
      right: () => onFloor(0),
      note: {
        node: "crate",
        frames: [24, 48],
        key: { node: "crate", channel: "translation.y" },
        measured: 0.06,
      },
    },
    {
      title: "an arm that swings through a post",
      motion: () => swungAt(0.3),
      right: () => swungAt(0.9),
      unfixed: "an arm whose whole swing goes through has to go another way",
      note: {
        node: "forearm_l",
        frames: [24, 26],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        // Its radius of 5 cm and that of a forearm, 2.2 % of 1.7 m, but for what the frames miss.
        measured: 0.0865,
      },
    },
  ],
  silent: [
    { title: "a crate that stands on a table", motion: () => onTable(0) },
    { title: "a depth within the tolerance", motion: () => onTable(0.015) },
    { title: "a crate that stands on the floor", motion: () => onFloor(0) },
    {
      title: "a crate that is in the floor wherever it is seen, and flickers",
      motion: () => gliding(1),
      unexcused: () => gliding(8),
    },
    {
      title: "a hand in what it holds",
      motion: () =>
        holdingDocument(swing, [1, 60], {
          node: "cup",
          path: (frame, hand) => hand.point(frame, [0.05, 0, 0]),
          shapes: [handle],
        }),
    },
    {
      title: "a rail that leans on a thigh with a shape of its own, which gives way by half of it",
      motion: () => leant(0.05),
      unexcused: () => leant(0.02),
    },
    {
      title: "a thing that goes into a box, as the document says",
      motion: () => onTable(0.2, { contacts: [{ node: "crate", with: "table", frames: [1, 48] }] }),
      unexcused: () => onTable(0.2),
    },
    {
      title: "a thing that is hidden before it goes through the floor",
      motion: () => putAway([[1, 22]]),
      unexcused: () => putAway(),
    },
    {
      title: "a thing that lies in another and is taken out",
      motion: () =>
        documentOf(
          [crate, table],
          along("crate", 1, 48, (frame) => [0, eased(12, 30, tableHeight, 1.3)(frame), 0]),
          { range: [1, 48] },
        ),
    },
    {
      title: "what falls past the edge of a table that is a surface",
      motion: () => edged(0.8),
      unexcused: () => edged(0.2),
    },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "crate",
    frames: [64, 80],
    slip: "a shelf stands where the porter comes to with the crate, which goes into it",
    replace: [
      `{ "id": "crate", "translation"`,
      `{ "id": "shelf", "translation": [0, 60, 158], "shapes": [{ "kind": "box", "size": [120, 120, 50] }] },\n    { "id": "crate", "shapes": [{ "kind": "box", "size": [40, 30, 30] }], "translation"`,
    ],
  },
  picture: { draws: "courses", nodes: ["crate", "table"], of: "height" },
});

/** A crate that sinks from over the level of a table top to under it, so far from its middle; the top ends at 0.5 m. */
function edged(away: number): CurveDocument {
  const top = { id: "top", normal: [0, 1, 0] as [number, number, number], height: tableHeight };
  const surfaces = [
    floor,
    {
      ...top,
      edges: [
        [-0.5, -0.5],
        [0.5, 0.5],
      ] as [number, number][],
    },
  ];
  const height = eased(8, 40, tableHeight + 0.4, half);
  return documentOf(
    [crate],
    along("crate", 1, 48, (frame) => [away, height(frame), 0]),
    { range: [1, 48], more: { surfaces } },
  );
}

/** A rail as thick as 4 cm that comes to a standing body's left thigh, 14 cm thick, until its middle is so far ahead of the bone. */
function leant(ahead: number): CurveDocument {
  const standing = bipedDocument({}, { range: [1, 48] });
  const flesh: ShapeSpec = { kind: "capsule", radius: 0.07, from: [0, 0, 0], to: [0, -0.42, 0] };
  const rail: NodeSpec = {
    id: "rail",
    shapes: [{ kind: "capsule", radius: 0.02, from: [-0.5, 0, 0], to: [0.5, 0, 0] }],
  };
  const way = documentOf(
    [],
    along("rail", 1, 48, (frame) => [0, 0.7, eased(8, 28, 0.5, ahead)(frame)]),
  );
  const nodes = standing.nodes.map((node) => (node.id === "thigh_l" ? { ...node, shapes: [flesh] } : node));
  return { ...standing, nodes: [...nodes, rail], curves: way.curves };
}
