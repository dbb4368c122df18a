import type { Problem } from "@keyside/core";
import { shortMessage } from "@keyside/core/internal";

/** Collects problems; of one code it tells the first ones and then how many more there are. */
export class Problems {
  private readonly list: Problem[] = [];
  private readonly counts = new Map<string, number>();
  private readonly limit: number;

  constructor(limit = 20) {
    this.limit = limit;
  }

  add(code: string, message: string, start = 0, end = start, path = ""): void {
    const count = (this.counts.get(code) ?? 0) + 1;
    this.counts.set(code, count);
    if (count <= this.limit) this.list.push({ code, message: shortMessage(message), start, end, path });
  }

  all(): readonly Problem[] {
    const more = [...this.counts].filter(([, count]) => count > this.limit);
    return [
      ...this.list,
      ...more.map(([code, count]) => {
        const last = this.list.filter((problem) => problem.code === code).at(-1) as Problem;
        return { ...last, message: `${count - this.limit} more problems of the kind "${code}" follow.` };
      }),
    ];
  }
}
