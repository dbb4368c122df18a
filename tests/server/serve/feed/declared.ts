import { writeDocument } from "../../../../packages/core/document/write.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";

/** A point that goes from rest to rest, and is off its path to the side at two frames. */
export const changing = writeDocument(
  pointDocument({
    "translation.x": everyFrame(1, 72, eased(6, 60, 0, 2)),
    "translation.y": everyFrame(1, 72, (frame) => (frame === 18 || frame === 40 ? 0.2 : 0)),
  }),
);

/** Capabilities as plain JSON. */
export type Declared = { readonly [name: string]: Declared | undefined };

/** What stands in messages of the feed that a client has not declared: a line for each kind of thing. */
export function undeclared(capabilities: Declared, messages: readonly object[]): string[] {
  const has = (path: string) =>
    path.split("/").reduce<unknown>((at, name) => (at as Declared | undefined)?.[name], capabilities);
  const isOn = (path: string) => has(path) !== undefined && has(path) !== false;
  const inDiagnostics = (name: string) =>
    isOn(`textDocument/publishDiagnostics/${name}`) || isOn(`textDocument/diagnostic/${name}`);
  const found = new Set<string>();
  const tell = (what: string, isDeclared: boolean) => void (isDeclared || found.add(what));
  const look = (value: unknown): void => {
    if (typeof value !== "object" || value === null) return;
    const given = value as Readonly<Record<string, unknown>>;
    if (given["source"] === "keyside" && "range" in given) {
      tell("relatedInformation", !("relatedInformation" in given) || inDiagnostics("relatedInformation"));
      tell("codeDescription", !("codeDescription" in given) || inDiagnostics("codeDescriptionSupport"));
      tell("data", !("data" in given) || inDiagnostics("dataSupport"));
      tell("tags", !("tags" in given) || inDiagnostics("tagSupport"));
    }
    if ("title" in given && "kind" in given && given["kind"] !== "begin") {
      tell("code action literal", isOn("textDocument/codeAction/codeActionLiteralSupport"));
      tell("isPreferred", !("isPreferred" in given) || isOn("textDocument/codeAction/isPreferredSupport"));
      tell("edit for later", "edit" in given || isOn("textDocument/codeAction/resolveSupport"));
      tell("data of a code action", !("data" in given) || isOn("textDocument/codeAction/dataSupport"));
    }
    tell("documentChanges", !("documentChanges" in given) || isOn("workspace/workspaceEdit/documentChanges"));
    tell(
      "children",
      !("children" in given) || isOn("textDocument/documentSymbol/hierarchicalDocumentSymbolSupport"),
    );
    tell(
      "snippet",
      given["insertTextFormat"] !== 2 || isOn("textDocument/completion/completionItem/snippetSupport"),
    );
    tell("position encoding", !("positionEncoding" in given) || isOn("general/positionEncodings"));
    tell("prepareProvider", !("prepareProvider" in given) || isOn("textDocument/rename/prepareSupport"));
    tell(
      "codeActionKinds",
      !("codeActionKinds" in given) || isOn("textDocument/codeAction/codeActionLiteralSupport"),
    );
    tell("workspaceFolders", !("workspaceFolders" in given) || isOn("workspace/workspaceFolders"));
    const { kind } = given;
    if ((kind === "markdown" || kind === "plaintext") && "value" in given) {
      const formats = has("textDocument/hover/contentFormat") as readonly string[] | undefined;
      tell(`${kind}, not the format that is preferred`, formats?.[0] === kind);
    }
    // Kinds above 18 came later, in completions and in symbols alike.
    const area =
      "selectionRange" in given || "location" in given
        ? "documentSymbol/symbolKind"
        : "completion/completionItemKind";
    if (typeof kind === "number" && kind > 18) tell(`kind ${kind}`, isOn(`textDocument/${area}`));
    for (const each of Object.values(given)) look(each);
  };
  for (const message of messages) {
    look(message);
    const { method, params } = message as {
      method?: string;
      params?: { version?: unknown; registrations?: { method: string }[] };
    };
    const needs: Readonly<Record<string, string>> = {
      "workspace/applyEdit": "workspace/applyEdit",
      "workspace/configuration": "workspace/configuration",
      "window/workDoneProgress/create": "window/workDoneProgress",
      "workspace/diagnostic/refresh": "workspace/diagnostics/refreshSupport",
      "workspace/inlayHint/refresh": "workspace/inlayHint/refreshSupport",
    };
    if (method !== undefined && method in needs) tell(method, isOn(needs[method]));
    if (method === "textDocument/publishDiagnostics") {
      tell("pushed diagnostics", !isOn("textDocument/diagnostic"));
      const { version } = params ?? {};
      tell("version", version === undefined || isOn("textDocument/publishDiagnostics/versionSupport"));
    }
    for (const registration of params?.registrations ?? []) {
      const name = registration.method.replace("workspace/", "");
      tell(registration.method, isOn(`workspace/${name}/dynamicRegistration`));
    }
  }
  return [...found];
}
