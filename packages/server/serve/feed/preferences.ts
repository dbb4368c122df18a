import { sep } from "node:path";
import type { Connection } from "vscode-languageserver";
import type { ClientAbilities } from "./client.ts";
import { defaultEditorSettings, type EditorSettings, editorSettings } from "./configuration.ts";
import { pathOfUri } from "./uri.ts";

/** The section of an editor's settings that is ours. */
const section = "keyside";

/** What the user of the editor has chosen, for each folder that is open. */
export class Preferences {
  private readonly connection: Connection;
  private general: EditorSettings = defaultEditorSettings;
  private byFolder: readonly { readonly path: string; readonly settings: EditorSettings }[] = [];

  constructor(connection: Connection) {
    this.connection = connection;
  }

  /** What holds for a file; for none, what holds in general. */
  for(path: string | null): EditorSettings {
    let best: EditorSettings = this.general;
    let length = -1;
    for (const { path: folder, settings } of this.byFolder) {
      const isInside = path?.startsWith(folder.endsWith(sep) ? folder : `${folder}${sep}`) === true;
      if (!isInside || folder.length <= length) continue;
      best = settings;
      length = folder.length;
    }
    return best;
  }

  /** Takes what the client sent along unasked. */
  async take(settings: unknown): Promise<void> {
    const own = (settings as Record<string, unknown> | null | undefined)?.[section] ?? settings;
    this.general = await editorSettings(own, (fault) => this.say(fault));
    this.byFolder = [];
  }

  /** Asks the client, for all folders at once. */
  async ask(abilities: ClientAbilities, folders: readonly string[]): Promise<void> {
    if (!abilities.configuration) return;
    const items = [{ section }, ...folders.map((scopeUri) => ({ scopeUri, section }))];
    let answers: unknown[];
    try {
      answers = (await this.connection.workspace.getConfiguration(items)) as unknown[];
    } catch {
      // A client that cannot answer is one that has nothing chosen.
      return;
    }
    const said = new Set<string>();
    const settings = await Promise.all(
      answers.map((answer) => editorSettings(answer, (fault) => said.add(fault))),
    );
    for (const fault of said) this.say(fault);
    // What was sent along at the start holds where the client has nothing to say.
    if (answers[0] !== null && answers[0] !== undefined) this.general = settings[0];
    this.byFolder = folders.flatMap((uri, index) => {
      const path = pathOfUri(uri);
      return path === null || answers[index + 1] == null ? [] : [{ path, settings: settings[index + 1] }];
    });
  }

  private say(fault: string): void {
    this.connection.console.warn(`Keyside: ${fault}`);
  }
}
