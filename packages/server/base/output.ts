import type { Writable } from "node:stream";
import { codeOf, reasonOf, UnreadableError } from "./errors.ts";

/** Where output goes that must not be lost unseen: what cannot be written is remembered, and told to who asks. */
export interface Outlet {
  write(text: string): void;
  /**
   * Comes once all that was written has been taken, so that a slow reader holds the writer up.
   * @throws UnreadableError where some of it could not be written
   */
  taken(): Promise<void>;
}

/**
 * @param name the stream as a person knows it
 * @param gone called where whoever reads the stream has stopped reading
 */
export function outletOf(stream: Writable, name: string, gone: () => void): Outlet {
  let failure: UnreadableError | null = null;
  const failed = (error: unknown) => {
    if (codeOf(error) === "EPIPE") gone();
    failure ??= new UnreadableError(name, reasonOf(error));
  };
  stream.on("error", failed);
  const put = (text: string, done: () => void) => {
    // A stream that has failed takes no more, and may say so by throwing.
    if (failure !== null) return done();
    stream.write(text, (error) => {
      if (error != null) failed(error);
      done();
    });
  };
  return {
    write: (text) => put(text, () => {}),
    async taken() {
      await new Promise<void>((resolve) => put("", resolve));
      if (failure !== null) throw failure;
    },
  };
}
