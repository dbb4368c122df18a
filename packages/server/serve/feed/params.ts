import {
  anything,
  count,
  either,
  type Fault,
  listOf,
  object,
  orNull,
  type Shape,
  text,
  truth,
  whole,
} from "./shapes.ts";

const textDocument = object({ uri: text });
const position = object({ line: count, character: count });
const range = object({ start: position, end: position });
const inDocument = { textDocument };
const atPosition = { textDocument, position };
const token = either(text, whole);
/** What a client may add to most requests. */
const progress = { workDoneToken: token, partialResultToken: token };
const folder = object({ uri: text, name: text });
const diagnostic = object({ range, message: text }, { code: token, source: text });

/** What stands in the params of each request that the feed serves, as far as the protocol prescribes it. */
const requests: Readonly<Record<string, Shape>> = {
  // Clients that have no process or no folder may leave those out; nothing hangs on them.
  initialize: object(
    { capabilities: object({}) },
    {
      processId: orNull(whole),
      rootUri: orNull(text),
      workspaceFolders: orNull(listOf(folder)),
      clientInfo: object({ name: text }, { version: text }),
      locale: text,
      trace: text,
    },
  ),
  "textDocument/hover": object(atPosition, progress),
  "textDocument/definition": object(atPosition, progress),
  "textDocument/references": object(
    { ...atPosition, context: object({ includeDeclaration: truth }) },
    progress,
  ),
  "textDocument/prepareRename": object(atPosition, progress),
  "textDocument/rename": object({ ...atPosition, newName: text }, progress),
  "textDocument/completion": object(atPosition, { ...progress, context: object({ triggerKind: whole }) }),
  "textDocument/documentSymbol": object(inDocument, progress),
  "textDocument/foldingRange": object(inDocument, progress),
  "textDocument/inlayHint": object({ ...inDocument, range }, progress),
  "textDocument/codeAction": object(
    {
      ...inDocument,
      range,
      context: object({ diagnostics: listOf(diagnostic) }, { only: listOf(text), triggerKind: whole }),
    },
    progress,
  ),
  "codeAction/resolve": object({ title: text }, { kind: text }),
  "textDocument/diagnostic": object(inDocument, { ...progress, identifier: text, previousResultId: text }),
  "workspace/diagnostic": object(
    { previousResultIds: listOf(object({ uri: text, value: text })) },
    { ...progress, identifier: text },
  ),
  "workspace/executeCommand": object({ command: text }, { ...progress, arguments: listOf(anything) }),
};

/** The same of notifications; what is amiss in a part of an edit leaves its other parts as they are. */
const notifications: Readonly<Record<string, Shape>> = {
  "textDocument/didOpen": object({
    textDocument: object({ uri: text, languageId: text, version: whole, text }),
  }),
  "textDocument/didChange": object({
    textDocument: object({ uri: text, version: orNull(whole) }),
    contentChanges: listOf(anything),
  }),
  "textDocument/didClose": object(inDocument),
  "textDocument/didSave": object(inDocument, { text }),
  "workspace/didChangeWatchedFiles": object({ changes: listOf(object({ uri: text, type: whole })) }),
  "workspace/didChangeWorkspaceFolders": object({
    event: object({ added: listOf(folder), removed: listOf(folder) }),
  }),
  "window/workDoneProgress/cancel": object({ token }),
};

/**
 * What is wrong with the params of a request or a notification of the protocol; null where nothing is, and for methods
 * that are not known here.
 */
export function faultIn(method: string, params: unknown, isRequest: boolean): Fault | null {
  const table = isRequest ? requests : notifications;
  return Object.hasOwn(table, method) ? table[method](params ?? {}, "") : null;
}

/** The requests and notifications whose params are looked at. */
export const methodsLookedAt = {
  requests: Object.keys(requests),
  notifications: Object.keys(notifications),
} as const;
