import { diff, rgb_to_lab } from "color-diff";

/** A display colour of sRGB as one number, 0xrrggbb; {@link noColour} where none is known. */
export type Colour = number;
/** Of what has no colour. */
export const noColour: Colour = -1;

/** @param text "#rrggbb" */
export function colourFrom(text: string): Colour {
  return Number.parseInt(text.slice(1), 16);
}

/** The colour as a document writes it. */
export function writtenColour(colour: Colour): string {
  return `#${colour.toString(16).padStart(6, "0")}`;
}

function parts(colour: Colour): readonly [number, number, number] {
  return [(colour >> 16) & 255, (colour >> 8) & 255, colour & 255];
}

/** Linear light of one part, 0 to 1 (IEC 61966-2-1, as WCAG 2.2 has it). */
function linear(part: number): number {
  const c = part / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** Relative luminance, 0 for black to 1 for white (WCAG 2.2). */
export function luminanceOf(colour: Colour): number {
  const [r, g, b] = parts(colour);
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
}

/** Contrast of two colours, 1 to 21 (WCAG 2.2). */
export function contrastOf(a: Colour, b: Colour): number {
  const x = luminanceOf(a);
  const y = luminanceOf(b);
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

/** Difference ΔE₀₀ of two colours (CIEDE2000: Sharma, Wu, Dalal 2005). */
export function differenceOf(a: Colour, b: Colour): number {
  return a === b ? 0 : diff(labOf(a), labOf(b));
}

function labOf(colour: Colour) {
  const [R, G, B] = parts(colour);
  return rgb_to_lab({ R, G, B });
}

/**
 * How red a colour is, as flashes are judged: 320 · (R − G − B) in linear light, at least 0; and whether it is a saturated
 * red, of which 80 % and more is red light (WCAG 2.2, red flash).
 */
export function rednessOf(colour: Colour): { readonly value: number; readonly isSaturated: boolean } {
  const [r, g, b] = parts(colour).map(linear);
  const sum = r + g + b;
  return { value: Math.max(0, 320 * (r - g - b)), isSaturated: sum > 0 && r / sum >= 0.8 };
}
