import { valueAtPath } from "./words.ts";

type Path = readonly PropertyKey[];

/** What was left out of a document's members, so that a path in what is left can be found in the text. */
export class LeftOut {
  private readonly members: Record<string, unknown>;
  /** Per list from which entries went: the number in the text of each that is left. */
  private readonly numbers = new Map<unknown, readonly number[]>();
  private readonly touched = new Set<string>();

  /** @param members those of the document; {@link take} changes them in place */
  constructor(members: Record<string, unknown>) {
    this.members = members;
  }

  /** Names of the document's members in which positions are no longer those of the text. */
  get names(): ReadonlySet<string> {
    return this.touched;
  }

  /** Leaves members and entries of lists out. */
  take(targets: readonly Path[]): void {
    // From the back, so that positions in front stay as they are.
    const inOrder = [...targets].sort(
      (a, b) => Number(b[b.length - 1]) - Number(a[a.length - 1]) || b.length - a.length,
    );
    for (const target of inOrder) {
      const container = valueAtPath(this.members, target.slice(0, -1));
      const last = target[target.length - 1];
      if (!Array.isArray(container)) {
        if (container !== undefined) delete (container as Record<PropertyKey, unknown>)[last];
        continue;
      }
      const numbers = this.numbers.get(container) ?? container.map((_, index) => index);
      this.numbers.set(
        container,
        numbers.filter((_, index) => index !== last),
      );
      this.touched.add(String(target[0]));
      container.splice(last as number, 1);
    }
  }

  /** A path in the members that are left, as it is in the text, where entries that were left out count. */
  pathInText(path: string): string {
    if (this.numbers.size === 0) return path;
    let value: unknown = this.members;
    const steps = path.split("/").map((step) => {
      const number = this.numbers.get(value)?.[Number(step)];
      value = valueAtPath(value, [step]);
      return number ?? step;
    });
    return steps.join("/");
  }
}
