import type { WebSocket } from "ws";

/** Milliseconds between questions whether a client is still there. */
const heartbeat = 30_000;

/** Asks a client again and again whether it is still there, until it goes, and cuts it off where it does not answer. */
export function watchOver(client: WebSocket): void {
  let isAlive = true;
  const beat = setInterval(() => {
    if (!isAlive) client.terminate();
    isAlive = false;
    client.ping();
  }, heartbeat);
  beat.unref();
  client.on("pong", () => {
    isAlive = true;
  });
  client.on("close", () => clearInterval(beat));
}
