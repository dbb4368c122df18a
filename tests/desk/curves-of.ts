import { readShot } from "@keyside/core";
import {
  type Channel,
  type Curve,
  type Interpolation,
  type KeyEdit,
  tryEditShot,
} from "@keyside/core/curves";

/** A key as it stands in a document. */
export type KeySpec = readonly [number, number, Readonly<Record<string, unknown>>?];

/** A curve that was read from a document. */
export function curveOf(
  keys: readonly KeySpec[],
  interpolation: Interpolation = "linear",
  channel: Channel = "rotation.x",
): Curve {
  const { shot, problems } = readShot(
    JSON.stringify({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      nodes: [{ id: "arm" }],
      curves: [{ node: "arm", channel, interpolation, keys }],
    }),
  );
  if (shot === null || problems.length > 0) throw new Error(problems.map(({ message }) => message).join());
  return shot.curves[0];
}

/** The curve after edits, which have to be ones that can be made. */
export function edited(curve: Curve, edits: readonly KeyEdit[]): Curve {
  const shot = {
    header: { format: "keyside.curves", version: 1, shot: { frameRate: 24 }, nodes: [{ id: "arm" }] },
    frameRate: { numerator: 24, denominator: 1 },
    range: [0, 1],
    curves: [curve],
  } as const;
  const { shot: after, problems } = tryEditShot(shot as never, edits);
  if (problems.length > 0) throw new Error(problems.map(({ message }) => message).join());
  return after.curves[0];
}
