import type { CurveDocument, NodeSpec } from "../../../document/schema.ts";
import {
  along,
  type Curves,
  type DocumentOptions,
  documentOf,
  everyFrame,
  type Vector,
} from "./documents.ts";

/** A plain bird, 0.8 m from wing tip to wing tip: a body, a head and two wings of two bones each; no legs. */
const birdNodes: readonly NodeSpec[] = [
  { id: "body", translation: [0, 2, 0] },
  { id: "head", parent: "body", translation: [0, 0.05, 0.2] },
  ...(["l", "r"] as const).flatMap((letter): NodeSpec[] => {
    const sign = letter === "l" ? 1 : -1;
    return [
      { id: `wing_${letter}`, parent: "body", translation: [0.04 * sign, 0.03, 0.05] },
      { id: `wing_mid_${letter}`, parent: `wing_${letter}`, translation: [0.18 * sign, 0, 0] },
      { id: `wing_tip_${letter}`, parent: `wing_mid_${letter}`, translation: [0.18 * sign, 0, -0.02] },
    ];
  }),
];

export interface BirdMotion {
  readonly first: number;
  readonly last: number;
  /** Path of the body, metres. */
  readonly body: (frame: number) => Vector;
  /** Elevation of both wings, degrees. */
  readonly wings: (frame: number) => number;
}

/** The bird in flight, keyed on every frame. `declares` names its wings' channel as propulsors (default). */
export function birdDocument(
  { first, last, body, wings }: BirdMotion,
  options: DocumentOptions & { readonly declares?: boolean } = {},
  curves: Curves = {},
): CurveDocument {
  const { declares = true, ...rest } = options;
  return documentOf(
    birdNodes,
    {
      ...along("body", first, last, body),
      "wing_l rotation.z": everyFrame(first, last, wings),
      "wing_r rotation.z": everyFrame(first, last, (frame) => -wings(frame)),
      ...curves,
    },
    {
      range: [first, last],
      ...rest,
      more: {
        figures: [
          {
            id: "bird",
            stature: 0.8,
            parts: {
              root: "body",
              head: "head",
              leftWing: ["wing_l", "wing_mid_l", "wing_tip_l"],
              rightWing: ["wing_r", "wing_mid_r", "wing_tip_r"],
            },
          },
        ],
        ...(declares
          ? { propulsors: [{ figure: "bird", nodes: ["wing_l", "wing_r"], channel: "rotation.z" as const }] }
          : {}),
        ...rest.more,
      },
    },
  );
}
