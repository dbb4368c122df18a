import type { Shot } from "@keyside/core";
import { isUsable, whyUnusable } from "@keyside/core/internal";
import { Problems } from "../problems.ts";
import { type Cell, type CellStyle, numberIn, readTable, type Table, writtenRow } from "./table.ts";

type NodeSpec = Shot["header"]["nodes"][number];

/** Ending of the name of a node table, which stands beside the table of keys: `quay.nodes.csv` beside `quay.csv`. */
export const nodeTableEnding = ".nodes.csv";

/** The name of the node table beside a table of keys. */
export function nodeTableBeside(file: string): string {
  return `${file.replace(/\.csv$/i, "")}${nodeTableEnding}`;
}

/** What a node table says. */
export interface NodeTable {
  readonly nodes: readonly NodeSpec[];
  readonly name?: string;
  readonly metresPerUnit?: number;
  readonly up?: "x" | "y" | "z";
  readonly angle?: "degrees" | "radians";
  readonly range?: readonly [number, number];
}

const vectors = ["translation", "rotation", "scale"] as const;
const orders: readonly string[] = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"];
/** Columns that say the same in each row: they are of the shot. */
const ofShot = ["shot", "metresPerUnit", "up", "angle", "firstFrame", "lastFrame"] as const;

/**
 * Writes the nodes of a shot as a table: a row a node, with its parent and its values at rest, empty where the shot does
 * not say them. The last columns are of the shot, and alike in all rows.
 */
export function writeNodeTable(shot: Shot, style: CellStyle): string {
  const { nodes, space, shot: own } = shot.header;
  const header = [
    "node",
    "parent",
    "rotationOrder",
    ...vectors.flatMap((name) => ["x", "y", "z"].map((axis) => `${name}.${axis}`)),
    ...["x", "y", "z", "w"].map((part) => `fixedRotation.${part}`),
    ...ofShot,
  ];
  const common = [
    own.name ?? "",
    space?.metresPerUnit ?? "",
    space?.up ?? "",
    space?.angle ?? "degrees",
    ...shot.range,
  ];
  const rows = nodes.map((node): (string | number)[] => [
    node.id,
    node.parent ?? "",
    node.rotationOrder ?? "",
    ...vectors.flatMap((name): (string | number)[] => node[name] ?? ["", "", ""]),
    ...(node.fixedRotation ?? ["", "", "", ""]),
    ...common,
  ]);
  return [header, ...rows].map((row) => writtenRow(row, style)).join("");
}

/**
 * Reads a node table. Columns stand in any order, and all but `node` may be missing.
 * @param file its name, which problems are told with: they stand in another text than those of the keys
 */
export function readNodeTable(text: string, file: string, problems: Problems): NodeTable {
  const own = new Problems();
  const table = readTable(text, own);
  const [header = [], ...rows] = table.rows;
  const lineOf = (at: number) => text.slice(0, at).split(/\r\n|\r|\n/).length;
  const tell = (message: string, at = 0) =>
    problems.add("node-table", `${file}, line ${lineOf(at)}: ${message}`);
  for (const { message, start } of own.all()) tell(message, start);
  const names = header.map((cell) => cell.text.toLowerCase());
  const columnOf = (name: string) => names.indexOf(name.toLowerCase());
  const nodeAt = columnOf("node");
  if (nodeAt < 0) {
    tell('The table has no column "node"; name it in the first line.');
    return { nodes: [] };
  }
  const read = new Row(table, columnOf, tell);
  const nodes: NodeSpec[] = [];
  const taken = new Set<string>();
  for (const row of rows) {
    const id = row[nodeAt]?.text ?? "";
    if (id === "" || taken.has(id)) {
      tell(
        id === "" ? "This row names no node; it is passed over." : `"${id}" has a row already.`,
        row[0].start,
      );
      continue;
    }
    taken.add(id);
    nodes.push(read.node(row, id));
  }
  return { nodes: orphansToRoots(nodes, taken, tell), ...read.shot(rows[0] ?? []) };
}

