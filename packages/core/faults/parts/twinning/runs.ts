/** The runs of flags that are set: first and last index of each. */
export function runsOf(flags: Uint8Array): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < flags.length; i++) {
    if (flags[i] === 0) continue;
    const from = i;
    while (i + 1 < flags.length && flags[i + 1] === 1) i++;
    runs.push([from, i]);
  }
  return runs;
}
