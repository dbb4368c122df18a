import { z } from "zod";
import { type MessageSpec, messages } from "./messages.ts";
import { protocolVersions, refusals } from "./protocol.ts";

/** JSON Schema as far as it is shown. */
interface Shape {
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly required?: readonly string[];
  readonly items?: Shape | false;
  readonly prefixItems?: readonly Shape[];
  readonly anyOf?: readonly Shape[];
  readonly oneOf?: readonly Shape[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly default?: unknown;
}

/** The page on the messages of the host channel (docs/host-messages.md), in Markdown. */
export function hostReference(): string {
  const parts = [
    "# Messages of the host channel",
    `Version ${protocolVersions.join(", ")}. This page is made from the schemas that the feed holds messages against; [the host channel](host-protocol.md) tells how they are used. A dot stands for "in", \`[]\` for "each of". Properties that stand in no table are passed over.`,
    ...Object.entries(messages).map(([method, spec]) => message(method, spec)),
    "## Refusals",
    "A request that is refused is answered with an error. Its `code` is one of these, `data.reason` the name; params that are not as above have the code -32602 and the reason `bad-params`, with `data.problems`. A request that is unknown has the code -32601.",
    table(
      ["code", "reason", "when"],
      Object.entries(refusals).map(([reason, { code, when }]) => [String(code), `\`${reason}\``, when]),
    ),
  ];
  return `${parts.join("\n\n")}\n`;
}

/** JSON Schema (draft 2020-12) of the messages: per method its params and its answer. */
export function hostJsonSchema(): Record<string, unknown> {
  const methods = Object.entries(messages).map(([method, { params, answer }]) => [
    method,
    { params: schemaOf(params, "input"), ...(answer === null ? {} : { answer: schemaOf(answer, "output") }) },
  ]);
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title: "Messages of Keyside's host channel",
    $defs: Object.fromEntries(methods),
  };
}

function message(method: string, { from, what, params, answer, refusals: reasons }: MessageSpec): string {
  const kind = answer === null ? "notification" : "request";
  const parts = [`## ${method}`, `From the ${from}, a ${kind}. ${what}`, ...fields("Params", params)];
  if (answer !== null) parts.push(...fields("Answer", answer));
  if (reasons.length > 0)
    parts.push(`May be refused with ${reasons.map((reason) => `\`${reason}\``).join(", ")}.`);
  return parts.join("\n\n");
}

function fields(title: string, schema: z.ZodType): string[] {
  const shape = schemaOf(schema, "input") as Shape;
  if (shape.type === "null") return [`${title}: null.`];
  const alternatives = shape.anyOf ?? [shape];
  return alternatives.flatMap((alternative, index) => {
    const rows = rowsOf(alternative, "");
    return [`${index === 0 ? title : "Or"}:`, table(["property", "type", "what"], rows)];
  });
}

function rowsOf(shape: Shape, above: string): string[][] {
  return Object.entries(shape.properties ?? {}).flatMap(([name, property]) => {
    const path = above === "" ? name : `${above}.${name}`;
    const isOptional = !(shape.required ?? []).includes(name) || property.default !== undefined;
    const notes = [
      property.description ?? "",
      property.default === undefined ? "" : `${JSON.stringify(property.default)} if left out.`,
      isOptional && property.default === undefined ? "May be left out." : "",
    ];
    const row = [`\`${path}\``, typeOf(property), notes.filter((note) => note !== "").join(" ")];
    return [row, ...inner(property, path)];
  });
}

/** Rows of what stands in a property. */
function inner(property: Shape, path: string): string[][] {
  if (property.properties !== undefined) return rowsOf(property, path);
  const items = property.items || undefined;
  if (items?.properties !== undefined) return rowsOf(items, `${path}[]`);
  const kinds = items?.oneOf ?? [];
  return kinds.flatMap((kind) => {
    const name = String(kind.properties?.["kind"]?.const);
    return rowsOf(kind, `${path}[]`).map(([where, type, what]) => [where, type, `(${name}) ${what}`.trim()]);
  });
}

function typeOf(shape: Shape): string {
  if (shape.const !== undefined) return `\`${JSON.stringify(shape.const)}\``;
  if (shape.enum !== undefined) return shape.enum.map((value) => `\`${String(value)}\``).join(", ");
  const either = shape.anyOf ?? shape.oneOf;
  if (either !== undefined) return [...new Set(either.map(typeOf))].join(" or ");
  if (shape.prefixItems !== undefined) return `[${shape.prefixItems.map(typeOf).join(", ")}]`;
  if (shape.type === "array") return `list of ${shape.items ? typeOf(shape.items) : "anything"}`;
  return typeof shape.type === "object" ? shape.type.join(" or ") : (shape.type ?? "anything");
}

function schemaOf(schema: z.ZodType, io: "input" | "output"): Record<string, unknown> {
  const { $schema: _, ...shape } = z.toJSONSchema(schema, { io });
  return shape;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}
