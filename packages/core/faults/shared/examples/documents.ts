import type { CurveDocument, CurveSpec, NodeSpec } from "../../../document/schema.ts";

/**
 * Builders of small documents, from which examples and tests are made. Lengths are given in metres and are written in the document's unit, so that the
 * same motion can be built at any scale; angles are degrees; y is up and figures face +z, their left is +x.
 */

export type Keys = CurveSpec["keys"];
export type Vector = readonly [number, number, number];

/** Keys of a channel, or keys with the interpolation that they use (linear if left out, as in the format). */
export type Keyed = Keys | { readonly interpolation: CurveSpec["interpolation"]; readonly keys: Keys };

/** Curves by node and channel, for example `{ "hips translation.y": [[1, 0.95], [24, 0.9]] }`. */
export type Curves = Readonly<Record<string, Keyed>>;

export interface DocumentOptions {
  /** Frames per second, 24 if left out. */
  readonly rate?: number | string;
  readonly range?: readonly [number, number];
  /** Metres per unit of the document, 1 if left out. */
  readonly unit?: number;
  /** Whether the document says what its unit is (default) or leaves it to be inferred. */
  readonly declaresUnit?: boolean;
  /** Further parts of the document: figures, surfaces, contacts, waivers; lengths in these are in its own unit. */
  readonly more?: Partial<CurveDocument>;
}

/** A document from nodes (rest translations in metres) and curves (translations in metres, rotations in degrees). */
export function documentOf(
  nodes: readonly NodeSpec[],
  curves: Curves,
  options: DocumentOptions = {},
): CurveDocument {
  const { rate = 24, range, unit = 1, declaresUnit = true, more } = options;
  return {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: rate, ...(range === undefined ? {} : { range: [range[0], range[1]] }) },
    space: declaresUnit ? { metresPerUnit: unit } : {},
    nodes: nodes.map((node) =>
      node.translation === undefined ? node : { ...node, translation: scaled(node.translation, 1 / unit) },
    ),
    curves: Object.entries(curves).map(([name, keyed]) => curveSpec(name, keyed, unit)),
    ...more,
  };
}

function curveSpec(name: string, keyed: Keyed, unit: number): CurveSpec {
  const [node, channel] = name.split(" ") as [string, CurveSpec["channel"]];
  const { keys, ...more } = Array.isArray(keyed) ? { keys: keyed } : keyed;
  const factor = channel.startsWith("translation") ? 1 / unit : 1;
  const written = factor === 1 ? keys : keys.map((key) => scaledKey(key, factor));
  return { node, channel, ...more, keys: written };
}

function scaledKey(key: Keys[number], factor: number): Keys[number] {
  const [frame, value, extras] = key;
  if (typeof value !== "number") return key;
  if (extras === undefined) return [frame, value * factor];
  const handle = (side: typeof extras.in) =>
    typeof side === "number"
      ? side * factor
      : side?.length === 2
        ? ([side[0], side[1] * factor] as [number, number])
        : side;
  const written = { ...extras };
  if (extras.in !== undefined) written.in = handle(extras.in);
  if (extras.out !== undefined) written.out = handle(extras.out);
  return [frame, value * factor, written];
}

function scaled(vector: Vector, factor: number): [number, number, number] {
  return [vector[0] * factor, vector[1] * factor, vector[2] * factor];
}

/** Keys on every frame from `first` to `last`, both included. */
export function everyFrame(first: number, last: number, value: (frame: number) => number): Keys {
  return Array.from({ length: last - first + 1 }, (_, i): Keys[number] => [first + i, value(first + i)]);
}

/** The three translation curves of a node that is keyed on every frame along a path in metres. */
export function along(
  node: string,
  first: number,
  last: number,
  path: (frame: number) => Vector,
): Record<string, Keyed> {
  const axis = (index: 0 | 1 | 2) => everyFrame(first, last, (frame) => path(frame)[index]);
  return {
    [`${node} translation.x`]: axis(0),
    [`${node} translation.y`]: axis(1),
    [`${node} translation.z`]: axis(2),
  };
}

/**
 * The smoothest move between two rests (minimum jerk: Flash & Hogan 1985): a value that goes from `from` to `to`
 * between two frames and rests before and after.
 */
export function eased(first: number, last: number, from: number, to: number): (frame: number) => number {
  return (frame) => {
    const t = Math.min(1, Math.max(0, (frame - first) / (last - first)));
    return from + (to - from) * t * t * t * (10 - 15 * t + 6 * t * t);
  };
}

