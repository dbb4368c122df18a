import { type Curve, curveName, type Shot } from "@keyside/core";
import { sameCurveData } from "@keyside/core/internal";

/**
 * A shot with those parts of an earlier one in place that hold the same, so that nothing is computed again for them.
 * Where a curve stands in the text is not looked at: the places are those of the earlier shot.
 */
export function stableShot(before: Shot, after: Shot): Shot {
  if (before === after) return before;
  let earlier: ReadonlyMap<string, Curve> | null = null;
  let isSame = before.curves.length === after.curves.length;
  const curves = after.curves.map((curve, index) => {
    let known: Curve | undefined = before.curves[index];
    if (known === undefined || known.node !== curve.node || known.channel !== curve.channel) {
      earlier ??= new Map(before.curves.map((each) => [curveName(each.node, each.channel), each]));
      known = earlier.get(curveName(curve.node, curve.channel));
    }
    const kept = known !== undefined && sameCurve(known, curve) ? known : curve;
    if (kept !== before.curves[index]) isSame = false;
    return kept;
  });
  const header = samePlain(before.header, after.header) ? before.header : after.header;
  const range = before.range[0] === after.range[0] && before.range[1] === after.range[1];
  const isAsWhole = before.cutOff?.join("\n") === after.cutOff?.join("\n");
  if (isSame && header === before.header && range && isAsWhole && sameRate(before, after)) return before;
  return { ...after, header, curves };
}

function sameRate({ frameRate: a }: Shot, { frameRate: b }: Shot): boolean {
  return a.numerator === b.numerator && a.denominator === b.denominator;
}

function sameCurve(a: Curve, b: Curve): boolean {
  return (
    sameCurveData(a, b) ||
    (a.width === b.width &&
      a.interpolation === b.interpolation &&
      sameItems(a.frames, b.frames) &&
      sameItems(a.values, b.values) &&
      sameItems(a.modes, b.modes) &&
      sameItems(a.handles, b.handles))
  );
}

function sameItems(a: ArrayLike<number> | null, b: ArrayLike<number> | null): boolean {
  if (a === b) return true;
  if (a === null || b === null || a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}

/** Whether two plain values hold the same. */
function samePlain(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => samePlain((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
  );
}
