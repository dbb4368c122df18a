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
    // Entries go at the end, from each list at once: until then positions are those that the targets name.
    const gone = new Map<unknown[], Set<unknown>>();
    for (const target of targets) {
      const container = valueAtPath(this.members, target.slice(0, -1));
      const last = target[target.length - 1];
      if (!Array.isArray(container)) {
        if (container !== undefined) delete (container as Record<PropertyKey, unknown>)[last];
        continue;
      }
      const entries = gone.get(container) ?? new Set();
      gone.set(container, entries.add(last));
      this.touched.add(String(target[0]));
    }
    for (const [list, entries] of gone) {
      const numbers = this.numbers.get(list) ?? list.map((_, index) => index);
      this.numbers.set(
        list,
        numbers.filter((_, index) => !entries.has(index)),
      );
      const left = list.filter((_, index) => !entries.has(index));
      list.length = 0;
      for (const one of left) list.push(one);
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