/** Keys of one {@link eased} move by an amount, on every frame of a range: `easedKeys([1, 60], [10, 30], 45)`. */
export function easedKeys(
  [first, last]: readonly [number, number],
  [from, to]: readonly [number, number],
  amount: number,
  base = 0,
): Keys {
  return everyFrame(first, last, eased(from, to, base, base + amount));
}

/** A value that rests until a frame, then goes these steps, one a frame, and rests again. */
export function stepping(from: number, steps: readonly number[]): (frame: number) => number {
  return (frame) => steps.slice(0, Math.max(0, frame - from)).reduce((sum, step) => sum + step, 0);
}

/** The frame that is shown where a motion stands still for some frames from one on, and goes on where it stood. */
export function standingFor(frames: number, from: number): (frame: number) => number {
  return (frame) => (frame <= from ? frame : Math.max(from, frame - frames));
}

/** Keys from rest to rest with a straight line between two frames. */
export function straight(from: number, to: number, value: number, last = 60): [number, number][] {
  return [
    [1, 0],
    [from, 0],
    [to, value],
    [last, value],
  ];
}

/** Keys from rest to rest that ease on the whole way: at `from` the value is `start`, at `to` it is `end`. */
export function smooth(from: number, to: number, start: number, end: number, last = 60): Keyed {
  const keys: Keys = [
    [1, start],
    [from, start],
    [to, end],
    [last, end],
  ];
  return { interpolation: "smooth", keys };
}

/** Step keys on every second frame from the first one on. */
export function onTwos(first: number, last: number, value: (frame: number) => number): Keyed {
  const keys: [number, number][] = [];
  for (let frame = first; frame <= last; frame += 2) keys.push([frame, value(frame)]);
  return { interpolation: "step", keys };
}

/** A motion that is keyed on every frame, as it is blocked: step keys on some frames, and no others. */
export function inPoses(document: CurveDocument, poses: readonly number[]): CurveDocument {
  const curves = document.curves.map((curve) => ({
    ...curve,
    interpolation: "step" as const,
    keys: curve.keys.filter(([frame]) => poses.includes(frame)),
  }));
  return { ...document, curves };
}

/** One node "point" that moves along a path in metres, keyed on every frame. */
export function pathDocument(
  first: number,
  last: number,
  path: (frame: number) => Vector,
  options: DocumentOptions = {},
): CurveDocument {
  return documentOf([{ id: "point" }], along("point", first, last, path), options);
}

/** One node "point" with the keys that are given, by channel: `{ "translation.x": [[1, 0], [12, 1]] }`. */
export function pointDocument(
  channels: Readonly<Record<string, Keyed>>,
  options: DocumentOptions = {},
): CurveDocument {
  const curves = Object.fromEntries(
    Object.entries(channels).map(([channel, keyed]) => [`point ${channel}`, keyed]),
  );
  return documentOf([{ id: "point" }], curves, options);
}

/** Nodes of a chain that hangs on a mount 1.4 m high: `joints` joints in a row along +x, `length` metres apart, and a tip. */
export function chainNodes(joints: 1 | 2 | 3, length = 0.3): NodeSpec[] {
  const nodes: NodeSpec[] = [{ id: "mount", translation: [0, 1.4, 0] }];
  for (let i = 1; i <= joints; i++) {
    nodes.push({
      id: `joint_${i}`,
      parent: i === 1 ? "mount" : `joint_${i - 1}`,
      translation: [i === 1 ? 0 : length, 0, 0],
    });
  }
  nodes.push({ id: "tip", parent: `joint_${joints}`, translation: [length, 0, 0] });
  return nodes;
}

/** A chain ({@link chainNodes}) with curves for its joints. */
export function chainDocument(
  joints: 1 | 2 | 3,
  curves: Curves,
  options: DocumentOptions = {},
): CurveDocument {
  return documentOf(chainNodes(joints), curves, options);
}

/** An arm, joint_2, that swings by keys of its own on what turns all the time by 6° a frame, about another axis. */
export function riddenDocument(own: Keyed): CurveDocument {
  return chainDocument(2, {
    "joint_1 rotation.y": everyFrame(1, 60, (frame) => 6 * frame),
    "joint_2 rotation.z": own,
  });
}

