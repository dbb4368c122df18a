export interface InOrderOptions<I, O> {
  /** How many are worked on at the same time. */
  readonly atOnce: number;
  /** How far ahead of the next result that is due work may be taken up: bounds what waits in memory. */
  readonly lookahead: number;
  /** Stops taking up work; what is done already still comes. */
  readonly signal: AbortSignal;
  /** How much work an input is: of those in reach, the heaviest is taken up first. */
  weigh(input: I): Promise<number>;
  work(input: I): Promise<O>;
}

/**
 * Works on inputs several at a time and gives the results in the inputs' order.
 *
 * Work is taken up heaviest first among the inputs in reach, so that a big one does not start last while everybody
 * else has gone home; the reach moves with the results that have been given, so that memory is bounded.
 */
export async function* inOrder<I, O>(
  inputs: readonly I[],
  { atOnce, lookahead, signal, weigh, work }: InOrderOptions<I, O>,
): AsyncGenerator<readonly [I, O]> {
  const waiting: { readonly index: number; readonly weight: number }[] = [];
  const done = new Map<number, O>();
  let reached = 0;
  let due = 0;
  let running = 0;
  let failure: { readonly error: unknown } | null = null;
  let wake = () => {};

  const reach = async () => {
    const from = reached;
    reached = Math.min(inputs.length, due + lookahead);
    const indices = Array.from({ length: reached - from }, (_, i) => from + i);
    const weights = await Promise.all(indices.map((index) => weigh(inputs[index] as I)));
    indices.forEach((index, i) => {
      waiting.push({ index, weight: weights[i] as number });
    });
  };
  const takeUp = () => {
    while (running < atOnce && waiting.length > 0 && !signal.aborted && failure === null) {
      const index = heaviest(waiting);
      running++;
      work(inputs[index] as I)
        .then((result) => done.set(index, result))
        .catch((error) => {
          failure = { error };
        })
        .finally(() => {
          running--;
          takeUp();
          wake();
        });
    }
  };
  const stop = () => wake();
  signal.addEventListener("abort", stop);
  try {
    while (due < inputs.length && !signal.aborted) {
      if (reached < Math.min(inputs.length, due + lookahead)) await reach();
      takeUp();
      if (failure !== null) throw (failure as { error: unknown }).error;
      if (!done.has(due)) {
        await new Promise<void>((resolve) => {
          wake = resolve;
          if (signal.aborted || failure !== null || done.has(due)) resolve();
        });
        continue;
      }
      yield take(due);
      due++;
    }
    for (const index of [...done.keys()].sort((a, b) => a - b)) yield take(index);
  } finally {
    signal.removeEventListener("abort", stop);
  }

  function take(index: number): readonly [I, O] {
    const result = done.get(index) as O;
    done.delete(index);
    return [inputs[index] as I, result];
  }
}

/** Takes the heaviest out; of equals the first, so that results are due soon. */
function heaviest(waiting: { readonly index: number; readonly weight: number }[]): number {
  let best = 0;
  for (let i = 1; i < waiting.length; i++) {
    if ((waiting[i]?.weight ?? 0) > (waiting[best]?.weight ?? 0)) best = i;
  }
  return waiting.splice(best, 1)[0]?.index as number;
}
