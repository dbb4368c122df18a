import type { Shot } from "../model.ts";
import { type CurveDocument, headerSchema } from "../schema.ts";
import { curveText } from "./curve-text.ts";
import { inlineText, memberText } from "./value-text.ts";

/** Lists of which each entry has a line of its own. */
const listed = new Set(
  Object.keys(headerSchema.shape).filter((name) => !["format", "version", "shot", "space"].includes(name)),
);

/** The text of a document; numbers that are not finite are written as such, which is no JSON. */
export function documentText(document: CurveDocument | Shot): string {
  const header: Readonly<Record<string, unknown>> = "header" in document ? document.header : document;
  const parts = [`"format": ${inlineText(header["format"])}, "version": ${inlineText(header["version"])}`];
  const add = (name: string) => {
    const value = name === "space" ? spaceWithUnits(header[name]) : header[name];
    if (value === undefined || name === "format" || name === "version") return;
    parts.push(
      listed.has(name) && Array.isArray(value)
        ? listText(name, value.map(inlineText))
        : memberText(name, value),
    );
  };
  for (const name of ["shot", "space", "nodes"]) add(name);
  parts.push(
    listText(
      "curves",
      document.curves.map((curve) => curveText(curve)),
    ),
  );
  for (const name of Object.keys(headerSchema.shape)) {
    if (!["shot", "space", "nodes"].includes(name)) add(name);
  }
  for (const name of Object.keys(header)) if (name !== "curves" && !(name in headerSchema.shape)) add(name);
  return `{\n  ${parts.join(",\n  ")}\n}\n`;
}

function listText(name: string, entries: readonly string[]): string {
  return entries.length === 0 ? `"${name}": []` : `"${name}": [\n    ${entries.join(",\n    ")}\n  ]`;
}

/** Units are written out, also where they are the usual ones: a file should say what its numbers are. */
function spaceWithUnits(space: unknown): unknown {
  if (typeof space !== "object" || space === null) return space;
  const { metresPerUnit, up = "y", angle = "degrees", ...rest } = space as Record<string, unknown>;
  return { metresPerUnit, up, angle, ...rest };
}
