/** Styles of animation that there are; each moves the thresholds of several checks together (see `Check.styles`). */
export const styleNames = ["full", "snappy", "limited", "twos"] as const;
/** One of {@link styleNames}. */
export type StyleName = (typeof styleNames)[number];

/**
 * What a style does to one check, and why: it turns it off, or multiplies settings' defaults. Only defaults are moved: a
 * value that a configuration chooses stands as it is written. The factors are our choice, not measured: a starting point
 * that a studio sets for itself.
 */
export type StyleChange<Settings = Readonly<Record<string, unknown>>> = {
  /** Why the style has it so, one sentence. */
  readonly why: string;
} & (
  | { readonly off: true; readonly times?: undefined }
  | { readonly off?: undefined; readonly times: { readonly [setting in keyof Settings]?: number } }
);

/** What each style is, one sentence. */
export const styles: Readonly<Record<StyleName, { readonly what: string }>> = {
  full: { what: "Full animation: weight, eases and overlap as bodies have them." },
  snappy: {
    what: "Poses that are hit hard, with few frames between them: hard starts and stops are meant.",
  },
  limited: {
    what: "Few drawings, of which only the acting part changes: what does not act is held, and what it carries too.",
  },
  twos: {
    what: "Each pose is held for two frames, as in drawn animation: half as many poses carry each ease.",
  },
};
