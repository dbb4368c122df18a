/**
 * Who may work at the same time: many side by side, or one alone. Whoever wants to be alone waits until all others are
 * done, and they wait for it.
 */
export class Turns {
  private together = 0;
  private isAlone = false;
  private readonly waiting: { readonly alone: boolean; readonly begin: () => void }[] = [];

  /** Works beside others. */
  async beside<T>(work: () => Promise<T>): Promise<T> {
    if (this.isAlone || this.waiting.some(({ alone }) => alone)) await this.turn(false);
    else this.together++;
    try {
      return await work();
    } finally {
      this.together--;
      this.next();
    }
  }

  /** Works with nobody beside. */
  async alone<T>(work: () => Promise<T>): Promise<T> {
    if (this.isAlone || this.together > 0) await this.turn(true);
    else this.isAlone = true;
    try {
      return await work();
    } finally {
      this.isAlone = false;
      this.next();
    }
  }

  private turn(alone: boolean): Promise<void> {
    return new Promise((begin) => this.waiting.push({ alone, begin }));
  }

  /** Those who want to be alone go first, one after another. */
  private next(): void {
    if (this.isAlone) return;
    const first = this.waiting.findIndex(({ alone }) => alone);
    if (first >= 0) {
      if (this.together > 0) return;
      this.isAlone = true;
      this.waiting.splice(first, 1)[0]?.begin();
      return;
    }
    for (const { begin } of this.waiting.splice(0)) {
      this.together++;
      begin();
    }
  }
}
