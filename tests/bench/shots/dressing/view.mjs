// @ts-check
/**
 * What a document says of how a shot is seen: its camera, gazes, colours, what has a shape, what is lit when.
 * @import { Dressing, Performance } from "../types.d.ts"
 */

/** Nine decimals, as all numbers of the document. @param {number} value */
const tidy = (value) => Math.round(value * 1e9) / 1e9 + 0;

/** Whether an id is that of a prop which is there for the picture alone. @param {Performance} performance @param {string} id */
export const isStaged = ({ props }, id) => props.some((prop) => prop.id === id && prop.staged === true);

/**
 * What is seen of each node.
 * @param {Performance} performance @param {Dressing} dressing
 * @returns {(id: string) => Record<string, unknown>} properties of the node
 */
export function looksOf({ view }, { metresPerUnit }) {
  if (view === undefined) return () => ({});
  const panels = new Map(view.panels.map((panel) => [panel.id, panel]));
  return (id) => {
    const colour = view.colours[id];
    const panel = panels.get(id);
    return {
      ...(colour === undefined ? {} : { colour }),
      ...(panel === undefined
        ? {}
        : { shapes: [{ kind: "box", size: panel.half.map((half) => tidy((2 * half) / metresPerUnit)) }] }),
      ...(panel === undefined || panel.lit === null ? {} : { visible: panel.lit }),
    };
  };
}

/** The camera and the gazes. @param {Performance} performance @param {Dressing} dressing @param {(id: string) => string} node
 * @returns {Record<string, unknown>} */
export function seenBy({ view, figures }, { metresPerUnit, declaresFigures }, node) {
  if (view === undefined) return {};
  const { camera, degrees, extent, aspect, background, gazes } = view;
  const size =
    degrees === null
      ? { verticalExtent: tidy(extent / metresPerUnit) }
      : { verticalFieldOfView: tidy(degrees) };
  // A figure that is not declared goes by the name of its root.
  const nameOf = (/** @type {string} */ figure) =>
    declaresFigures
      ? figure
      : node(/** @type {string} */ (figures.find(({ id }) => id === figure)?.body.root));
  return {
    cameras: [{ id: "shotcam", node: node(camera), ...size, aspect: tidy(aspect), background }],
    ...(gazes.length === 0
      ? {}
      : {
          gazes: gazes.map(({ figure, target, frames }) => ({
            figure: nameOf(figure),
            at: node(target),
            frames,
          })),
        }),
  };
}
