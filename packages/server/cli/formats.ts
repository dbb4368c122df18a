import type { Adapter } from "@keyside/adapters";
import { exitCodes } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { allAdapters } from "../judge/shots/readers.ts";
import { type Column, columnWidths, lineOf } from "../present/text/columns.ts";
import { type Layout, painted, wrapped } from "../present/text/layout.ts";
import { layoutFor } from "./layout-for.ts";

/** `keyside formats`: lists the formats, what is done with each, and what it cannot carry. */
export function formats(format: "text" | "json", io: Io): number {
  const { origins, problem } = pluginsOf(io);
  const all = allAdapters();
  io.stdout(
    format === "json" ? `${JSON.stringify(all.map(asData), null, 2)}\n` : textOf(all, origins, layoutFor(io)),
  );
  if (problem !== null) throw problem;
  return exitCodes.clean;
}

function asData({ name, title, endings, beside = [], read, readText, write, cannotCarry }: Adapter): unknown {
  return {
    name,
    title,
    endings,
    beside,
    read: read !== undefined || readText !== undefined,
    written: write !== undefined,
    cannotCarry,
  };
}

const heads: readonly Column[] = [
  { head: "name", least: 8 },
  { head: "format", least: 12 },
  { head: "files", least: 12 },
  { head: "read", least: 4 },
  { head: "written", least: 7 },
];

function textOf(all: readonly Adapter[], origins: ReadonlyMap<string, string>, layout: Layout): string {
  const rows = all.map(({ name, title, endings, read, readText, write }) => [
    name,
    title,
    endings.join(", "),
    read === undefined && readText === undefined ? "no" : "yes",
    write === undefined ? "no" : "yes",
  ]);
  const widths = columnWidths(layout, heads, rows, 0);
  const headings = heads.map(({ head }) => head);
  const lines = [headings, ...rows].map((cells) => lineOf(cells, heads, widths, 0));
  lines.push("");
  for (const { name, cannotCarry } of all) {
    if (cannotCarry.length === 0) continue;
    lines.push(painted(layout, "bold", `${name} cannot carry`));
    for (const what of cannotCarry) lines.push(wrapped(layout, what, "    ", "  - "));
    lines.push("");
  }
  const own = all.flatMap(({ name }) => {
    const module = origins.get(`adapter ${name}`);
    return module === undefined ? [] : [`${name} comes from ${module}`];
  });
  if (own.length > 0) lines.push(...own, "");
  lines.push("keyside convert IN OUT writes any of them from any other; endings tell the formats.");
  return `${lines.join("\n")}\n`;
}
