/** Colours of the style sheet that are drawn with. */
const names = [
  "paper",
  "card",
  "ink",
  "soft",
  "line",
  "faint",
  "path",
  "after",
  "pen",
  "on",
  "broken",
  "major",
  "minor",
  "polish",
] as const;
export type Palette = Readonly<Record<(typeof names)[number], string>>;

let known: Palette | null = null;

/** The colours in force; read again after {@link forgetPalette}. */
export function palette(): Palette {
  if (known !== null) return known;
  const style = getComputedStyle(document.documentElement);
  known = Object.fromEntries(
    names.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]),
  ) as Palette;
  return known;
}

/** Light has become dark, or the other way round. */
export function forgetPalette(): void {
  known = null;
}
