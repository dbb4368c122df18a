/** A note as the corpus keeps it; see rows.mjs. */
export interface Row {
  readonly check: string;
  readonly tier: string;
  readonly waived: boolean;
  readonly figure: string;
  readonly node: string;
  readonly frames: readonly [number, number] | null;
  readonly value: string;
  readonly quantity: string;
  readonly keys: string;
}

/** Loads a module of the corpus, which is plain JavaScript. */
// biome-ignore lint/suspicious/noExplicitAny: the corpus carries its types in comments
export function corpusModule(name: string): Promise<any> {
  return import(/* @vite-ignore */ new URL(name, import.meta.url).href);
}

/** A made-up note. */
export function row(more: Partial<Row> = {}): Row {
  return {
    check: "pop",
    tier: "minor",
    waived: false,
    figure: "dancer",
    node: "hand",
    frames: [40, 41],
    value: "0.01234 m",
    quantity: "deviation from the path",
    keys: "hand rotation.x 40",
    ...more,
  };
}
