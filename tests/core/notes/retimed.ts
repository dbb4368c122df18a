import type { CurveDocument, CurveSpec } from "../../../packages/core/document/schema.ts";

type Keys = CurveSpec["keys"];

/** A document with every frame that it names carried elsewhere, handles stretched with the frames around their key. */
export function retimed(document: CurveDocument, time: (frame: number) => number): CurveDocument {
  const span = ([first, last]: readonly [number, number]): [number, number] => [time(first), time(last)];
  const spans = <T extends { frames: [number, number] }>(list: T[] | undefined) =>
    list === undefined ? {} : { list: list.map((item) => ({ ...item, frames: span(item.frames) })) };
  const contacts = spans(document.contacts).list;
  const gazes = spans(document.gazes).list;
  return {
    ...document,
    shot: {
      ...document.shot,
      ...(document.shot.range === undefined ? {} : { range: span(document.shot.range) }),
    },
    ...(contacts === undefined ? {} : { contacts }),
    ...(gazes === undefined ? {} : { gazes }),
    curves: document.curves.map((curve) => ({ ...curve, keys: curve.keys.map((key) => carried(key, time)) })),
  };
}

function carried(key: Keys[number], time: (frame: number) => number): Keys[number] {
  const [frame, value, extras] = key;
  // Exactly 1 where frames are only shifted, so that such a shot is the same in every digit.
  const pace = Math.round((time(frame + 0.5) - time(frame - 0.5)) * 1e9) / 1e9;
  if (extras === undefined) return [time(frame), value];
  const handle = (side: typeof extras.in) =>
    Array.isArray(side) && side.length === 2
      ? ([side[0] * pace, side[1]] as [number, number])
      : typeof side === "number"
        ? side / pace
        : side;
  const written = { ...extras };
  if (extras.in !== undefined) written.in = handle(extras.in);
  if (extras.out !== undefined) written.out = handle(extras.out);
  return [time(frame), value, written];
}