/** A parent that has no row is told, and its child a root. */
function orphansToRoots(
  nodes: readonly NodeSpec[],
  taken: ReadonlySet<string>,
  tell: (message: string) => void,
): NodeSpec[] {
  return nodes.map((node) => {
    if (node.parent === undefined || taken.has(node.parent)) return node;
    tell(`The parent "${node.parent}" of "${node.id}" has no row; the node is taken for a root.`);
    const { parent: _, ...root } = node;
    return root;
  });
}

/** Reads cells of rows by the names of their columns. */
class Row {
  private readonly table: Table;
  private readonly columnOf: (name: string) => number;
  private readonly tell: (message: string, at: number) => void;

  constructor(table: Table, columnOf: Row["columnOf"], tell: Row["tell"]) {
    this.table = table;
    this.columnOf = columnOf;
    this.tell = tell;
  }

  node(row: readonly Cell[], id: string): NodeSpec {
    const parent = this.text(row, "parent");
    const order = this.oneOf(row, "rotationOrder", orders);
    const spec: Record<string, unknown> = { id };
    if (parent !== undefined) spec["parent"] = parent;
    if (order !== undefined) spec["rotationOrder"] = order;
    for (const name of vectors) {
      const values = this.numbers(
        row,
        ["x", "y", "z"].map((axis) => `${name}.${axis}`),
        name === "scale" ? 1 : 0,
      );
      if (values !== undefined) spec[name] = values;
    }
    const fixed = this.numbers(
      row,
      ["x", "y", "z", "w"].map((part) => `fixedRotation.${part}`),
      Number.NaN,
    );
    if (fixed?.every((value) => !Number.isNaN(value)) === true && Math.hypot(...fixed) > 1e-9) {
      spec["fixedRotation"] = fixed;
    } else if (fixed !== undefined) this.tell(`The fixedRotation of "${id}" is no quaternion.`, row[0].start);
    return spec as NodeSpec;
  }

  shot(row: readonly Cell[]): Omit<NodeTable, "nodes"> {
    const name = this.text(row, "shot");
    const [metres] = this.numbers(row, ["metresPerUnit"], Number.NaN) ?? [];
    const up = this.oneOf(row, "up", ["x", "y", "z"]);
    const angle = this.oneOf(row, "angle", ["degrees", "radians"]);
    const [first, last] = this.numbers(row, ["firstFrame", "lastFrame"], Number.NaN) ?? [];
    return {
      ...(name === undefined ? {} : { name }),
      ...(metres !== undefined && metres >= 1e-9 ? { metresPerUnit: metres } : {}),
      ...(up === undefined ? {} : { up: up as "x" | "y" | "z" }),
      ...(angle === undefined ? {} : { angle: angle as "degrees" | "radians" }),
      ...(first <= last ? { range: [first, last] as const } : {}),
    };
  }

  private cell(row: readonly Cell[], name: string): Cell | undefined {
    const cell = row[this.columnOf(name)];
    return cell === undefined || cell.text === "" ? undefined : cell;
  }

  private text(row: readonly Cell[], name: string): string | undefined {
    return this.cell(row, name)?.text;
  }

  private oneOf(row: readonly Cell[], name: string, words: readonly string[]): string | undefined {
    const cell = this.cell(row, name);
    const word = cell?.text.toLowerCase();
    if (cell === undefined || word === undefined) return undefined;
    if (words.includes(word)) return word;
    this.tell(`"${cell.text}" is no ${name} (${words.join(", ")}); it is left out.`, cell.start);
    return undefined;
  }

  /** Numbers of some columns; undefined where all of their cells are empty. */
  private numbers(row: readonly Cell[], columns: readonly string[], missing: number): number[] | undefined {
    let isGiven = false;
    const values = columns.map((name) => {
      const cell = this.cell(row, name);
      if (cell === undefined) return missing;
      const value = numberIn(cell, this.table.delimiter);
      isGiven = true;
      if (isUsable(value)) return value;
      this.tell(`"${cell.text}" ${whyUnusable(value)}; it is left out.`, cell.start);
      return missing;
    });
    return isGiven ? values : undefined;
  }
}
