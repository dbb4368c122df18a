/** Times pairs of functions in turn (A, B, A, B …), so that drift of the machine meets both alike. */
export function paired(a, b, { rounds = 15, warmup = 5 } = {}) {
  for (let i = 0; i < warmup; i++) {
    a();
    b();
  }
  const times = { a: [], b: [], ratio: [] };
  for (let i = 0; i < rounds; i++) {
    const ta = timed(a);
    const tb = timed(b);
    times.a.push(ta);
    times.b.push(tb);
    times.ratio.push(ta / tb);
  }
  return { a: median(times.a), b: median(times.b), ratio: median(times.ratio) };
}

/** Milliseconds of one call. */
export function timed(run) {
  const start = performance.now();
  run();
  return performance.now() - start;
}

export function median(values) {
  const sorted = [...values].sort((x, y) => x - y);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** A table in Markdown. */
export function table(head, rows) {
  const line = (cells) => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}

export function ms(value) {
  return `${value.toFixed(value < 10 ? 2 : 1)} ms`;
}
