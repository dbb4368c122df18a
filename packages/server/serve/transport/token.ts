import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import { stat } from "node:fs/promises";
import { codeOf, reasonOf, unwrittenReason } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { readPlain } from "../../base/files/plain.ts";
import { writeFileWhole } from "../../base/files/write.ts";

/** Characters of the shortest token that is taken from a file: 128 bits in base64. */
const shortestToken = 22;

/** A token file that cannot be used. */
export class TokenFileError extends Error {
  override readonly name = "TokenFileError";
}

/** A new token that nobody can guess: 256 bits. */
export function newToken(): string {
  return randomBytes(32).toString("base64url");
}

/** Whether a client's token is the feed's; takes as long whatever the client sends. */
export function isToken(given: unknown, token: string): boolean {
  if (typeof given !== "string") return false;
  const digest = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(given), digest(token));
}

/**
 * The token that a file holds. Where there is no file, one is written with a new token, for its owner alone to read.
 * @throws TokenFileError where the file cannot be read or written, or holds no token
 */
export async function tokenFromFile(
  path: string,
): Promise<{ readonly token: string; readonly isOpen: boolean }> {
  let bytes: Uint8Array;
  let mode: number;
  try {
    bytes = await readPlain(path, bounds.token);
    ({ mode } = await stat(path));
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw new TokenFileError(`${path} cannot be read: ${reasonOf(error)}`);
    return { token: await writeNewToken(path), isOpen: false };
  }
  const token = new TextDecoder().decode(bytes).trim();
  if (token.length < shortestToken || /\s/.test(token)) {
    throw new TokenFileError(
      `${path} holds no token: one is a single word of ${shortestToken} characters or more. Delete the file, and a new one is written.`,
    );
  }
  return { token, isOpen: process.platform !== "win32" && (mode & 0o077) !== 0 };
}

async function writeNewToken(path: string): Promise<string> {
  const token = newToken();
  try {
    await writeFileWhole(path, `${token}\n`, { force: false, mode: 0o600 });
  } catch (error) {
    throw new TokenFileError(`${path} cannot be written: ${unwrittenReason(error)}`);
  }
  return token;
}
