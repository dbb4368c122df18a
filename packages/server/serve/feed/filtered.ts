import type { Message, MessageReader } from "vscode-languageserver/node";

/**
 * The same reader, with each message looked at before it is passed on.
 * @param passes whether a message is passed on; the others end here
 */
export function filtered(reader: MessageReader, passes: (message: Message) => boolean): MessageReader {
  return {
    onError: reader.onError,
    onClose: reader.onClose,
    onPartialMessage: reader.onPartialMessage,
    listen: (callback) =>
      reader.listen((message) => {
        if (passes(message)) callback(message);
      }),
    dispose: () => reader.dispose(),
  };
}
