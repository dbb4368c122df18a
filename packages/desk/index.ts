import type { FromDesk } from "./link.ts";

/** Begins the page: it speaks to the desk over one WebSocket, by link.ts. */
function begin(place: HTMLElement): void {
  const { protocol, host } = location;
  const socket = new WebSocket(`${protocol === "https:" ? "wss" : "ws"}://${host}/link`);
  socket.addEventListener("message", ({ data }) => {
    const message = JSON.parse(String(data)) as FromDesk;
    if (message.type === "shot") place.textContent = message.shot.name;
  });
}

const place = document.querySelector<HTMLElement>("#desk");
if (place !== null) begin(place);
