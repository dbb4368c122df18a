"""Wires Keyside into an imaginary tool: its key events become edits, its notes become lines on the stage.

``python3 demo/adapters/host_adapter.py node packages/server/bin/keyside.js`` plays a short story.
"""

import math
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "packages/adapters/clients/python"))
from imaginary_host import Stage  # noqa: E402
from keyside_client import in_order, move_key, remove_key, set_key, start_feed  # noqa: E402

CHANNELS = {"slide x": "translation.x", "slide y": "translation.y", "turn x": "rotation.x"}
FIRST_FRAME = 1
MOST_RESTARTS = 3


class Adapter:
    def __init__(self, stage, command):
        self.stage = stage
        self.restarts = 0
        self.feed = start_feed(command)
        self.client = self.feed.connect()
        self.client.on_gone = self.gone
        self.shot = self.client.open_shot("stage", document_now=self.document)
        self.shot.on_change = self.changed
        self.shot.on_refused = self.refused
        stage.listeners.append(self.keyed)
        stage.each_round.append(self.client.poll)

    def keyed(self, event, part, dial, tick, value=None):
        """A key event of the tool, also of its undo."""
        channel, frame = CHANNELS[dial], tick + FIRST_FRAME
        if event == "placed":
            self.shot.queue([set_key(part, channel, frame, in_document(dial, value))])
        elif event == "shifted":
            self.shot.queue([move_key(part, channel, frame, value + FIRST_FRAME)])
        else:
            self.shot.queue([remove_key(part, channel, frame)])

    def changed(self, shot, change):
        notes = in_order(shot.notes.values())
        self.stage.show(["%s: %s" % (note["check"], note["message"]) for note in notes])

    def refused(self, shot, refusal):
        """The feed's shot is no longer the stage's: it gets the stage as it is."""
        shot.replace(self.document(), then=lambda answer, error: None)

    def gone(self, client, why):
        self.stage.show(["No notes: " + why])
        self.restarts += 1
        if self.restarts <= MOST_RESTARTS:
            client.restart()

    def document(self):
        curves = [
            {
                "node": part,
                "channel": CHANNELS[dial],
                "keys": [[tick + FIRST_FRAME, in_document(dial, keys[tick])] for tick in sorted(keys)],
            }
            for (part, dial), keys in self.stage.dials.items()
            if keys
        ]
        return {
            "format": "keyside.curves",
            "version": 1,
            "shot": {"frameRate": 24, "range": [FIRST_FRAME, FIRST_FRAME + 39]},
            "space": {"metresPerUnit": 1},
            "nodes": [{"id": part} for part in sorted({part for part, _ in self.stage.dials})],
            "curves": curves,
        }

    def close(self):
        self.client.close()
        self.feed.stop()


def in_document(dial, value):
    """Turns are radians on the stage, and degrees in the document."""
    return math.degrees(value) if dial.startswith("turn") else value


def play(stage, holds):
    """The tool's main loop, until something is seen."""
    until = time.monotonic() + 60
    while not holds() and time.monotonic() < until:
        stage.round()
        time.sleep(0.005)
    print(holds())


def main(command):
    stage = Stage()
    for tick in range(40):
        share = min(max((tick - 5) / 24, 0), 1)
        stage.place("lamp", "slide x", tick, share * share * (3 - 2 * share))
    adapter = Adapter(stage, command)

    def has_pop():
        return any(line.startswith("pop: ") for line in stage.lines)

    play(stage, lambda: adapter.shot.is_settled and not has_pop())
    # A drag: many events of one key, which the queue folds.
    for step in range(100):
        stage.place("lamp", "slide x", 17, step / 50)
        stage.round()
    play(stage, has_pop)
    adapter.feed.process.kill()
    play(stage, lambda: stage.lines[0].startswith("No notes: "))
    play(stage, has_pop)
    # Undo is the tool's: it tells the opposite by the same events.
    for _ in range(100):
        stage.undo()
    play(stage, lambda: adapter.shot.is_settled and not has_pop())
    adapter.close()


if __name__ == "__main__":
    main(sys.argv[1:] or ["keyside"])
