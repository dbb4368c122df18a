/** Two figures four metres apart; the second jumps when the first has landed and risen. */
import { jump } from "./jump.mjs";

/** Frames by which the second one is later. */
export const apart = 46;

export function pair() {
  const first = jump();
  const second = jump();
  const renamed = (id) => `b_${id}`;
  const nodes = second.document.nodes.map((node) => ({
    ...node,
    id: renamed(node.id),
    parent: node.parent === undefined ? "b_stage" : renamed(node.parent),
  }));
  nodes.unshift({ id: "b_stage", translation: [400, 0, 0] });
  const curves = second.curves.map((curve) => ({
    ...curve,
    node: renamed(curve.node),
    keys: curve.keys.map((key) => ({ ...key, frame: key.frame + apart })),
  }));
  const [from, to] = first.document.shot.range;
  return {
    document: {
      ...first.document,
      shot: { ...first.document.shot, name: "pair", range: [from, to + apart] },
      nodes: [...first.document.nodes, ...nodes],
    },
    curves: [...first.curves, ...curves],
    act: null,
  };
}
