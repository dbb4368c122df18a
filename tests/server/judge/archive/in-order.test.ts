import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type InOrderOptions, inOrder } from "../../../../packages/server/judge/archive/in-order.ts";

const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

function options(over: Partial<InOrderOptions<number, number>> = {}): InOrderOptions<number, number> {
  return {
    atOnce: 2,
    lookahead: 8,
    signal: new AbortController().signal,
    weigh: async (weight) => weight,
    work: async (weight) => weight * 10,
    ...over,
  };
}

async function all<T>(from: AsyncIterable<T>): Promise<T[]> {
  const list: T[] = [];
  for await (const one of from) list.push(one);
  return list;
}

describe("results in the order of the inputs", () => {
  test("however long each takes, never more at once than allowed, never further ahead than allowed", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.nat(5), { maxLength: 60 }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 12 }),
        async (turns, atOnce, lookahead) => {
          let running = 0;
          let given = 0;
          const inputs = turns.map((count, index) => ({ count, index }));
          const results = inOrder(inputs, {
            atOnce,
            lookahead,
            signal: new AbortController().signal,
            weigh: async ({ count }) => count,
            async work({ count, index }) {
              running++;
              expect(running).toBeLessThanOrEqual(atOnce);
              // The one that is due may have been handed out and not yet asked past.
              expect(index).toBeLessThan(given + lookahead);
              for (let i = 0; i < count; i++) await turn();
              running--;
              return index;
            },
          });
          const order: number[] = [];
          for await (const [, index] of results) {
            order.push(index);
            given++;
          }
          expect(order).toEqual(turns.map((_, index) => index));
        },
      ),
      { numRuns: 60 },
    );
  });

  test("the heaviest in reach is taken up first, of equals the first", async () => {
    const begun: number[] = [];
    const inputs = [1, 5, 3, 5, 9];
    const work = async (weight: number) => {
      begun.push(weight);
      await turn();
      return weight;
    };
    await all(inOrder(inputs, options({ atOnce: 1, lookahead: 4, work })));
    // 9 comes into reach only once the first result has been given.
    expect(begun).toEqual([5, 5, 3, 1, 9]);
  });

  test("work that fails ends the run with its error", async () => {
    const work = async (weight: number) => {
      if (weight === 3) throw new Error("three");
      return weight;
    };
    await expect(all(inOrder([1, 2, 3, 4], options({ work })))).rejects.toThrow("three");
  });

  test("stopped, what is done still comes, in order, and nothing new is begun", async () => {
    const stopping = new AbortController();
    const begun: number[] = [];
    const work = async (input: number) => {
      begun.push(input);
      // The first never ends by itself.
      if (input === 100) await new Promise(() => {});
      if (begun.length === 4) stopping.abort();
      return input;
    };
    const results = await all(
      inOrder([100, 1, 2, 3, 4, 5], options({ atOnce: 2, work, signal: stopping.signal })),
    );
    expect(begun).toHaveLength(4);
    const inputs = results.map(([input]) => input);
    expect(inputs).toEqual([...inputs].sort((a, b) => a - b));
    expect(inputs.length).toBeGreaterThanOrEqual(2);
    expect(inputs).not.toContain(100);
  });

  test("no inputs", async () => {
    expect(await all(inOrder([], options()))).toEqual([]);
  });
});
