import { shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { ShapeSpec } from "../document/schema.ts";
import { figureOfNode, figuresOf } from "./body.ts";
import { curveNamesOfNode } from "./pose.ts";
import { rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";

/** An object that figures may handle. */
export interface Prop {
  /** Rig index. */
  readonly node: number;
  /** Whether the document lists it; else it is a node without a parent that belongs to no body. */
  readonly declared: boolean;
  /** Kilograms as the document says; NaN where it does not. */
  readonly mass: number;
  /** Cubic metres of its shapes, as if they did not overlap; 0 where it has none. */
  readonly volume: number;
  /** Shapes in its own space, metres. */
  readonly shapes: readonly ShapeSpec[];
}

/** Declared props, and nodes without a parent that belong to no body, have no joints that move, and carry no camera. */
export const propsOf = shotMeasure<readonly Prop[]>("props", (study) => {
  const { parent, indexOf, subtreeSize } = rigOf(study);
  const { props = [], nodes, cameras = [] } = headerOf(study);
  const figures = figuresOf(study);
  const declared = new Map(props.flatMap((prop) => pairOf(indexOf.get(prop.node), prop)));
  const seeing = new Set(cameras.flatMap(({ node }) => indexOf.get(node) ?? []));
  const found = new Set(declared.keys());
  // What moves by its own joints is a creature, and what a body hangs on is no prop.
  const isThing = (node: number) => {
    for (let below = node; below < node + subtreeSize[node]; below++) {
      const owner = figureOfNode(study, below);
      if (owner >= 0 && figures[owner].kind !== "other") return false;
      if (below > node && curveNamesOfNode(study, below).length > 0) return false;
    }
    return !seeing.has(node);
  };
  for (let node = 0; node < parent.length; node += subtreeSize[node]) if (isThing(node)) found.add(node);
  const metres = metresPerUnitOf(study);
  const shapesOf = new Map(nodes.flatMap(({ id, shapes }) => pairOf(indexOf.get(id), shapes)));
  return [...found].map((node) => {
    const shapes = (shapesOf.get(node) ?? []).map((shape) => inMetres(shape, metres));
    return {
      node,
      declared: declared.has(node),
      mass: declared.get(node)?.mass ?? Number.NaN,
      volume: shapes.reduce((sum, shape) => sum + volumeOf(shape), 0),
      shapes,
    };
  });
});

function pairOf<V>(node: number | undefined, value: V | undefined): [number, V][] {
  return node === undefined || value === undefined ? [] : [[node, value]];
}

type Triple = [number, number, number];

function inMetres(shape: ShapeSpec, metres: number): ShapeSpec {
  const long = (v: readonly number[]) => v.map((part) => part * metres) as Triple;
  if (shape.kind === "box") {
    const { size, centre = [0, 0, 0] } = shape;
    return { ...shape, size: long(size), centre: long(centre) };
  }
  const radius = shape.radius * metres;
  if (shape.kind === "sphere") return { ...shape, radius, centre: long(shape.centre ?? [0, 0, 0]) };
  return { ...shape, radius, from: long(shape.from), to: long(shape.to) };
}

function volumeOf(shape: ShapeSpec): number {
  if (shape.kind === "box") return shape.size[0] * shape.size[1] * shape.size[2];
  const ball = (4 / 3) * Math.PI * shape.radius ** 3;
  if (shape.kind === "sphere") return ball;
  const from = shape.from;
  const to = shape.to;
  return ball + Math.PI * shape.radius ** 2 * Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
}
