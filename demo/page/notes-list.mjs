// @ts-check
/** The notes in words, biggest first. */
import { element, escaped } from "./markup.mjs";

/** @param {import("../look.mjs").Look} look @returns {string} */
export function notesList(look) {
  if (look.notes.length === 0) return "<p>No notes: nothing here breaks the limits in force.</p>";
  const items = look.notes.map((note, n) => {
    const keys = note.keys
      .slice(0, 3)
      .map(
        (key) =>
          `<li><code>${escaped(key.node)} ${escaped(key.channel)}</code> at frame ${escaped(key.frame)}</li>`,
      );
    const status = look.status.get(note.fingerprint);
    const head = [
      `<span class="chip ${note.tier}">${n + 1}</span>`,
      `<strong>${escaped(note.check)}</strong>`,
      `<span class="tier">${note.tier}</span>`,
      `<span>${framesOf(note.frames)}</span>`,
      note.node === null ? "" : `<code>${escaped(note.node)}</code>`,
      status === undefined ? "" : `<span class="status">${escaped(status)}</span>`,
    ];
    return element("li", { id: `note-${n + 1}` }, [
      `<p class="head">${head.filter(Boolean).join(" ")}</p>`,
      `<p>${escaped(sentence(note.message))}</p>`,
      `<p class="mend">${escaped(sentence(note.suggestion))}</p>`,
      `<p class="why">${escaped(note.why)}</p>`,
      keys.length > 0 ? `<ul class="keys">${keys.join("")}</ul>` : "",
    ]);
  });
  return `<ol class="notes">${items.join("\n")}</ol>`;
}

/** @param {readonly [number, number]} frames */
export const framesOf = ([a, b]) => (a === b ? `frame ${a}` : `frames ${a} to ${b}`);

/** @param {string} text */
const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;
