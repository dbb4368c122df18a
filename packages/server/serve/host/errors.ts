import { ErrorCodes, ResponseError } from "vscode-languageserver";
import type { z } from "zod";
import { type Reason, refusals } from "./protocol.ts";

/** The error with which a request is refused; its data carries the reason, and what the client may need. */
export function refused(
  reason: Reason,
  message: string,
  data: Readonly<Record<string, unknown>> = {},
): ResponseError<unknown> {
  return new ResponseError(refusals[reason].code, message, { reason, ...data });
}

/** The error for params that are not what the message's schema says. */
export function misshapen(method: string, error: z.ZodError): ResponseError<unknown> {
  const problems = error.issues.flatMap((issue) => problemsOf(issue, []));
  const [first] = problems;
  const where = first === undefined || first.path === "" ? "" : ` at ${first.path}`;
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : "";
  return new ResponseError(
    ErrorCodes.InvalidParams,
    `The params of ${method} are wrong${where}: ${first?.message ?? "they are none"}${more}. docs/host-protocol.md lists what stands in them.`,
    { reason: "bad-params", problems },
  );
}

/** Issues with the path to them; of alternatives, those of the one that fits best. */
function problemsOf(
  issue: z.core.$ZodIssue,
  above: readonly PropertyKey[],
): { readonly path: string; readonly message: string }[] {
  const path = [...above, ...issue.path];
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    const fewest = issue.errors.reduce((best, errors) => (errors.length < best.length ? errors : best));
    return fewest.flatMap((inner) => problemsOf(inner, path));
  }
  return [{ path: path.map(String).join("/"), message: issue.message }];
}
