import type { CurveKeys, Problem } from "./model.ts";
import { scanCurveText } from "./scan.ts";
import type { CameraSpec } from "./schema.ts";

/** The keys of a camera's zoom, and what is wrong with them. */
export interface Zoom {
  /** Degrees for a camera with a field of view, units for one with an extent; null where there are no usable keys. */
  readonly keys: CurveKeys | null;
  /** Paths count from the zoom: `keys/3`. */
  readonly problems: readonly Pick<Problem, "code" | "message" | "path">[];
}

/** Reads the keys of a camera's zoom by the rules of a curve's; they are sampled as a curve's are. */
export function readZoom({ zoom, verticalFieldOfView, verticalExtent }: CameraSpec): Zoom {
  if (zoom === undefined) return { keys: null, problems: [] };
  const isAngle = verticalFieldOfView !== undefined || verticalExtent === undefined;
  const most = isAngle ? 180 : Number.POSITIVE_INFINITY;
  const problems: Zoom["problems"][number][] = [];
  /** Position in the document of each key that is read. */
  const raw: number[] = [];
  zoom.keys.forEach(([, value], index) => {
    if (value > 0 && value < most) {
      raw.push(index);
      return;
    }
    const due = isAngle ? "between 0 and 180 degrees" : "more than 0";
    const message = `The value of this key has to be ${due}, and is ${value}. The key is left out.`;
    problems.push({ code: "bad-value", message, path: `keys/${index}` });
  });
  if (raw.length === 0) return { keys: null, problems };
  // The curve that it would be, for the one reader of keys; which channel it names does not matter there.
  const { interpolation } = zoom;
  const keys = raw.map((index) => zoom.keys[index]);
  const scanned = scanCurveText(
    JSON.stringify({ node: "camera", channel: "translation.x", interpolation, keys }),
    0,
  );
  for (const { code, message, path } of scanned?.problems ?? []) {
    const within = path
      .replace(/^curves\/0\//, "")
      .replace(/^keys\/(\d+)/, (_, n) => `keys/${raw[Number(n)]}`);
    problems.push({ code, message, path: within });
  }
  return { keys: scanned?.curve ?? null, problems };
}
