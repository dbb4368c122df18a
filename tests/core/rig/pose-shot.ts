import type { Study } from "../../../packages/core/base/study.ts";
import {
  type Channel,
  type Curve,
  type Interpolation,
  interpolations,
  type Shot,
} from "../../../packages/core/document/model.ts";
import type { DocumentHeader, NodeSpec } from "../../../packages/core/document/schema.ts";
import type { ResolvedSettings } from "../../../packages/core/settings/settings.ts";
import { studyOf as studyOfShot } from "../../../packages/core/settings/study.ts";

/** A curve of width 1 from frames and values. */
export function scalarCurve(
  frames: readonly number[],
  values: readonly number[],
  interpolation: Interpolation = "linear",
  more: {
    node?: string;
    channel?: Channel;
    handles?: readonly number[];
    modes?: readonly Interpolation[];
  } = {},
): Curve {
  const modes = more.modes ?? frames.map(() => interpolation);
  return {
    node: more.node ?? "node",
    channel: more.channel ?? "translation.x",
    interpolation,
    width: 1,
    frames: Float64Array.from(frames),
    values: Float64Array.from(values),
    modes: Uint8Array.from(modes, (mode) => interpolations.indexOf(mode)),
    handles: more.handles === undefined ? null : Float64Array.from(more.handles),
    ownModes: null,
    place: null,
  };
}

/** A curve of quaternion keys, 4 numbers per key. */
export function quaternionCurve(
  frames: readonly number[],
  values: readonly number[],
  interpolation: Interpolation = "linear",
  more: { node?: string; handles?: readonly number[]; modes?: readonly Interpolation[] } = {},
): Curve {
  return { ...scalarCurve(frames, values, interpolation, { ...more, channel: "rotation" }), width: 4 };
}

/** Settings without checks. */
export function plainSettings(rate: number | null = null): ResolvedSettings {
  return { rate, style: "full", registry: [], tiers: { minor: 0.2, major: 0.5 }, checks: new Map() };
}

/** A shot built in code: one metre per unit, y up and degrees unless told otherwise. */
export function builtShot(
  nodes: readonly NodeSpec[],
  curves: readonly Curve[],
  range: readonly [number, number] = [0, 10],
  space: NonNullable<DocumentHeader["space"]> = { metresPerUnit: 1, up: "y", angle: "degrees" },
  frameRate: Shot["frameRate"] = { numerator: 24, denominator: 1 },
): Shot {
  const header: DocumentHeader = {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: frameRate.numerator / frameRate.denominator },
    space,
    nodes: [...nodes],
  };
  return { header, frameRate, range, curves };
}

/** A study of a shot built in code. */
export function studyOf(shot: Shot, rate: number | null = null): Study {
  return studyOfShot(shot, plainSettings(rate));
}
