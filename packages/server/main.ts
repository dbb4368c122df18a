import { processIo } from "./cli/io.ts";
import { run } from "./cli/run.ts";

// Whoever reads the output may stop reading, for example `keyside check … | head`.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
});

process.exitCode = await run(process.argv.slice(2), processIo());
