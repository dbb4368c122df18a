/** Styles of animation; each moves the thresholds of several checks together. */
export const styleNames = ["full", "snappy", "twos"] as const;
export type StyleName = (typeof styleNames)[number];

/** What a style does to one check: turns it off, or multiplies settings' defaults. */
export type StyleChange = false | Readonly<Record<string, number>>;

export interface Style {
  /** What the style is, one sentence. */
  readonly what: string;
  /** By check. Only defaults are moved: a value that a configuration chooses stands as it is written. */
  readonly changes: Readonly<Record<string, StyleChange>>;
}

/** The factors are common practice, not measured: a starting point that a studio sets for itself. */
export const styles: Readonly<Record<StyleName, Style>> = {
  full: {
    what: "Full animation: weight, eases and overlap as bodies have them.",
    changes: {},
  },
  snappy: {
    what: "Poses that are hit hard, with few frames between them: hard starts and stops are meant.",
    changes: {
      "hard-stop": false,
      "hard-start": false,
      "straight-path": false,
      // A fast transition crosses most of its way in one or two frames.
      "spacing-jump": { ratio: 2, change: 2 },
      pop: { spread: 1.5 },
      // Poses are passed and settled into on purpose.
      overshoot: { share: 3 },
      "lone-joint": { turn: 1.5 },
    },
  },
  twos: {
    what: "Each pose is held for two frames, as in drawn animation: half as many poses carry each ease.",
    changes: {
      "frozen-hold": false,
      "hard-stop": { share: 0.5 },
      "hard-start": { share: 0.5 },
      "spacing-jump": { ratio: 1.5 },
      hitch: { share: 0.5 },
      "no-drag": { lag: 2 },
    },
  },
};
