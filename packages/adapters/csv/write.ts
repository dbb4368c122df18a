import { type Curve, interpolations, type Shot, sampleCurve } from "@keyside/core";
import type { WriteOptions, WriteResult } from "../adapter.ts";
import { countedLoss, lostParts } from "../lost.ts";
import { handleColumns, namesOf } from "./names.ts";
import { nodeTableBeside, writeNodeTable } from "./node-table.ts";
import { type CellStyle, writtenRow } from "./table.ts";

export interface CsvStyle extends CellStyle {
  /** Whether each curve gets a value on every frame, instead of one on each key. */
  readonly isBaked?: boolean | undefined;
}

/**
 * Writes a shot's keys as a table that {@link file://./read.ts} reads, ended by CRLF after RFC 4180. The long layout
 * keeps keys as they are, with columns for handles where there are any. The wide one has no room for how a key runs:
 * curves that do not run straight get a value on every frame. The hierarchy has its own table.
 * @param style `safeCells`: names that a spreadsheet would run as a formula get an apostrophe before them, with which
 *   they are read back; without it every name is read back as it was
 */
export function writeCsv(shot: Shot, layout: "long" | "wide" = "long", style: CsvStyle = {}): string {
  const { numerator, denominator } = shot.frameRate;
  const frame = `frame@${denominator === 1 ? numerator : `${numerator}/${denominator}`}`;
  const isBaked = (curve: Curve) => style.isBaked === true || (layout === "wide" && !isStraight(curve));
  const curves = shot.curves.map((curve) => (isBaked(curve) ? baked(curve, shot.range) : curve));
  const rows = layout === "long" ? longRows(curves, frame) : wideRows(curves, frame);
  return rows.map((row) => writtenRow(row, style)).join("");
}

/** The table of a shot's keys, and beside it the table of its nodes. */
export function writeCsvFiles(shot: Shot, options: WriteOptions): WriteResult {
  const { file, layout = "long", ...style } = options;
  const bent =
    layout === "wide" && options.isBaked !== true ? shot.curves.filter((curve) => !isStraight(curve)) : [];
  const { nodes } = shot.header;
  const lost = [
    ...lostParts(shot, { cameras: "cameras" }),
    ...countedLoss(
      bent.length,
      "A curve does not run straight from key to key; it is written frame by frame.",
      "N curves do not run straight from key to key; they are written frame by frame.",
    ),
    ...countedLoss(
      nodes.filter(({ colour, visible }) => colour !== undefined || visible !== undefined).length,
      "The colour or visibility of a node.",
      "Colours or visibilities of N nodes.",
    ),
  ];
  return {
    files: [
      { name: file, content: writeCsv(shot, layout, style) },
      { name: nodeTableBeside(file), content: writeNodeTable(shot, style) },
    ],
    lost,
  };
}

type Row = (string | number)[];

const linear = interpolations.indexOf("linear");

/** Whether a curve runs straight between all of its keys; how the last one goes on is no matter. */
function isStraight({ modes }: Curve): boolean {
  return modes.every((mode, key) => mode === linear || key === modes.length - 1);
}

/** A curve with a straight key on every frame that is judged from its first key to its last, and on its own keys. */
function baked(curve: Curve, [from, to]: Shot["range"]): Curve {
  const { width } = curve;
  const first = curve.frames[0] ?? 0;
  const last = curve.frames.at(-1) ?? -1;
  const all = new Set(curve.frames);
  for (let frame = Math.max(from, Math.ceil(first)); frame <= Math.min(to, last); frame++) all.add(frame);
  const frames = Float64Array.from(all).sort();
  const values = new Float64Array(width * frames.length);
  sampleCurve(curve, frames, values);
  const modes = new Uint8Array(frames.length).fill(linear);
  return {
    ...curve,
    interpolation: "linear",
    frames,
    values,
    modes,
    handles: null,
    ownModes: null,
    place: null,
  };
}

function longRows(curves: readonly Curve[], frame: string): Row[] {
  const hasHandles = curves.some(({ handles }) => handles?.some((number) => !Number.isNaN(number)) === true);
  const rows: Row[] = [
    [frame, "node", "channel", "value", "interpolation", ...(hasHandles ? handleColumns : [])],
  ];
  for (const { node, channel, width, frames, values, modes, handles } of curves) {
    const names = namesOf(channel);
    frames.forEach((at, key) => {
      for (let i = 0; i < width; i++) {
        const row: Row = [at, node, names[i], values[key * width + i], interpolations[modes[key]]];
        if (hasHandles) row.push(...handlesAt(handles, width, key, i));
        rows.push(row);
      }
    });
  }
  return rows;
}

function handlesAt(handles: Float64Array | null, width: 1 | 4, key: number, component: number): number[] {
  if (handles === null) return [Number.NaN, Number.NaN, Number.NaN, Number.NaN];
  if (width === 1) return [...handles.subarray(4 * key, 4 * key + 4)];
  return [Number.NaN, handles[8 * key + component], Number.NaN, handles[8 * key + 4 + component]];
}

function wideRows(curves: readonly Curve[], frame: string): Row[] {
  const header: Row = [frame];
  const byFrame = new Map<number, Row>();
  for (const { node, channel, width, frames, values } of curves) {
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
