import type { CurveDocument } from "../../../document/schema.ts";
import { bipedDocument, type Curves, type DocumentOptions } from "../../shared/examples/motions.ts";

/** Where a camera stands, metres, and how it is turned, degrees about y. */
export interface Eye {
  readonly at: readonly [number, number, number];
  readonly yaw?: number;
  readonly fieldOfView?: number;
}

/** From the front: the whole figure, and a third as much again. */
export const fromTheFront: Eye = { at: [0, 1, 5] };
/** From the figure's left side. */
export const fromTheLeft: Eye = { at: [5, 1, 0], yaw: 90 };

/** The biped as a camera sees it; without one where none is given. */
export function stagedDocument(
  curves: Curves,
  eye: Eye | null = fromTheFront,
  { more, ...options }: DocumentOptions = {},
): CurveDocument {
  const { unit = 1 } = options;
  const cameras =
    eye === null
      ? {}
      : {
          cameras: [
            { id: "shotcam", node: "eye", verticalFieldOfView: eye.fieldOfView ?? 30, aspect: 16 / 9 },
          ],
        };
  const document = bipedDocument(curves, { ...options, more: { ...cameras, ...more } });
  const { at, yaw = 0 } = eye ?? fromTheFront;
  document.nodes.push({
    id: "eye",
    translation: [at[0] / unit, at[1] / unit, at[2] / unit],
    rotation: [0, yaw, 0],
  });
  return document;
}

/**
 * A piece of a demo shot in centimetres, and what stands for it so that the shot has a camera.
 * @param at where it stands, in the shot's units
 * @param yaw degrees about y
 */
export function withCamera(
  at: readonly [number, number, number],
  yaw: number,
  fieldOfView = 34,
): [string, string] {
  const camera = `{ "id": "shotcam", "node": "eye", "verticalFieldOfView": ${fieldOfView}, "aspect": 1.7778 }`;
  const node = `{ "id": "eye", "translation": [${at.join(", ")}], "rotation": [0, ${yaw}, 0] }`;
  return [`"nodes": [\n`, `"cameras": [\n    ${camera}\n  ],\n  "nodes": [\n    ${node},\n`];
}

/**
 * A piece of a demo shot, and what stands for it so that a camera sees its first node in a colour before another one.
 * @param eye as of {@link withCamera}
 * @param more further nodes, as text
 */
export function withColours(
  [, eye]: readonly [string, string],
  { first, own, behind, more = "" }: { first: string; own: string; behind: string; more?: string },
): [string, string] {
  const painted = eye.replace(`"aspect": 1.7778 }`, `"aspect": 1.7778, "background": "${behind}" }`);
  return [
    `"nodes": [\n    { "id": "${first}",`,
    `${painted}${more}    { "id": "${first}", "colour": "${own}",`,
  ];
}
