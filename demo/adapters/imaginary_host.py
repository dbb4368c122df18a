"""A tool that is not there: parts with dials that are keyed by the tick, an undo of its own, and a main loop.

It has words and units of its own, as real tools do: ticks from 0, turns in radians, and three events: ``placed`` when
a key has a new value, ``shifted`` when it stands at another tick, ``lifted`` when it is taken out.
"""


class Stage:
    def __init__(self):
        self.dials = {}
        self.listeners = []
        self.each_round = []
        self.lines = []
        self._undo = []

    def place(self, part, dial, tick, value):
        keys = self.dials.setdefault((part, dial), {})
        old = keys.get(tick)
        back = (self._lift, part, dial, tick) if old is None else (self._place, part, dial, tick, old)
        self._undo.append(back)
        self._place(part, dial, tick, value)

    def shift(self, part, dial, tick, to):
        self._undo.append((self._shift, part, dial, to, tick))
        self._shift(part, dial, tick, to)

    def lift(self, part, dial, tick):
        self._undo.append((self._place, part, dial, tick, self.dials[part, dial][tick]))
        self._lift(part, dial, tick)

    def undo(self):
        """Does the opposite of what was done last, and tells it by the same events."""
        change, *about = self._undo.pop()
        change(*about)

    def round(self):
        """One round of the main loop, of which a real tool has many in a second."""
        for task in self.each_round:
            task()

    def show(self, lines):
        self.lines = lines

    def _place(self, part, dial, tick, value):
        self.dials[part, dial][tick] = value
        self._tell("placed", part, dial, tick, value)

    def _shift(self, part, dial, tick, to):
        keys = self.dials[part, dial]
        keys[to] = keys.pop(tick)
        self._tell("shifted", part, dial, tick, to)

    def _lift(self, part, dial, tick):
        del self.dials[part, dial][tick]
        self._tell("lifted", part, dial, tick)

    def _tell(self, *event):
        for listener in self.listeners:
            listener(*event)
