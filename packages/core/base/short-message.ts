/** A message that repeats a value whole may be as long as the value; common practice: no sentence of ours is longer. */
const longest = 500;
/** Of a longer one so much is kept at its beginning and its end, where it says what is wrong and what to do. */
const head = 280;
const tail = 160;

/** A message that can be read: of one that is too long the middle is left out, and it says so. */
export function shortMessage(message: string): string {
  if (message.length <= longest) return message;
  // No half of a surrogate pair is left over.
  const start = message.slice(0, head).replace(/[\ud800-\udbff]$/, "");
  const end = message.slice(-tail).replace(/^[\udc00-\udfff]/, "");
  const left = message.length - start.length - end.length;
  return `${start}… (${left} characters left out) …${end}`;
}
