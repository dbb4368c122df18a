import { interpolations, type Shot } from "@keyside/core";
import { namesOf } from "./names.ts";
import { written } from "./table.ts";

/**
 * Writes a shot's keys as a table that {@link file://./read.ts} reads, ended by CRLF after RFC 4180. A table has no
 * room for the hierarchy and for handles; the wide layout has none for interpolation either.
 * @param options `safeCells`: names that a spreadsheet would run as a formula get an apostrophe before them, with which
 *   they are read back; without it every name is read back as it was
 */
export function writeCsv(
  shot: Shot,
  layout: "long" | "wide" = "long",
  { safeCells = false }: { readonly safeCells?: boolean } = {},
): string {
  const { numerator, denominator } = shot.frameRate;
  const frame = `frame@${denominator === 1 ? numerator : `${numerator}/${denominator}`}`;
  const rows = layout === "long" ? longRows(shot, frame) : wideRows(shot, frame);
  return rows.map((row) => `${row.map((cell) => written(cell, safeCells)).join(",")}\r\n`).join("");
}

type Row = (string | number)[];

function longRows(shot: Shot, frame: string): Row[] {
  const rows: Row[] = [[frame, "node", "channel", "value", "interpolation"]];
  for (const { node, channel, width, frames, values, modes } of shot.curves) {
    const names = namesOf(channel);
    frames.forEach((at, key) => {
      for (let i = 0; i < width; i++) {
        rows.push([at, node, names[i], values[key * width + i], interpolations[modes[key]]]);
      }
    });
  }
  return rows;
}

function wideRows(shot: Shot, frame: string): Row[] {
  const header: Row = [frame];
  const byFrame = new Map<number, Row>();
  for (const { node, channel, width, frames, values } of shot.curves) {
    const first = header.length;
    header.push(...namesOf(channel).map((name) => `${node}.${name}`));
    frames.forEach((at, key) => {
      let row = byFrame.get(at);
      if (row === undefined) {
        row = [at];
        byFrame.set(at, row);
      }
      for (let i = 0; i < width; i++) row[first + i] = values[key * width + i];
    });
  }
  const rows = [...byFrame].sort(([a], [b]) => a - b).map(([, row]) => row);
  return [header, ...rows.map((row) => Array.from(header, (_, i) => row[i] ?? ""))];
}
