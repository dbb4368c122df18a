import { linkProtocol } from "./link.ts";

/** Where the token waits while the page is open, so that it can be loaded again. */
const tokenPlace = "keyside-desk-token";

/**
 * The token with which the page was opened. It comes behind the `#` of the address, which no browser sends or keeps as a
 * referrer, and is taken out of it at once.
 * @returns null for a page that was opened without one
 */
export function takeToken(): string | null {
  const given = location.hash.slice(1);
  if (given !== "") {
    sessionStorage.setItem(tokenPlace, given);
    history.replaceState(null, "", location.pathname);
  }
  return sessionStorage.getItem(tokenPlace);
}

/** Opens the link to the desk's server. Where the token is not the desk's, it closes without having been open. */
export function openLink(token: string): WebSocket {
  return new WebSocket(`ws://${location.host}/link`, [linkProtocol, token]);
}
