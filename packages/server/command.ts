// What the bundle of the command holds: all of it but its worker threads.
export { processCommandIo } from "./cli/command-io.ts";
export { run } from "./cli/run.ts";
