import { type NoteTrial, type Verdict, verdictOf } from "./note-trial.ts";

/** How trials of notes came out, check by check, as a table in Markdown. */
export function causesTable(checks: readonly string[], trials: readonly NoteTrial[]): string {
  const rows = checks.map((check) =>
    row(
      `\`${check}\``,
      trials.filter(({ note }) => note.check === check),
    ),
  );
  return [
    "| check | notes | first key most | a tie | another key more | share (most or tie) | sparse keys | a key on every frame | no key alone | tried per note | ms per note |",
    "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |",
    ...rows,
    row("all", trials),
  ].join("\n");
}

function row(name: string, all: readonly NoteTrial[]): string {
  const count = (verdict: Verdict) => all.filter((trial) => verdictOf(trial) === verdict).length;
  const tried = all.filter((trial) => trial.tried > 0);
  const per = (sum: number) => (tried.length === 0 ? "—" : (sum / tried.length).toFixed(0));
  const cells = [
    name,
    all.length,
    count("most"),
    count("tie"),
    count("less"),
    shareOf(all),
    shareOf(all.filter(({ isDense }) => !isDense)),
    shareOf(all.filter(({ isDense }) => isDense)),
    count("no key alone"),
    per(tried.reduce((sum, trial) => sum + trial.tried, 0)),
    per(tried.reduce((sum, { took }) => sum + took, 0)),
  ];
  return `| ${cells.join(" | ")} |`;
}

/** Of the notes whose number some key changes, those whose first key changes it as much as any that is not named. */
function shareOf(trials: readonly NoteTrial[]): string {
  const verdicts = trials.map(verdictOf).filter((verdict) => verdict !== "no key alone");
  if (verdicts.length === 0) return "—";
  const right = verdicts.filter((verdict) => verdict !== "less").length;
  return `${(right / verdicts.length).toFixed(2)} of ${verdicts.length}`;
}
