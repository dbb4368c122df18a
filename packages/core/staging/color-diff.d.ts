/** What is used of a library that has no types of its own. */
declare module "color-diff" {
  interface Lab {
    readonly L: number;
    readonly a: number;
    readonly b: number;
  }
  /** CIEDE2000 with all its weights at 1. */
  export function diff(a: Lab, b: Lab): number;
  /** CIE L*a*b* (D65) of a colour of sRGB, 0 to 255 each. */
  export function rgb_to_lab(colour: { readonly R: number; readonly G: number; readonly B: number }): Lab;
}
