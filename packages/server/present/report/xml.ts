/** Characters that XML 1.0 cannot hold in any spelling, or discourages (2.2), and halves of surrogate pairs. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const impossible = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|\p{Cs}/gu;
const marked = /[&<>"'\t\n\r]/g;

const spelled: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
  // In an attribute these would be read as spaces.
  "\t": "&#9;",
  "\n": "&#10;",
  "\r": "&#13;",
};

/** Text as it stands in an XML document, in an element or an attribute; what XML cannot hold becomes U+FFFD. */
export function xmlText(text: string): string {
  return text.replace(impossible, "\ufffd").replace(marked, (char) => spelled[char] as string);
}

/** Attributes of an element, each with a space before it; those without a value are left out. */
export function xmlAttributes(attributes: Readonly<Record<string, string | number | undefined>>): string {
  return Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${xmlText(String(value))}"`)
    .join("");
}
