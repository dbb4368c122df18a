import { checkNamed, type ReportedFailure } from "@keyside/core";
import { counted } from "../../base/counted.ts";

/** What became of a check that ended in an error, and what to do, in sentences. */
export function failureText(failure: ReportedFailure): string {
  const { check, subject, others, message } = failure;
  const at = subject === null ? "" : ` on ${subject}`;
  const more = others === 0 ? "" : ` and on ${counted(others, "more part")}`;
  const [said = ""] = message.split("\n");
  const whatToDo =
    checkNamed(check) === undefined
      ? "It is a check of your studio's own: see its expression, or its module."
      : "Please report this to Keyside's maintainers, with the file.";
  return `The check ${check} failed${at}${more}: ${said.replace(/[.\s]+$/, "")}. Its notes are missing there. ${whatToDo}`;
}
