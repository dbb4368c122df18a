// @ts-check
/**
 * What does a change do to real motion? Compares the notes that the code gives on a corpus of shots with those that are
 * committed in `tests/corpus/notes`, and ends with 1 where they differ. `--write` writes them anew, `--source NAME` (may
 * be repeated) looks at some alone.
 */
import { fileURLToPath } from "node:url";
import { runCorpus } from "./command.mjs";
import { allSources } from "./sources.mjs";

process.exitCode = await runCorpus(process.argv.slice(2), {
  sources: allSources(),
  folder: fileURLToPath(new URL("notes", import.meta.url)),
  print: (line) => console.log(line),
  complain: (line) => console.error(line),
});
