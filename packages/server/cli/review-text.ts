import type { Decision, ReviewRow } from "@keyside/core";

/** A remark or a decision on a line: its id, what it is, of what it speaks, who says so and what. */
export function rowText(row: ReviewRow, carried: Decision["carried"]): string {
  const { id, kind, first, last } = row;
  const frames = first === "" ? "" : first === last ? `, frame ${first}` : `, frames ${first} to ${last}`;
  const what = kind === "decision" ? `${row.verdict} ${row.check}` : `${row.weight}, ${row.state}`;
  const said = row.text === "" ? row.reason : row.text;
  const who = said === "" ? row.by : `${row.by}: ${said}`;
  const from = carried === undefined ? "" : ` (carried from ${carried.from} by ${carried.by})`;
  return `${id}  ${what}  ${row.node === "" ? "the shot" : row.node}${frames}  ${who}${from}`;
}
