import { ErrorCodes, LSPErrorCodes, type Position, ResponseError } from "vscode-languageserver";
import type { Outcome } from "./judging.ts";

/** The request cannot be understood. */
export function invalid(message: string): ResponseError<void> {
  return new ResponseError(ErrorCodes.InvalidParams, message);
}

export function cancelled(): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestCancelled, "The request was cancelled.");
}

/** An edit arrived that makes the answer one to another text. */
export function modified(): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.ContentModified, "An edit arrived meanwhile.");
}

/** Why there are no notes to answer with; a client that asks for diagnostics is told whether to ask again. */
export function unanswered(outcome: Exclude<Outcome, "judged">): ResponseError<unknown> {
  switch (outcome) {
    case "cancelled":
      return cancelled();
    case "failed":
      return new ResponseError(
        LSPErrorCodes.RequestFailed,
        "The document could not be judged; the log says why.",
      );
    case "newer":
      return new ResponseError(LSPErrorCodes.ServerCancelled, "An edit arrived meanwhile.", {
        retriggerRequest: true,
      });
    case "closed":
      return new ResponseError(LSPErrorCodes.ServerCancelled, "The document was closed meanwhile.", {
        retriggerRequest: false,
      });
  }
}

/** The URI of a request's document. */
export function uriIn(params: unknown): string {
  const uri = (params as { textDocument?: { uri?: unknown } } | null | undefined)?.textDocument?.uri;
  if (typeof uri !== "string") throw invalid('The params name no document: "textDocument": { "uri": … }.');
  return uri;
}

/** A position as it is sent. */
export function positionIn(position: unknown): Position {
  const { line, character } = (position ?? {}) as Partial<Position>;
  if (!Number.isFinite(line) || !Number.isFinite(character)) {
    throw invalid("A position has a line and a character.");
  }
  return { line: Number(line), character: Number(character) };
}
