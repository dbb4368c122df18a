import type { FromDesk } from "./link.ts";
import { openLink, takeToken } from "./open-link.ts";

/** Begins the page: it speaks to the desk by link.ts. */
function begin(place: HTMLElement): void {
  const token = takeToken();
  if (token === null) {
    place.textContent = "Open the desk by the whole address that it printed.";
    return;
  }
  openLink(token).addEventListener("message", ({ data }) => {
    const message = JSON.parse(String(data)) as FromDesk;
    if (message.type === "shot") place.textContent = message.shot.name;
  });
}

const place = document.querySelector<HTMLElement>("#desk");
if (place !== null) begin(place);
