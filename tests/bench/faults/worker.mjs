/** Measures what it is asked to: notes on the clean motions, or one injector after another. */
import { parentPort, workerData } from "node:worker_threads";
import { captureBases, framesOf, notesIn, proceduralBases } from "./bases/index.mjs";
import { lookedUp } from "./capture-notes.mjs";
import { injectors } from "./injectors/index.mjs";
import { measureCheck } from "./measure-check.mjs";

const bases = [...proceduralBases(), ...captureBases()];
const clean = new Map(bases.map((base) => [base, notesIn(base.shot)]));

if (workerData.kind === "clean") {
  parentPort.postMessage({
    result: bases.map((base) => ({
      name: base.name,
      kind: base.kind,
      act: base.act === null ? null : {},
      // What injectors ask of a base where they say which of them they fit.
      shot: { header: { propulsors: base.shot.header.propulsors } },
      frames: framesOf(base),
      notes: clean.get(base).map((note) => ({
        check: note.check,
        tier: note.tier,
        isReal: base.recording !== undefined && lookedUp(base.recording, note) !== null,
      })),
    })),
  });
} else {
  parentPort.on("message", ({ next }) => {
    if (next === null) return parentPort.close();
    const injector = injectors.find(({ check }) => check === next);
    const { check, placements, strengths } = measureCheck(injector, bases, clean, workerData.wanted);
    const plain = strengths.map(({ strength, outcomes }) => ({
      strength,
      outcomes: outcomes.map(plainOutcome),
    }));
    parentPort.postMessage({ result: { check, placements, strengths: plain }, ready: true });
  });
  parentPort.postMessage({ ready: true });
}

function plainOutcome({ base, truth, found, saidBy, saidBetter, frameError, namesKey, fixed, note }) {
  const { from, to, keys } = truth;
  return {
    base,
    found,
    saidBy,
    saidBetter,
    frameError,
    namesKey,
    fixed,
    at: `${[...keys.nodes][0]} ${from} to ${to}`,
    named:
      note?.keys[0] === undefined
        ? null
        : `${note.keys[0].node} ${note.keys[0].channel} ${note.keys[0].frame}`,
  };
}
