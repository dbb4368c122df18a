import { version } from "./base/version.ts";

// Whoever reads the output may stop reading, for example `keyside check … | head`: what was found is not known then,
// so that the run ends as a program does that a closed pipe stopped (128 + SIGPIPE).
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(141);
});

const argv = process.argv.slice(2);
// The version is asked for by programs that only want to know whether there is one: it is told before the five hundred
// modules are loaded that a command may need.
if (argv.length === 1 && argv[0] === "--version") process.stdout.write(`${version}\n`);
else {
  const [{ processCommandIo }, { run }] = await Promise.all([
    import("./cli/command-io.ts"),
    import("./cli/run.ts"),
  ]);
  process.exitCode = await run(argv, processCommandIo());
}
