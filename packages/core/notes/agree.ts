/** Parts that are spoken of in the plural. */
const plural = /^(?:(?:left|right) (?:fore |hind )?)?(?:hips|ears|fingers|toes) (?!\()/;

/** A sentence about a part whose verb follows it in the third person: "hips stops" becomes "hips stop". */
export function agreeing(sentence: string): string {
  const start = plural.exec(sentence)?.[0];
  if (start === undefined) return sentence;
  const [verb] = sentence.slice(start.length).split(" ", 1);
  if (pluralOf(verb) === verb) return sentence;
  const rest = sentence.slice(start.length + verb.length);
  // What follows speaks of the same part: its own course, and a second verb after "and".
  const agreed = rest
    .replace(/\bits\b/g, "their")
    .replace(/ and (comes|goes|stays)\b/g, (_, other) => ` and ${pluralOf(other)}`);
  return `${start}${pluralOf(verb)}${agreed}`;
}

function pluralOf(verb: string): string {
  if (verb === "is") return "are";
  if (verb === "has") return "have";
  if (verb === "goes" || verb === "does") return verb.slice(0, -2);
  if (/(?:ch|sh|ss|x|z)es$/.test(verb)) return verb.slice(0, -2);
  return /[^s]s$/.test(verb) ? verb.slice(0, -1) : verb;
}
