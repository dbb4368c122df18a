/** What is drawn in which colour; each can be set on the element as a custom property of the same name. */
export const colours = {
  "--paper": "light-dark(#fff, #1d2022)",
  "--ink": "light-dark(#1f2427, #e9e7e1)",
  "--soft": "light-dark(#565f66, #a5aeb4)",
  "--faint": "light-dark(#ebe8df, #2a2e31)",
  "--path": "light-dark(#1d5578, #8cc4e6)",
  "--after": "light-dark(#6b3fa0, #c9a7f2)",
  "--pen": "light-dark(#0a6b5e, #6fd6c2)",
  "--flesh": "light-dark(#e3dfd4, #3d4347)",
  "--dark": "light-dark(#55493a, #c9b99f)",
} as const;

export type ColourName = keyof typeof colours;
/** Colours as a canvas takes them. */
export type Palette = Readonly<Record<ColourName, string>>;

/**
 * The colours in force. A custom property is not worked out before it is used, so each is used on a probe.
 * @param probe an element within the player that is not shown
 */
export function paletteOf(probe: HTMLElement): Palette {
  const palette = {} as Record<ColourName, string>;
  for (const name of Object.keys(colours) as ColourName[]) {
    probe.style.color = `var(${name})`;
    palette[name] = getComputedStyle(probe).color;
  }
  probe.style.color = "";
  return palette;
}
