import type { CurveDocument } from "../../../document/schema.ts";
import { eased, everyFrame } from "./documents.ts";
import { motionDocument, standing, standingHips } from "./legs.ts";

/**
 * Someone who sits down on a chair behind the feet, sits, leans and rises again, frames 1 to 160: hips' joints come to 0.057
 * of 1.7 m over the seat, as bodies are built. It sits from about frame 38 to about frame 108.
 */

export interface Chair {
  /** Height of the seat, metres. */
  readonly seat: number;
  /** Whether the weight moves over the feet before the seat is left, or stays behind them until the hips are up. */
  readonly rises: "over the feet" | "behind the feet";
  /** Whether the trunk bows over the feet on the way down, as it does if left out, or is let down upright behind them. */
  readonly sits?: "bowed" | "upright";
  /** What is declared of it: the box of a prop, a surface with edges, or nothing. */
  readonly as: "prop" | "surface" | "nothing";
}

const front = -0.18;
const rear = -0.62;
/** From the hips' node down to its joints, 0.02 m, and on to the seat. */
const overSeat = 0.02 + 0.057 * 1.7;
const behind = -0.36;
/** As high as the hips get over feet that are so far ahead, without a leg at full stretch. */
const halfUp = 0.8;

export function chairDocument({ seat, rises, sits = "bowed", as }: Chair): CurveDocument {
  const low = seat + overSeat;
  const late = rises === "behind the feet";
  const upright = sits === "upright";
  const height = (frame: number) =>
    (upright
      ? eased(16, 28, standingHips, halfUp)(frame) + eased(28, 64, 0, low - halfUp)(frame)
      : eased(16, 40, standingHips, low)(frame)) +
    (late
      ? eased(100, 112, 0, halfUp - low)(frame) + eased(130, 150, 0, standingHips - halfUp)(frame)
      : eased(106, 130, 0, standingHips - low)(frame));
  const ahead = (frame: number) =>
    eased(16, upright ? 28 : 40, 0, behind)(frame) +
    (late ? eased(126, 146, 0, -behind) : eased(100, 126, 0, -behind))(frame);
  const bow = (from: number, top: number, until: number, to: number, most: number) => (frame: number) =>
    eased(from, top, 0, most)(frame) - eased(until, to, 0, most)(frame);
  const down = bow(10, 26, 32, 46, upright ? 0 : 35);
  const up = bow(92, 106, 112, 132, late ? 0 : 35);
  const back = bow(52, 64, 70, 82, upright ? 0 : -14);
  const document = motionDocument(
    {
      first: 1,
      last: 160,
      hips: (frame) => [0, height(frame), ahead(frame)],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    {},
    { "spine rotation.x": everyFrame(1, 160, (frame) => down(frame) + up(frame) + back(frame)) },
  );
  if (as === "nothing") return document;
  if (as === "surface") {
    const edges: [number, number][] = [
      [-0.22, rear],
      [0.22, front],
    ];
    return { ...document, surfaces: [...(document.surfaces ?? []), { id: "seat", height: seat, edges }] };
  }
  const box = { kind: "box" as const, size: [0.44, seat, front - rear] as [number, number, number] };
  return {
    ...document,
    nodes: [
      ...document.nodes,
      { id: "chair", translation: [0, seat / 2, (front + rear) / 2], shapes: [box] },
    ],
    props: [{ node: "chair" }],
  };
}
