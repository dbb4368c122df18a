export { type CsvOptions, readCsv } from "./read.ts";
export { writeCsv } from "./write.ts";
