/** Why a check said nothing of something that it saw. */
export interface Excuse {
  /** Rig index of the node that is excused; -1 for the whole figure. */
  readonly node: number;
  /** Grid indices, both included. */
  readonly from: number;
  readonly to: number;
  /** The rule that excuses it, as what goes on in a sentence behind "because". */
  readonly because: string;
}

/** Who listens; null nearly always, so that an excuse costs nothing. It is written to and never read by a check. */
let listener: ((excuse: Excuse) => void) | null = null;

/**
 * Tells whoever listens that a rule of a check keeps it silent. The rules that a setting decides need no word: they are
 * found by turning the setting.
 */
export function excused(node: number, from: number, to: number, because: string): void {
  listener?.({ node, from, to, because });
}

/** Runs something and gives the excuses that were told meanwhile. */
export function excusesIn(run: () => void): readonly Excuse[] {
  const heard: Excuse[] = [];
  const before = listener;
  listener = (excuse) => heard.push(excuse);
  try {
    run();
  } finally {
    listener = before;
  }
  return heard;
}
