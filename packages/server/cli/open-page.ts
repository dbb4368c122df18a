import { spawn } from "node:child_process";

/** How the system's browser is started on an address. */
const starters: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  darwin: ["open"],
  // The empty word is the title of a window, which would else be taken from the address.
  win32: ["cmd", "/c", "start", ""],
};
const otherwise = ["xdg-open"];

/** Milliseconds in which a starter that cannot start anything has said so. */
const failingTime = 3000;

/**
 * Opens an address in the system's browser.
 * @returns whether it could, as far as can be told
 */
export function openPage(address: string): Promise<boolean> {
  const [program, ...words] = starters[process.platform] ?? otherwise;
  return new Promise((resolve) => {
    const child = spawn(program, [...words, address], { stdio: "ignore", detached: true });
    // Some starters stay for as long as the browser does.
    const stays = setTimeout(() => resolve(true), failingTime);
    const ends = (could: boolean) => {
      clearTimeout(stays);
      resolve(could);
    };
    child.on("error", () => ends(false));
    child.on("exit", (code) => ends(code === 0));
    child.unref();
  });
}
