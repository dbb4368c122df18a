/** Two figures three metres apart; the second answers after the first is done. */
import { gestures } from "./gestures.mjs";

/** @param {number} seed */
export function pair(seed) {
  const first = gestures(seed, { hair: false });
  const second = gestures(seed + 1, { hair: false });
  const renamed = (id) => `b_${id}`;
  const nodes = second.document.nodes.map((node) => ({
    ...node,
    id: renamed(node.id),
    ...(node.parent === undefined ? {} : { parent: renamed(node.parent) }),
  }));
  const stage = nodes.find(({ parent }) => parent === undefined);
  stage.parent = "stage";
  nodes.unshift({ id: "stage", offset: [300, 0, 0] });
  const curves = second.curves.map((curve) => ({ ...curve, node: renamed(curve.node) }));
  return {
    document: {
      ...first.document,
      shot: { ...first.document.shot, name: `pair ${seed}` },
      nodes: [...first.document.nodes, ...nodes],
    },
    curves: [...first.curves, ...curves],
    act: null,
  };
}
