/** The line of a module at which an error came up, where its stack tells. */
export function placeIn(path: string, error: unknown): string {
  const stack = error instanceof Error ? (error.stack ?? "") : "";
  const name = path.replace(/^.*[\\/]/, "").replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const line = new RegExp(`${name}(?:\\?keyside=[0-9a-f]+)?:(\\d+)`).exec(stack)?.[1];
  return line === undefined ? "" : ` at line ${line}`;
}

/** The first line of what an error says, without a full stop. */
export function messageOf(error: unknown): string {
  const [line = ""] = (error instanceof Error ? error.message : String(error)).split("\n");
  return line.replace(/\?keyside=[0-9a-f]+/g, "").replace(/[.\s]+$/, "");
}
