import { version } from "./base/version.ts";

// Reasons that nobody can read must not end a run: its report and its exit code tell what came of it.
process.stderr.on("error", () => {});

const argv = process.argv.slice(2);
// The version is asked for by programs that only want to know whether there is one: it is told before anything is loaded
// that a command may need.
if (argv.length === 1 && argv[0] === "--version") {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    process.exitCode = error.code === "EPIPE" ? 141 : 3;
    process.stderr.write(`keyside: stdout: The version could not be written (${error.code}).\n`);
  });
  process.stdout.write(`${version}\n`);
} else {
  const { loadBundle } = await import("./base/bundle.ts");
  const bundle = loadBundle(new URL("./", import.meta.url).href) as typeof import("./command.ts") | null;
  const { processCommandIo, run } = bundle ?? (await import("./command.ts"));
  process.exitCode = await run(argv, processCommandIo());
}
