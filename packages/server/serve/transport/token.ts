import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import { readFile, rename, stat, writeFile } from "node:fs/promises";

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
  let text: string;
  try {
    text = await readFile(path, "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw unusable(path, "read", error);
    return { token: await writeNewToken(path), isOpen: false };
  }
  const token = text.trim();
  if (token.length < shortestToken || /\s/.test(token)) {
    throw new TokenFileError(
      `${path} holds no token: one is a single word of ${shortestToken} characters or more. Delete the file, and a new one is written.`,
    );
  }
  const { mode } = await stat(path);
  return { token, isOpen: process.platform !== "win32" && (mode & 0o077) !== 0 };
}

async function writeNewToken(path: string): Promise<string> {
  const token = newToken();
  const temporary = `${path}.${process.pid}.part`;
  try {
    await writeFile(temporary, `${token}\n`, { flag: "wx", mode: 0o600 });
    await rename(temporary, path);
  } catch (error) {
    throw unusable(path, "written", error);
  }
  return token;
}

function unusable(path: string, how: "read" | "written", error: unknown): TokenFileError {
  return new TokenFileError(`${path} cannot be ${how}: ${(error as Error).message}.`);
}
