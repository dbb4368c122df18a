/** A text as a sentence: with a capital at its start and a full stop at its end. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  const end = /[.!?]$/.test(trimmed) ? "" : ".";
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1) + end;
}
