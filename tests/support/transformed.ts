import type { CurveDocument } from "../../packages/core/document/schema.ts";

type ShapeSpec = NonNullable<CurveDocument["nodes"][number]["shapes"]>[number];

function scaledShape(shape: ShapeSpec, length: (value: number) => number): ShapeSpec {
  const all = (v: readonly number[]) => v.map(length) as [number, number, number];
  if (shape.kind === "box")
    return { ...shape, size: all(shape.size), ...(shape.centre && { centre: all(shape.centre) }) };
  const radius = length(shape.radius);
  if (shape.kind === "sphere")
    return { ...shape, radius, ...(shape.centre && { centre: all(shape.centre) }) };
  return { ...shape, radius, from: all(shape.from), to: all(shape.to) };
}

/** The same motion, told otherwise: no verdict may depend on how. */

/** Every length a hundredth of itself in the numbers, and the unit a hundred times as long. */
export function inHectometres(document: CurveDocument): CurveDocument {
  const length = (value: number) => value / 100;
  const { space = {}, nodes, curves, surfaces, ...rest } = document;
  return {
    ...rest,
    ...(surfaces === undefined
      ? {}
      : {
          surfaces: surfaces.map((surface) => ({
            ...surface,
            height: length(surface.height),
            ...(surface.edges && {
              edges: surface.edges.map(([x, z]) => [length(x), length(z)] as [number, number]),
            }),
          })),
        }),
    space: space.metresPerUnit === undefined ? space : { ...space, metresPerUnit: space.metresPerUnit * 100 },
    nodes: nodes.map((node) => ({
      ...node,
      ...(node.translation && { translation: node.translation.map(length) as [number, number, number] }),
      ...(node.shapes && { shapes: node.shapes.map((shape) => scaledShape(shape, length)) }),
    })),
    curves: curves.map((curve) =>
      curve.channel.startsWith("translation")
        ? { ...curve, keys: curve.keys.map((key) => withKey(key, (frame) => frame, length)) }
        : curve,
    ),
  } as CurveDocument;
}

/** All frames later by a number. */
export function renumbered(document: CurveDocument, by: number): CurveDocument {
  const later = (frame: number) => frame + by;
  const { shot, curves, contacts, waivers, gazes, sounds, props, ...rest } = document;
  const laterColour = (colour: NonNullable<CurveDocument["nodes"][number]["colour"]>) =>
    typeof colour === "string" ? colour : colour.map(([frame, to]) => [later(frame), to]);
  const within = <T extends { frames?: readonly number[] | undefined }>(list: readonly T[] | undefined) =>
    list?.map((entry) =>
      entry.frames === undefined ? entry : { ...entry, frames: entry.frames.map(later) },
    );
  const moved = { contacts: within(contacts), waivers: within(waivers), gazes: within(gazes) };
  return {
    ...rest,
    ...Object.fromEntries(Object.entries(moved).filter(([, list]) => list !== undefined)),
    ...(props === undefined
      ? {}
      : {
          props: props.map((prop) => ({ ...prop, ...(prop.heldBy && { heldBy: within(prop.heldBy) }) })),
        }),
    ...(sounds === undefined
      ? {}
      : { sounds: sounds.map((sound) => ({ ...sound, frame: later(sound.frame) })) }),
    nodes: document.nodes.map(({ visible, colour, ...node }) => ({
      ...node,
      ...(visible === undefined ? {} : { visible: visible.map((frames) => frames.map(later)) }),
      ...(colour === undefined ? {} : { colour: laterColour(colour) }),
    })),
    shot: shot.range === undefined ? shot : { ...shot, range: shot.range.map(later) as [number, number] },
    curves: curves.map((curve) => ({
      ...curve,
      keys: curve.keys.map((key) => withKey(key, later, (value) => value)),
    })),
  } as CurveDocument;
}

type Key = CurveDocument["curves"][number]["keys"][number];

function withKey(key: Key, time: (frame: number) => number, length: (value: number) => number): Key {
  const [frame, value, extras] = key;
  const changed = typeof value === "number" ? length(value) : value;
  if (extras === undefined) return [time(frame), changed];
  const handle = (side: typeof extras.in) =>
    typeof side === "number"
      ? length(side)
      : side?.length === 2
        ? ([side[0], length(side[1])] as [number, number])
        : side;
  return [
    time(frame),
    changed,
    {
      ...extras,
      ...(extras.in === undefined ? {} : { in: handle(extras.in) }),
      ...(extras.out === undefined ? {} : { out: handle(extras.out) }),
    },
  ];
}
