import { processCommandIo } from "./cli/command-io.ts";
import { run } from "./cli/run.ts";

// Whoever reads the output may stop reading, for example `keyside check … | head`: what was found is not known then,
// so that the run ends as a program does that a closed pipe stopped (128 + SIGPIPE).
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(141);
});

process.exitCode = await run(process.argv.slice(2), processCommandIo());
