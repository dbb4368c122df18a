type Attributes = Readonly<Record<string, string | number | boolean | ((event: Event) => void) | null>>;

/**
 * Makes an element. Functions are listeners, by the name of their event; what is true is there without a value, what is
 * false or null is not there.
 */
export function el<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Attributes = {},
  ...children: readonly (Node | string | null)[]
): HTMLElementTagNameMap[Tag] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value !== null && value !== false)
      element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.filter((child) => child !== null));
  return element;
}

/** A button that does something, with a letter that does the same. */
export function button(label: string, act: () => void, attributes: Attributes = {}): HTMLButtonElement {
  return el("button", { type: "button", click: act, ...attributes }, label);
}

/** Sets a text where it is another one, so that what is read out is not read out twice. */
export function setText(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

/** An element that the page has. */
export function byId<E extends HTMLElement>(id: string): E {
  return document.getElementById(id) as E;
}

/** Brings something of the list of notes into what is seen of the list; the page itself stays where the hand is. */
export function reveal(element: HTMLElement): void {
  const list = byId("notes");
  const [there, here] = [list.getBoundingClientRect(), element.getBoundingClientRect()];
  if (here.top < there.top) list.scrollTop += here.top - there.top - 8;
  else if (here.bottom > there.bottom) {
    list.scrollTop += Math.min(here.bottom - there.bottom + 8, here.top - there.top - 8);
  }
}
