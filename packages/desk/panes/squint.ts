/**
 * The camera's picture as flat dark shapes, as the server drew it: a figure of the page with its words beneath.
 * @param svg the picture's text; null for none
 * @returns null where there is no picture, or its text is none
 */
export function squintFigure(svg: string | null, words: string): HTMLElement | null {
  if (svg === null) return null;
  // Drawn to stand in a page: it names no namespace of its own.
  const drawn = new DOMParser().parseFromString(svg, "text/html").querySelector("svg");
  if (drawn === null) return null;
  const figure = document.createElement("figure");
  figure.className = "squint-view";
  const caption = document.createElement("figcaption");
  caption.textContent = words;
  figure.append(document.importNode(drawn, true), caption);
  return figure;
}
