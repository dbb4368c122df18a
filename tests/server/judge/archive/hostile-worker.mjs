/** Takes half a gigabyte that the engine's own limits do not see, and goes on. */
function fill() {
  const taken = [];
  for (let i = 0; i < 50; i++) taken.push(new Float64Array(1_250_000).fill(1));
  for (;;) Math.random();
}

// Stands in for the worker that judges shots: does what a shot's name says.
export default async function judge({ task, begun }) {
  if (task.file === "no-start") await new Promise((resolve) => setTimeout(resolve, 400));
  Atomics.store(new Int32Array(begun), 0, 1);
  if (task.file === "hang") for (;;) Math.random();
  if (task.file === "fill") fill();
  if (task.file === "sleep") await new Promise(() => setInterval(() => {}, 1000));
  if (task.file === "throw") throw new Error("thrown\n    at a line");
  if (task.file === "later")
    setImmediate(() => {
      throw new Error("thrown later");
    });
  if (task.file === "later") await new Promise(() => {});
  if (task.file === "exit") process.exit(3);
  return { kind: "shot", stored: task.file, isCached: false, unkept: null };
}
