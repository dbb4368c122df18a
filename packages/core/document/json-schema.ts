import { z } from "zod";
import { documentSchema } from "./schema.ts";

/** The name under which the schema of the document is published; no address, so that nothing need be fetched. */
export const documentSchemaId = "urn:keyside:curves:1";

/**
 * The JSON Schema (draft 2020-12) of a curve document, for editors and other programs; made from the zod schema.
 * @returns plain data; write it with `JSON.stringify`
 */
export function documentJsonSchema(): Record<string, unknown> {
  const { $schema, ...schema } = z.toJSONSchema(documentSchema, { io: "input", target: "draft-2020-12" });
  return {
    $schema,
    $id: documentSchemaId,
    title: "Curve document",
    description:
      "One character shot: its nodes, the keys of their channels, and what is known of its figures.",
    ...schema,
  };
}
