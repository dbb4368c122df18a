/** A strict reader of the XML that reports use: elements, attributes, text, the five entities and character references. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Record<string, string>;
  readonly children: XmlElement[];
  text: string;
}

const char = /^[\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]*$/u;

/** @throws Error where the text is not well-formed (XML 1.0, fifth edition) */
export function parseXml(source: string): XmlElement {
  if (!char.test(source)) throw new Error("A character that XML 1.0 does not allow.");
  let rest = source.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\s*/, "");
  const stack: XmlElement[] = [];
  let root: XmlElement | null = null;
  while (rest !== "") {
    const text = /^[^<]+/.exec(rest)?.[0];
    if (text !== undefined) {
      const top = stack.at(-1);
      if (top !== undefined) top.text += decoded(text);
      else if (text.trim() !== "") throw new Error("Text outside the root.");
      rest = rest.slice(text.length);
      continue;
    }
    const tag = /^<(\/?)([A-Za-z][\w.-]*)((?:\s+[A-Za-z][\w.-]*="[^"<]*")*)\s*(\/?)>/.exec(rest);
    if (tag === null) throw new Error(`Not well-formed at ${JSON.stringify(rest.slice(0, 60))}.`);
    const [whole, closing, name, attributes, empty] = tag as unknown as [
      string,
      string,
      string,
      string,
      string,
    ];
    rest = rest.slice(whole.length);
    if (closing !== "") {
      if (stack.pop()?.name !== name) throw new Error(`</${name}> closes another element.`);
      continue;
    }
    const element: XmlElement = { name, attributes: {}, children: [], text: "" };
    for (const [, key, value] of attributes.matchAll(/([A-Za-z][\w.-]*)="([^"]*)"/g)) {
      if ((key as string) in element.attributes) throw new Error(`${key} stands there twice.`);
      element.attributes[key as string] = decoded(value as string);
    }
    const top = stack.at(-1);
    if (top !== undefined) top.children.push(element);
    else if (root !== null) throw new Error("Two roots.");
    else root = element;
    if (empty === "") stack.push(element);
  }
  if (root === null || stack.length > 0) throw new Error("It ends early.");
  return root;
}

const named: Record<string, string> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

function decoded(text: string): string {
  if (/&(?!(?:amp|lt|gt|quot|apos|#\d+);)/.test(text)) throw new Error("An ampersand that begins nothing.");
  return text.replace(/&(\w+|#\d+);/g, (_, name: string) =>
    name.startsWith("#") ? String.fromCodePoint(Number(name.slice(1))) : (named[name] as string),
  );
}
