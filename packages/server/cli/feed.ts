import { StreamMessageReader, StreamMessageWriter } from "vscode-languageserver/node";
import { connectionOver, serve } from "../feed/connection.ts";
import { nodeEnvironment } from "../feed/environment.ts";

/** `keyside feed --stdio`: serves one client until it says `exit` or goes away. Gives the exit code. */
export function feedStdio(input: NodeJS.ReadableStream, output: NodeJS.WritableStream): Promise<number> {
  return new Promise((resolve) => {
    const connection = connectionOver(
      new StreamMessageReader(input),
      new StreamMessageWriter(output),
      resolve,
    );
    const feed = serve(connection, nodeEnvironment());
    input.on("end", () => {
      feed.dispose();
      resolve(0);
    });
  });
}
