import type { Command } from "commander";

import type { Io } from "./io.ts";

export function addArchiveCommands(_program: Command, _io: Io, _done: (code: number) => void): void {}
