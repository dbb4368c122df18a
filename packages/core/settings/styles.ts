/** Styles of animation; each moves the thresholds of several checks together. */
export const styleNames = ["full", "snappy", "twos"] as const;
export type StyleName = (typeof styleNames)[number];

/** What a style does to one check: turns it off, or multiplies settings' defaults. */
export type StyleChange = false | Readonly<Record<string, number>>;

export interface Style {
  readonly what: string;
  /** By check. Only defaults are moved: a value that a configuration chooses stands as it is written. */
  readonly changes: Readonly<Record<string, StyleChange>>;
}

export const styles: Readonly<Record<StyleName, Style>> = {
  full: { what: "Full animation: weight and eases as bodies have them. The default.", changes: {} },
  snappy: { what: "", changes: {} },
  twos: { what: "", changes: {} },
};
