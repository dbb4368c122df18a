import { type Curve, interpolations } from "../model.ts";
import { handleStride } from "../scan/key-buffer.ts";
import type { CurveSpec } from "../schema.ts";
import { inlineText, memberText, numberText } from "./value-text.ts";

/** How a curve is laid out: the line end, and the indentation of the line on which the curve starts. */
export interface Layout {
  readonly lineEnd: string;
  readonly indentation: string;
}

const usual: Layout = { lineEnd: "\n", indentation: "    " };

/** A curve as it stands in a document, one line per key. */
export function curveText(curve: Curve | CurveSpec, layout: Layout = usual): string {
  const { keys, head } = "frames" in curve ? partsOfCurve(curve) : partsOfSpec(curve);
  const { lineEnd, indentation } = layout;
  const start = Object.entries(head)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => memberText(name, value))
    .join(", ");
  if (keys.length === 0) return `{ ${start}, "keys": [] }`;
  const between = `,${lineEnd}${indentation}  `;
  return `{ ${start}, "keys": [${between.slice(1)}${keys.join(between)}${lineEnd}${indentation}] }`;
}

interface Parts {
  readonly head: Readonly<Record<string, unknown>>;
  readonly keys: readonly string[];
}

function partsOfSpec(spec: CurveSpec): Parts {
  const { node, channel, interpolation = "linear", keys, ...rest } = spec;
  const texts = keys.map(([frame, value, extras]) => {
    if (extras === undefined) return inlineText([frame, value]);
    const { in: inHandle, out, interpolation: own, ...unknown } = extras;
    const members = { in: inHandle, out, interpolation: own, ...unknown };
    return Object.values(members).every((member) => member === undefined)
      ? inlineText([frame, value])
      : inlineText([frame, value, members]);
  });
  return { head: { node, channel, interpolation, ...rest }, keys: texts };
}

function partsOfCurve(curve: Curve): Parts {
  const { node, channel, interpolation } = curve;
  const keys: string[] = [];
  for (let key = 0; key < curve.frames.length; key++) keys.push(keyText(curve, key));
  return { head: { node, channel, interpolation, ...curve.extra?.curve }, keys };
}

/** A key as it stands on its line, without a comma. */
export function keyText(curve: Curve, key: number): string {
  const extras = extrasText(curve, key);
  const start = `[${numberText(curve.frames[key])}, ${valueText(curve, key)}`;
  return extras === null ? `${start}]` : `${start}, ${extras}]`;
}

/** The value of a key: a number, or four in brackets. */
export function valueText(curve: Curve, key: number): string {
  if (curve.width === 1) return numberText(curve.values[key]);
  return inlineText([...curve.values.subarray(key * 4, key * 4 + 4)]);
}

/** The braces behind a key's value; null where the key needs none. */
export function extrasText(curve: Curve, key: number): string | null {
  const members: Record<string, unknown> = {};
  const { handles } = curve;
  if (handles !== null) {
    const stride = handleStride(curve.width);
    const half = stride / 2;
    members["in"] = handleOf(handles.subarray(key * stride, key * stride + half));
    members["out"] = handleOf(handles.subarray(key * stride + half, (key + 1) * stride));
  }
  if (curve.ownModes?.[key] === 1) members["interpolation"] = interpolations[curve.modes[key]];
  Object.assign(members, curve.extra?.keys.get(key));
  return Object.values(members).some((member) => member !== undefined) ? inlineText(members) : null;
}

function handleOf(numbers: Float64Array): number | number[] | undefined {
  if (Number.isNaN(numbers[numbers.length - 1])) return undefined;
  return Number.isNaN(numbers[0]) ? numbers[1] : [...numbers];
}
