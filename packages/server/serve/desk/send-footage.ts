import type { FileHandle } from "node:fs/promises";
import type { IncomingMessage, ServerResponse } from "node:http";
import { openPlain, unbounded } from "../../base/files/plain.ts";

/**
 * Sends a file that may be long, or the part of it that is asked for (RFC 9110, section 14): sound is played from
 * anywhere.
 */
export async function sendFootage(
  request: IncomingMessage,
  response: ServerResponse,
  { path, type }: { readonly path: string; readonly type: string },
  headers: Readonly<Record<string, string>>,
): Promise<void> {
  let file: FileHandle;
  try {
    file = await openPlain(path, unbounded);
  } catch {
    response.writeHead(404, headers);
    response.end();
    return;
  }
  const { size } = await file.stat();
  const part = partOf(request.headers.range, size);
  if (part === null) {
    await file.close();
    response.writeHead(416, { ...headers, "Content-Range": `bytes */${size}` });
    response.end();
    return;
  }
  const isWhole = part === "whole";
  const [start, end] = isWhole ? [0, size - 1] : part;
  response.writeHead(isWhole ? 200 : 206, {
    ...headers,
    "Content-Type": type,
    "Content-Length": end - start + 1,
    "Accept-Ranges": "bytes",
    ...(isWhole ? {} : { "Content-Range": `bytes ${start}-${end}/${size}` }),
  });
  if (size === 0) {
    await file.close();
    response.end();
    return;
  }
  // The stream closes the file, also where the page goes before the end.
  const stream = file.createReadStream({ start, end });
  stream.on("error", () => response.destroy());
  response.on("close", () => stream.destroy());
  stream.pipe(response);
}

/** The bytes that a header asks for; "whole" where it asks for no one part, null where there are none such. */
function partOf(range: string | undefined, size: number): readonly [number, number] | "whole" | null {
  const [, from, to] = /^bytes=(\d{0,15})-(\d{0,15})$/.exec(range ?? "") ?? [];
  if (from === undefined || to === undefined || (from === "" && to === "")) return "whole";
  const start = from === "" ? Math.max(0, size - Number(to)) : Number(from);
  const end = from === "" || to === "" ? size - 1 : Math.min(size - 1, Number(to));
  return start > end ? null : [start, end];
}
