export { nodeTableBeside, nodeTableEnding } from "./node-table.ts";
export { type CsvOptions, readCsv } from "./read.ts";
export { writeCsv } from "./write.ts";