const side = (letter: "l" | "r", sign: 1 | -1): NodeSpec[] => [
  { id: `shoulder_${letter}`, parent: "chest", translation: [0.03 * sign, 0.17, 0] },
  { id: `upper_arm_${letter}`, parent: `shoulder_${letter}`, translation: [0.14 * sign, 0, 0] },
  { id: `forearm_${letter}`, parent: `upper_arm_${letter}`, translation: [0.28 * sign, 0, 0] },
  { id: `hand_${letter}`, parent: `forearm_${letter}`, translation: [0.25 * sign, 0, 0] },
  { id: `fingers_${letter}`, parent: `hand_${letter}`, translation: [0.09 * sign, 0, 0] },
  { id: `thigh_${letter}`, parent: "hips", translation: [0.1 * sign, -0.02, 0] },
  { id: `shin_${letter}`, parent: `thigh_${letter}`, translation: [0, -0.42, 0] },
  { id: `foot_${letter}`, parent: `shin_${letter}`, translation: [0, -0.42, 0] },
  { id: `toes_${letter}`, parent: `foot_${letter}`, translation: [0, -0.06, 0.14] },
  { id: `toes_end_${letter}`, parent: `toes_${letter}`, translation: [0, -0.01, 0.07] },
];

/**
 * A plain biped, 1.7 m tall, arms held out to the sides, soles on y = 0 and ankles at y = 0.09. Thigh and shin are
 * 0.42 m each, the hips' node stands at y = 0.95.
 */
export const bipedNodes: readonly NodeSpec[] = [
  { id: "hips", translation: [0, 0.95, 0] },
  { id: "spine", parent: "hips", translation: [0, 0.1, 0] },
  { id: "chest", parent: "spine", translation: [0, 0.2, 0] },
  { id: "neck", parent: "chest", translation: [0, 0.2, 0] },
  { id: "head", parent: "neck", translation: [0, 0.08, 0] },
  { id: "head_end", parent: "head", translation: [0, 0.17, 0] },
  ...side("l", 1),
  ...side("r", -1),
];

/** Which node of the biped is which part. */
export const bipedFigure: NonNullable<CurveDocument["figures"]>[number] = {
  id: "walker",
  stature: 1.7,
  parts: {
    root: "hips",
    spine: "spine",
    chest: "chest",
    neck: "neck",
    head: "head",
    ...limbParts("left", "l"),
    ...limbParts("right", "r"),
  },
};

function limbParts(name: "left" | "right", letter: "l" | "r"): Record<string, string> {
  return {
    [`${name}Shoulder`]: `shoulder_${letter}`,
    [`${name}UpperArm`]: `upper_arm_${letter}`,
    [`${name}Forearm`]: `forearm_${letter}`,
    [`${name}Hand`]: `hand_${letter}`,
    [`${name}Thigh`]: `thigh_${letter}`,
    [`${name}Shin`]: `shin_${letter}`,
    [`${name}Foot`]: `foot_${letter}`,
    [`${name}Toes`]: `toes_${letter}`,
  };
}

/** The biped ({@link bipedNodes}) as a declared figure on a floor at y = 0, with curves for its joints. */
export function bipedDocument(curves: Curves, options: DocumentOptions = {}): CurveDocument {
  return documentOf(bipedNodes, curves, {
    ...options,
    more: {
      figures: [bipedFigure],
      surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
      ...options.more,
    },
  });
}

/** The biped without some of its joints: what hung on one hangs on the joint above it, and stands where it stood. */
export function bipedWithout(joints: RegExp, curves: Curves, options: DocumentOptions = {}): CurveDocument {
  const gone = new Map(bipedNodes.filter(({ id }) => joints.test(id)).map((node) => [node.id, node]));
  const nodes = bipedNodes
    .filter(({ id }) => !gone.has(id))
    .map((node) => {
      let { parent, translation = [0, 0, 0] } = node;
      for (let above = gone.get(parent ?? ""); above !== undefined; above = gone.get(parent ?? "")) {
        const [x, y, z] = above.translation ?? [0, 0, 0];
        translation = [translation[0] + x, translation[1] + y, translation[2] + z];
        parent = above.parent;
      }
      return { id: node.id, translation, ...(parent === undefined ? {} : { parent }) };
    });
  const parts = Object.entries(bipedFigure.parts ?? {}).filter(([, node]) => !gone.has(String(node)));
  return documentOf(nodes, curves, {
    ...options,
    more: { figures: [{ ...bipedFigure, parts: Object.fromEntries(parts) }], ...options.more },
  });
}
