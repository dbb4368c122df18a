import { type Adapter, decoded, type ReadOptions, type Resolve } from "../adapter.ts";
import { Problems } from "../problems.ts";
import { type NodeTable, nodeTableBeside, nodeTableEnding, readNodeTable } from "./node-table.ts";
import { readCsv } from "./read.ts";
import { writeCsvFiles } from "./write.ts";

/** Tables of keys (RFC 4180), with a table of nodes beside them. */
export const csvAdapter: Adapter = {
  name: "csv",
  title: "CSV",
  endings: [".csv"],
  // What people said of a shot is written as a table too, and is none of keys.
  beside: [nodeTableEnding, ".remarks.csv"],
  detect: (head) => /^\uFEFF?("?[^"\r\n]*"?[,;\t])*"?frame(@[^,;\t\r\n"]*)?"?\s*[,;\t]/i.test(decoded(head)),
  needs: (_, { file }) => (file === undefined ? [] : [nodeTableBeside(file)]),
  readText(text, resolve, options) {
    const problems = new Problems();
    const beside = besideOf(options, resolve, problems);
    const result = readCsv(text, { ...options, ...(beside === null ? {} : { beside }) });
    return { ...result, problems: [...problems.all(), ...result.problems] };
  },
  write: writeCsvFiles,
  cannotCarry: [
    "how keys run and their handles, in the wide layout: curves that are not straight are written frame by frame",
    "colours and visibility of nodes",
    "cameras, figures, parts, contacts, surfaces, props, shapes, sounds and waivers",
  ],
};

function besideOf({ file }: ReadOptions, resolve: Resolve, problems: Problems): NodeTable | null {
  if (file === undefined) return null;
  const name = nodeTableBeside(file);
  const found = resolve(name);
  return "why" in found ? null : readNodeTable(decoded(found), name, problems);
}
