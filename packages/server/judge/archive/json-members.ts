/** A member of a JSON document's outermost object; the elements of arrays that are asked for come one by one. */
export interface Member {
  readonly name: string;
  /** The text of the value, or of one element. */
  readonly text: string;
}

/** A document that is not what {@link jsonMembers} reads. */
export class MembersError extends Error {
  override readonly name = "MembersError";
}

const space = /\s/;

/**
 * Reads the outermost object of a JSON document piece by piece, without holding more than one value.
 * @param chunks the document's text, cut anywhere
 * @param lists names of arrays whose elements come one by one
 * @throws MembersError where the text is no object, or ends early; what stands inside a value is not looked at
 */
export async function* jsonMembers(
  chunks: AsyncIterable<string>,
  lists: ReadonlySet<string>,
): AsyncGenerator<Member> {
  let state: State = "start";
  let name = "";
  let isList = false;
  /** Brackets that are open inside the value; whether it is inside a string, and behind a backslash there. */
  let depth = 0;
  let isInString = false;
  let isEscaped = false;
  let text = "";
  for await (const chunk of chunks) {
    // Where the part of the value begins that stands in this chunk.
    let from = 0;
    for (let i = 0; i < chunk.length; i++) {
      const char = chunk[i] as string;
      if (state === "value") {
        if (isInString) {
          if (isEscaped) isEscaped = false;
          else if (char === "\\") isEscaped = true;
          else if (char === '"') isInString = false;
          continue;
        }
        if (char === '"') isInString = true;
        else if (char === "{" || char === "[") depth++;
        else if ((char === "}" || char === "]") && depth > 0) depth--;
        else if (char === "," || char === "}" || char === "]") {
          if (depth > 0) continue;
          const value = (text + chunk.slice(from, i)).trim();
          if (value !== "") yield { name, text: value };
          text = "";
          if (!isList) state = char === "," ? "before name" : expect(char, "}", "end");
          else if (char === ",") from = i + 1;
          else state = expect(char, "]", "after list");
        }
        continue;
      }
      if (state === "name") {
        if (isEscaped) isEscaped = false;
        else if (char === "\\") isEscaped = true;
        else if (char === '"') {
          name = JSON.parse(`"${text}${chunk.slice(from, i)}"`) as string;
          text = "";
          state = "colon";
        }
        continue;
      }
      if (space.test(char)) continue;
      if (state === "start") state = expect(char, "{", "before name");
      else if (state === "before name") {
        state = char === "}" ? "end" : expect(char, '"', "name");
        from = i + 1;
      } else if (state === "colon") {
        state = expect(char, ":", "before value");
        isList = lists.has(name);
      } else if (state === "before value") {
        state = "value";
        from = isList ? i + 1 : i;
        if (isList) expect(char, "[", "value");
        else i--;
      } else if (state === "after list") {
        state = char === "}" ? "end" : expect(char, ",", "before name");
      } else throw new MembersError("text follows after its end");
    }
    if (state === "value" || state === "name") text += chunk.slice(from);
  }
  if ((state as State) !== "end") throw new MembersError("it ends early");
}

type State = "start" | "before name" | "name" | "colon" | "before value" | "value" | "after list" | "end";

function expect(char: string, expected: string, next: State): State {
  if (char !== expected) throw new MembersError(`"${char}" stands where "${expected}" is wanted`);
  return next;
}
