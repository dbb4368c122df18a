/**
 * What the page does in a browser: keeps ticks, copies notes as text, goes from note to note by keys. Plain script,
 * no network; without it, or where a browser keeps nothing for pages from disk, the sheet can still be read and
 * ticked.
 */
export const script = `
"use strict";
(() => {
  for (const element of document.querySelectorAll("[hidden].with-script")) element.hidden = false;
  const player = document.querySelector("keyside-player");
  document.querySelector(".strengths")?.addEventListener("click", (event) => {
    const button = event.target.closest(".play");
    if (button === null || player === null) return;
    player.strength = Number(button.dataset.strength);
    player.play();
    player.scrollIntoView({ block: "nearest" });
  });
  const list = document.querySelector(".notes");
  if (list === null) return;
  const notes = [...list.querySelectorAll(".note")];
  const said = document.querySelector("#said");
  const say = (words) => { said.textContent = words; };
  const place = "keyside sheet: " + document.body.dataset.shot;

  const kept = () => {
    try { return new Set(JSON.parse(localStorage.getItem(place) ?? "[]")); } catch { return null; }
  };
  const keep = (ticked) => {
    try { localStorage.setItem(place, JSON.stringify([...ticked])); return true; } catch { return false; }
  };
  const boxOf = (note) => note.querySelector(".tick input");
  const count = () => {
    const done = notes.filter((note) => boxOf(note).checked).length;
    document.querySelector("#done").textContent = done + " of " + notes.length + " ticked";
  };
  const show = () => {
    const ticked = kept();
    if (ticked !== null) for (const note of notes) boxOf(note).checked = ticked.has(note.dataset.fingerprint);
    count();
  };
  const changed = (note) => {
    const ticked = kept() ?? new Set();
    const box = boxOf(note);
    if (box.checked) ticked.add(note.dataset.fingerprint); else ticked.delete(note.dataset.fingerprint);
    const isKept = keep(ticked);
    count();
    const what = "Note " + note.dataset.number + (box.checked ? " ticked." : " no longer ticked.");
    say(isKept ? what : what + " This browser does not keep ticks for pages from disk.");
  };

  const copy = async (text) => {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      const area = document.createElement("textarea");
      area.value = text;
      area.setAttribute("aria-label", "Text to copy");
      document.body.append(area);
      const before = document.activeElement;
      area.select();
      let isDone = false;
      try { isDone = document.execCommand("copy"); } catch {}
      area.remove();
      before?.focus?.();
      return isDone;
    }
  };
  const copyNotes = async (which, what) => {
    const isDone = await copy(which.map((note) => note.dataset.text).join("\\n\\n"));
    say(isDone ? what + " copied as text." : "This browser does not let a page copy; select the text by hand.");
  };

  const go = (from, step) => {
    const shown = notes.filter((note) => note.offsetParent !== null);
    const at = shown.indexOf(from);
    const to = shown[Math.min(shown.length - 1, Math.max(0, at + step))];
    if (to === undefined) return;
    to.focus();
    to.scrollIntoView({ block: "nearest" });
  };
  list.addEventListener("change", (event) => {
    const note = event.target.closest(".note");
    if (note !== null) changed(note);
  });
  const play = (note) => {
    if (player === null || note.querySelector(".play") === null) return;
    player.note = Number(note.dataset.number);
    player.play();
    player.scrollIntoView({ block: "nearest" });
    say("Note " + note.dataset.number + " plays.");
  };
  list.addEventListener("click", (event) => {
    const note = event.target.closest(".note");
    if (event.target.closest(".copy") !== null) void copyNotes([note], "Note " + note.dataset.number);
    if (event.target.closest(".play") !== null) play(note);
  });
  list.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const note = event.target.closest(".note");
    if (note === null) return;
    const actions = {
      ArrowDown: () => go(note, 1), n: () => go(note, 1),
      ArrowUp: () => go(note, -1), p: () => go(note, -1),
      Home: () => go(note, -notes.length), End: () => go(note, notes.length),
      t: () => { const box = boxOf(note); box.checked = !box.checked; changed(note); },
      m: () => play(note),
      c: () => void copyNotes([note], "Note " + note.dataset.number),
    };
    const action = actions[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (action === undefined) return;
    event.preventDefault();
    action();
  });
  document.querySelector("#copy-all").addEventListener("click", () => void copyNotes(notes, "All notes"));
  document.querySelector("#hide").addEventListener("click", (event) => {
    const button = event.currentTarget;
    const hides = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", String(hides));
    list.classList.toggle("hides-ticked", hides);
    say(hides ? "Ticked notes are hidden." : "All notes are shown.");
  });
  addEventListener("storage", (event) => { if (event.key === place) show(); });
  show();
})();
`;
