"""A client of Keyside's host channel: notes on a shot while its keys are edited.

Needs Python 3.7 or newer and its standard library alone; copy this one file into a tool. The protocol is described in
docs/host-protocol.md, and there is a section for tool makers. A first look, with a feed that the client starts itself::

    with start_feed() as feed, feed.connect() as client:
        shot = client.open_shot("jetty_0040", text=open("jetty_0040.curves.json").read())
        for note in shot.wait():
            print(note["tier"], note["frames"], note["message"], "->", note["suggestion"])
        shot.queue([set_key("head", "rotation.x", 1027, 4.5)])
        notes = shot.wait()

``python3 keyside_client.py SHOT.curves.json`` prints a shot's notes.

Threads: sending and reading have threads of their own, and no call of :meth:`Shot.queue` waits for them. Callbacks are
called by :meth:`Client.poll` alone, on the thread that calls it; with ``callbacks="at once"`` on the client's own
reading thread instead.
"""

from __future__ import annotations

import argparse
import collections
import json
import math
import numbers
import os
import queue as queues
import re
import socket
import subprocess
import sys
import threading
import time
import traceback
from pathlib import Path
from typing import Any, BinaryIO, Callable, Dict, Iterable, List, Mapping, Optional, Sequence, Tuple, Union

PROTOCOL = 1
"""Version of the host channel that this client speaks."""

CHANNELS = (
    "translation.x", "translation.y", "translation.z",
    "rotation.x", "rotation.y", "rotation.z",
    "scale.x", "scale.y", "scale.z", "rotation",
)  # fmt: skip
"""Channels that can be keyed."""

INTERPOLATIONS = ("step", "linear", "smooth", "bezier", "cubic")
"""Ways from one key to the next."""

Note = Mapping[str, Any]
"""One find; docs/host-messages.md lists what stands in it."""

KeyEdit = Mapping[str, Any]
"""One change of a key, as :func:`set_key`, :func:`move_key` and :func:`remove_key` make it."""

Content = Union[Mapping[str, Any], str]
"""A shot: a curve document, or the text of a file."""

Then = Callable[[Any, Optional[Exception]], None]
"""Takes an answer and None, or None and the error."""

_LARGEST = 1e12
_SAME_FRAME = 1e-6


def set_key(
    node: str,
    channel: str,
    frame: float,
    value: Any,
    interpolation: Optional[str] = None,
    handles: Optional[Mapping[str, Any]] = None,
) -> KeyEdit:
    """Gives the key at a frame a value, in the document's units; makes the key where there is none.

    :param handles: ``in`` and ``out``, each ``[frames, value]``, a slope, or None to take it away
    """
    edit: Dict[str, Any] = {
        "kind": "set", "node": node, "channel": channel, "frame": frame, "value": value
    }  # fmt: skip
    if interpolation is not None:
        edit["interpolation"] = interpolation
    if handles is not None:
        edit["handles"] = handles
    return edit


def move_key(node: str, channel: str, frame: float, to_frame: float, value: Any = None) -> KeyEdit:
    """Moves the key at a frame in time, with its handles; gives it a value too where one is given."""
    edit = {"kind": "move", "node": node, "channel": channel, "frame": frame, "toFrame": to_frame}
    return edit if value is None else {**edit, "value": value}


def remove_key(node: str, channel: str, frame: float) -> KeyEdit:
    """Takes the key at a frame out."""
    return {"kind": "remove", "node": node, "channel": channel, "frame": frame}


class FeedError(Exception):
    """The feed refused a request; ``reason`` names why, ``data`` holds what else it said."""

    def __init__(self, error: Mapping[str, Any]) -> None:
        super().__init__(error.get("message", "The feed refused the request."))
        self.code: int = error.get("code", 0)
        self.data: Mapping[str, Any] = error.get("data") or {}
        self.reason: Optional[str] = self.data.get("reason")


class FeedGone(Exception):
    """The connection to the feed ended."""


class EditError(ValueError):
    """An edit that cannot be made, whatever the shot holds; it was not sent, and cost no revision."""


class QueueFull(Exception):
    """More keys wait for the feed than the queue holds; nothing of the call was taken."""


# Edits, checked before they are sent.


_TIERS = ("major", "minor", "polish")


def in_order(notes: Iterable[Note]) -> List[Note]:
    """Notes as reports have them, the one that matters most first.

    They go by how plainly they are seen, where a major one counts twice and is 0.07 where no size is known; then polish.
    """

    def place(note: Note) -> Tuple[bool, float, int, float, float, str]:
        plainness = note.get("rank", {}).get("plainness", 0)
        tier = note["tier"]
        standing = plainness / 2 if tier == "minor" else plainness
        if tier == "major" and plainness == 0:
            standing = 0.07
        rung = _TIERS.index(tier)
        return (tier == "polish", -standing, rung, -note["weight"], note["frames"][0], note["fingerprint"])

    return sorted(notes, key=place)


def checked_edits(edits: Sequence[KeyEdit], nodes: Optional[frozenset] = None) -> List[KeyEdit]:
    """Copies of edits that hold nothing but numbers and names that can be sent.

    :param nodes: ids of the shot's nodes; None where they are not known here
    :raises EditError: with a sentence that names what is wrong
    """
    return [_checked(edit, nodes) for edit in edits]


def _checked(edit: KeyEdit, nodes: Optional[frozenset]) -> KeyEdit:
    kind, node, channel = edit.get("kind"), edit.get("node"), edit.get("channel")
    if kind not in ("set", "move", "remove"):
        raise EditError("An edit is of the kind set, move or remove, not %s." % _shown(kind))
    if not isinstance(node, str) or node == "":
        raise EditError("An edit names its node by the node's id.")
    if nodes is not None and node not in nodes:
        raise EditError("The shot has no node %s." % _shown(node))
    if channel not in CHANNELS:
        raise EditError("There is no channel %s; there are %s." % (_shown(channel), ", ".join(CHANNELS)))
    of = "%s of %s" % (_shown(channel), _shown(node))
    frame = _number(edit.get("frame"), "The frame of a key of " + of)
    key = "the key of %s at frame %g" % (of, frame)
    found: Dict[str, Any] = {"kind": kind, "node": node, "channel": channel, "frame": frame}
    if kind == "remove":
        return found
    if kind == "move":
        found["toFrame"] = _number(edit.get("toFrame"), "The new frame of " + key)
        if edit.get("value") is not None:
            found["value"] = _value(edit["value"], channel, key)
        return found
    found["value"] = _value(edit.get("value"), channel, key)
    if edit.get("handles") is not None:
        found["handles"] = {
            side: None if handle is None else _handle(handle, channel, "A handle of " + key)
            for side, handle in edit["handles"].items()
            if side in ("in", "out")
        }
    if "interpolation" in edit:
        mode = edit["interpolation"]
        if mode is not None and mode not in INTERPOLATIONS:
            there = ", ".join(INTERPOLATIONS)
            raise EditError("There is no interpolation %s; there are %s." % (_shown(mode), there))
        found["interpolation"] = mode
    return found


def _value(given: Any, channel: Any, key: str) -> Any:
    if channel != "rotation":
        return _number(given, "The value of " + key)
    if not _is_list(given) or len(given) != 4:
        raise EditError("The value of %s is a quaternion [x, y, z, w]." % key)
    parts = [_number(part, "A part of the value of " + key) for part in given]
    if not any(parts):
        raise EditError("The value of %s is a quaternion of length zero, which is no rotation." % key)
    return parts


def _handle(handle: Any, channel: Any, what: str) -> Any:
    is_list = _is_list(handle)
    if channel == "rotation":
        if not is_list or len(handle) != 4:
            raise EditError("%s is a slope of four numbers." % what)
    elif is_list and len(handle) != 2:
        raise EditError("%s is [frames, value] or a slope." % what)
    return [_number(part, what) for part in handle] if is_list else _number(handle, what)


def _is_list(given: Any) -> bool:
    return hasattr(given, "__len__") and hasattr(given, "__getitem__") and not isinstance(given, (str, bytes))


def _number(given: Any, what: str) -> Union[int, float]:
    if isinstance(given, numbers.Real) and not isinstance(given, bool):
        if type(given) is int and abs(given) <= _LARGEST:
            return given
        number = float(given)
        if math.isfinite(number) and abs(number) <= _LARGEST:
            return number
    sentence = "%s is %s; it has to be a finite number of a size that motion has."
    raise EditError(sentence % (what, _shown(given)))


def _shown(given: Any) -> str:
    return json.dumps(given) if isinstance(given, str) else str(given)


# The queue of edits, folded per key.


class _Entry:
    """What is to become of one key; ``frame`` is where it stands before the request."""

    __slots__ = ("node", "channel", "frame", "is_there", "is_removed", "to_frame", "value", "more", "handles")

    def __init__(self, edit: KeyEdit) -> None:
        kind = edit["kind"]
        self.node: str = edit["node"]
        self.channel: str = edit["channel"]
        self.frame: float = edit["frame"]
        # ``set`` may make the key, the others may not.
        self.is_there = kind != "set"
        self.is_removed = kind == "remove"
        self.to_frame: Optional[float] = edit.get("toFrame")
        self.value: Any = edit.get("value")
        self.more: Dict[str, Any] = {}
        if "interpolation" in edit:
            self.more["interpolation"] = edit["interpolation"]
        self.handles: Optional[Dict[str, Any]] = dict(edit["handles"]) if "handles" in edit else None

    @property
    def after(self) -> float:
        return self.frame if self.to_frame is None else self.to_frame

    def join(self, then: "_Entry") -> None:
        """Takes what comes after it."""
        if then.is_removed:
            self.is_removed, self.to_frame, self.value, self.more, self.handles = True, None, None, {}, None
            return
        self.is_removed = False
        if then.to_frame is not None:
            self.to_frame = then.to_frame
        if then.value is not None:
            self.value = then.value
        self.more = {**self.more, **then.more}
        if then.handles is not None:
            self.handles = {**(self.handles or {}), **then.handles}

    def edits(self) -> List[KeyEdit]:
        place = {"node": self.node, "channel": self.channel, "frame": self.frame}
        if self.is_removed:
            return [{"kind": "remove", **place}]
        handles = {} if self.handles is None else {"handles": self.handles}
        keyed = {"kind": "set", **place, "value": self.value, **handles, **self.more}
        if self.to_frame is None:
            return [keyed]
        moved: Dict[str, Any] = {"kind": "move", **place, "toFrame": self.to_frame}
        if handles or self.more:
            return [keyed, moved]
        return [moved if self.value is None else {**moved, "value": self.value}]


class _ByFrame:
    """Entries found by a frame: that before the request, or that after it."""

    def __init__(self, side: str) -> None:
        self._side = side
        self._entries: Dict[int, _Entry] = {}

    def at(self, frame: float) -> Optional[_Entry]:
        nearest = math.floor(frame / _SAME_FRAME + 0.5)
        for place in (nearest, nearest - 1, nearest + 1):
            entry = self._entries.get(place)
            if entry is not None and abs(frame - getattr(entry, self._side)) <= _SAME_FRAME:
                return entry
        return None

    def put(self, entry: _Entry) -> None:
        self._entries[math.floor(getattr(entry, self._side) / _SAME_FRAME + 0.5)] = entry

    def take(self, entry: _Entry) -> None:
        place = math.floor(getattr(entry, self._side) / _SAME_FRAME + 0.5)
        if self._entries.get(place) is entry:
            del self._entries[place]


class _ChannelEntries:
    def __init__(self) -> None:
        self.before = _ByFrame("frame")
        self.after = _ByFrame("after")
        self.has_removed = False


class _Batch:
    """Edits of one request, a key at a time."""

    def __init__(self) -> None:
        self.entries: List[_Entry] = []
        self._channels: Dict[Tuple[str, str], _ChannelEntries] = {}

    def room(self, group: Sequence[_Entry]) -> int:
        """How many keys more the batch, or another behind it, has to hold for edits."""
        found = self._known(group)
        return found.count(None) if self._may_fold_all(group, found) else len(group)

    def take(self, group: Sequence[_Entry]) -> bool:
        """Takes edits that follow, if the whole is still one request that leads to the same document."""
        found = self._known(group)
        if not self._may_fold_all(group, found):
            return False
        known = [entry for entry in found if entry is not None]
        for entry in known:
            self._of(entry).after.take(entry)
        for entry, old in zip(group, found):
            frame = entry.after if old is None or entry.to_frame is not None else old.after
            if not entry.is_removed and self._of(entry).after.at(frame) is not None:
                for other in known:
                    self._of(other).after.put(other)
                return False
        for entry, old in zip(group, found):
            channel = self._of(entry)
            if old is None:
                self.entries.append(entry)
                channel.before.put(entry)
                old = entry
            else:
                old.join(entry)
            if old.is_removed:
                channel.has_removed = True
            else:
                channel.after.put(old)
        return True

    def _known(self, group: Sequence[_Entry]) -> List[Optional[_Entry]]:
        return [self._of(entry).after.at(entry.frame) for entry in group]

    def _may_fold_all(self, group: Sequence[_Entry], found: Sequence[Optional[_Entry]]) -> bool:
        return all(self._may_fold(entry, old) for entry, old in zip(group, found))

    def _may_fold(self, entry: _Entry, known: Optional[_Entry]) -> bool:
        channel = self._of(entry)
        if known is None:
            # The key that stood at this frame has gone from there, so that its name means another key.
            if channel.before.at(entry.frame) is not None:
                return False
            # The key before may have been the curve's last: a curve that is made anew is another one.
            return entry.is_there or not channel.has_removed
        # A key that the batch may make itself cannot be moved or taken out in the same request.
        return known.is_there or (not entry.is_removed and entry.to_frame is None)

    def _of(self, entry: _Entry) -> _ChannelEntries:
        name = (entry.node, entry.channel)
        found = self._channels.get(name)
        if found is None:
            found = self._channels[name] = _ChannelEntries()
        return found


def _group_of(edits: Sequence[KeyEdit]) -> Optional[List[_Entry]]:
    """Edits that are made at once, a key at a time; None where a key is moved that an edit before takes out."""
    entries: List[_Entry] = []
    channels: Dict[Tuple[str, str], _ByFrame] = {}
    for edit in edits:
        known = channels.setdefault((edit["node"], edit["channel"]), _ByFrame("frame"))
        before = known.at(edit["frame"])
        entry = _Entry(edit)
        if before is None:
            entries.append(entry)
            known.put(entry)
        elif before.is_removed and edit["kind"] == "move":
            return None
        else:
            before.join(entry)
            before.is_there = before.is_there or entry.is_there
    return entries


class _Call:
    """A request that waits for its turn among the edits of a shot."""

    def __init__(self, method: str, params: str, then: Then) -> None:
        self.method = method
        self.params = params
        self.then = then


class KeyQueue:
    """What waits for the feed, in order: edits, folded per key as far as that leads to the same document, and calls.

    It grows with the keys that change, not with the edits. It is not held against other threads.
    """

    def __init__(self, limit: int) -> None:
        """:param limit: most keys that wait at once"""
        self._limit = limit
        self._steps: List[Any] = []

    def __len__(self) -> int:
        """How many keys wait."""
        return sum(
            len(step.entries) if isinstance(step, _Batch) else len(step) if isinstance(step, list) else 0
            for step in self._steps
        )

    @property
    def is_empty(self) -> bool:
        """Whether nothing waits, neither edits nor calls."""
        return not self._steps

    def add(self, edits: Sequence[KeyEdit]) -> bool:
        """Adds edits that are made at once, behind all others; says whether there was room.

        :param edits: as :func:`checked_edits` gives them
        """
        if not edits:
            return True
        group = _group_of(edits)
        last = self._steps[-1] if self._steps and isinstance(self._steps[-1], _Batch) else None
        more = len(edits) if group is None else len(group) if last is None else last.room(group)
        if len(self) + more > self._limit:
            return False
        if group is None:
            # Edits that cannot all be made: the feed says why.
            self._steps.append(list(edits))
        elif last is None or not last.take(group):
            batch = _Batch()
            self._steps.append(batch if batch.take(group) else list(edits))
        return True

    def call(self, call: Any) -> None:
        """Adds a call behind all edits so far."""
        self._steps.append(call)

    def next(self) -> Any:
        """Takes the first step out: a list of edits, or a call; None where nothing waits."""
        if not self._steps:
            return None
        step = self._steps.pop(0)
        if not isinstance(step, _Batch):
            return step
        return [edit for entry in step.entries for edit in entry.edits()]

    def put_back(self, edits: Sequence[KeyEdit]) -> None:
        """Puts edits before all others; nothing is folded into them."""
        if edits:
            self._steps.insert(0, list(edits))

    def withdraw(self, call: Any) -> bool:
        """Takes a call out that was not sent; says whether it was there."""
        if call not in self._steps:
            return False
        self._steps.remove(call)
        return True

    def drop_edits(self) -> None:
        """Drops all edits; calls stay."""
        self._steps = [step for step in self._steps if not isinstance(step, (_Batch, list))]

    def clear(self) -> List[Any]:
        """Drops everything, and gives the calls."""
        calls = [step for step in self._steps if not isinstance(step, (_Batch, list))]
        self._steps = []
        return calls


class Change:
    """What became of a shot's notes since the tool was last told."""

    def __init__(self, before: Mapping[str, Note], now: Mapping[str, Note], revision: int) -> None:
        self.revision = revision
        """The revision that is judged."""
        self.added: List[Note] = [note for name, note in now.items() if name not in before]
        self.changed: List[Note] = [
            note for name, note in now.items() if name in before and before[name] is not note
        ]
        self.gone: List[str] = [name for name in before if name not in now]
        """Fingerprints."""


class Refusal:
    """Queued edits that the feed refused: they are not in its shot, though they may be in the tool's."""

    def __init__(self, edits: Sequence[KeyEdit], error: FeedError) -> None:
        self.edits = list(edits)
        self.error = error


class Shot:
    """A shot that is open on a connection: it counts revisions and keeps the notes that the feed tells.

    Methods that ask the feed wait for its answer. With ``then`` they do not: they return at once, and
    ``then(answer, error)`` is called as callbacks are.
    """

    def __init__(self, client: "Client", name: str, options: Mapping[str, Any]) -> None:
        self.name = name
        self.revision = 0
        """The newest revision that was sent."""
        self.judged_revision = -1
        """The revision that :attr:`notes` judge."""
        self.notes: Dict[str, Note] = {}
        """Notes by fingerprint."""
        self.failures: Sequence[Mapping[str, Any]] = ()
        """Checks that ended in an error, whose notes are missing."""
        self.waivers: List[Mapping[str, Any]] = list(options.get("waivers") or ())
        """Waivers that the tool keeps, as they were last given to the feed."""
        self.review: Optional[Mapping[str, Any]] = options.get("review")
        """What people say, as a review file, as it was last given to the feed or made there."""
        self.remarks: Sequence[Mapping[str, Any]] = ()
        """What people say, beside the keys of which they speak, as the feed told it last."""
        self.on_review: Optional[Callable[["Shot"], None]] = None
        """Called when something of what people say is other than was told."""
        self.on_change: Optional[Callable[["Shot", Change], None]] = None
        """Called when the feed has judged a revision, with the change since the last call."""
        self.on_so_far: Optional[Callable[["Shot", Mapping[str, Any]], None]] = options.get("on_so_far")
        """Called about every 100 ms while a judgement takes longer than that; given to :meth:`Client.open_shot`."""
        self.on_refused: Optional[Callable[["Shot", Refusal], None]] = None
        """Called when the feed refused queued edits."""
        self.on_failure: Optional[Callable[["Shot", str], None]] = None
        """Called when Keyside itself failed at the shot."""
        self._client = client
        self._options = options
        self._config = options.get("config")
        self._queue = KeyQueue(options["queue_limit"])
        self._nodes: Optional[frozenset] = None
        self._state = "opening"
        self._is_busy = False
        self._lacks_document = False
        self._is_afresh = False
        self._before: Optional[Mapping[str, Note]] = None
        self._failure: Optional[str] = None
        self._so_far: Optional[Mapping[str, Any]] = None

    @property
    def waiting(self) -> int:
        """How many keys wait to be sent."""
        with self._client.changed:
            return len(self._queue)

    @property
    def is_settled(self) -> bool:
        """Whether every edit was sent and the newest revision is judged."""
        with self._client.changed:
            is_sent = self._queue.is_empty and not self._is_busy and not self._lacks_document
            return self._state == "open" and is_sent and self.judged_revision == self.revision

    def queue(self, edits: Sequence[KeyEdit]) -> None:
        """Sends edits when the feed has taken those before, and does not wait.

        Edits that wait are folded per key. Of edits that the feed refuses ``on_refused`` tells; the others of the
        queue are made.

        :raises EditError: for what is no edit
        :raises QueueFull: where too many keys wait and the shot has no ``document_now``
        :raises FeedGone: where the feed has gone and the shot has no ``document_now``
        """
        checked = checked_edits(edits, self._nodes)
        with self._client.changed:
            has_document = self._options.get("document_now") is not None
            if self._state == "closed" or (self._state == "gone" and not has_document):
                raise _gone()
            # The tool's own document, which is asked for later, holds these edits.
            if self._state == "gone" or self._lacks_document:
                return
            if not self._queue.add(checked):
                if not has_document:
                    raise QueueFull(
                        "%d keys wait for the feed, and no more are taken. Queue these again later, or replace the"
                        " shot." % len(self._queue)
                    )
                self._queue.drop_edits()
                self._lacks_document = True
                self._client._later(self._send_document)
            self._client.changed.notify_all()

    def edit(self, edits: Sequence[KeyEdit], then: Optional[Then] = None) -> Any:
        """Makes edits, all or none, after those that are queued; gives the shot's new revision.

        :raises EditError: for what is no edit
        :raises FeedError: with reason ``bad-edit`` where one of them cannot be made
        """
        return self._call("keyside/editKeys", {"edits": checked_edits(edits, self._nodes)}, then)

    def replace(
        self,
        document: Optional[Mapping[str, Any]] = None,
        text: Optional[str] = None,
        then: Optional[Then] = None,
    ) -> Any:
        """Puts another version of the shot in place: nodes and curves that come and go. Edits that wait are dropped."""
        content = self._content(document, text)
        params = _encoded(content)
        with self._client.changed:
            self._queue.drop_edits()
            self._nodes = _nodes_of(content)
        return self._call("keyside/replaceShot", params, then)

    def configure(self, config: Mapping[str, Any], then: Optional[Then] = None) -> Any:
        """Judges the shot by other settings, written as in a configuration file."""

        def keep() -> None:
            self._config = dict(config)

        return self._call("keyside/configureShot", {"config": dict(config)}, then, keep)

    def set_waivers(self, waivers: Sequence[Mapping[str, Any]], then: Optional[Then] = None) -> Any:
        """Gives the shot the waivers that the tool keeps, in place of those before."""
        given = list(waivers)

        def keep() -> None:
            self.waivers = given

        return self._call("keyside/setWaivers", {"waivers": given}, then, keep)

    def waive(
        self, fingerprint: str, reason: str, by: Optional[str] = None, then: Optional[Then] = None
    ) -> Mapping[str, Any]:
        """Waives a note: it goes, and does not come back while its waiver is kept.

        :param reason: why it is meant
        :returns: the waiver, for the tool to keep; :meth:`set_waivers` without it takes it back
        """
        with self._client.changed:
            note = self.notes.get(fingerprint)
        if note is None:
            raise KeyError("%s has no note %s" % (self.name, fingerprint))
        waiver: Dict[str, Any] = {"check": note["check"], "frames": list(note["frames"]), "reason": reason}
        if note["node"] is not None:
            waiver["node"] = note["node"]
        if by is not None:
            waiver["by"] = by
        self.set_waivers([*self.waivers, waiver], then)
        return waiver

    def set_review(self, review: Mapping[str, Any], then: Optional[Then] = None) -> Any:
        """Gives the shot what people say of it, in place of what was given before.

        :param review: the JSON of a review file
        :returns: what of it cannot be used, a sentence each
        """

        def keep() -> None:
            self.review = review

        return self._call(
            "keyside/setReview", {"review": dict(review)}, then, keep, lambda answer: answer["problems"]
        )

    def change_review(
        self,
        changes: Sequence[Mapping[str, Any]],
        by: str,
        date: Optional[str] = None,
        then: Optional[Then] = None,
    ) -> Any:
        """Adds, changes and takes out remarks, says what became of them, and decides about notes: all or none.

        Gives the id of what each change made or changed; :attr:`review` is for the tool to keep.

        :param changes: as ``keyside/changeReview`` takes them (docs/host-messages.md)
        :param by: who says so
        :param date: ISO 8601; now if left out
        :raises FeedError: with reason ``bad-review`` where one of them cannot be made
        """
        params: Dict[str, Any] = {"changes": [dict(change) for change in changes], "by": by}
        if date is not None:
            params["date"] = date

        def gives(answer: Any) -> Any:
            self.review = answer["review"]
            return answer["ids"]

        return self._call("keyside/changeReview", params, then, gives=gives)

    def fix(self, fingerprint: str, then: Optional[Then] = None) -> Any:
        """Looks for a change of keys that clears a note; nothing is changed. docs/host-messages.md says what comes."""
        params = {"shot": self.name, "fingerprint": fingerprint}
        return self._client.request("keyside/fix", params, then, _FIX_TIME)

    def explain(self, fingerprint: str, then: Optional[Then] = None) -> Any:
        """All about a note: the check that found it, and the series behind it."""
        return self._client.request(
            "keyside/explain", {"shot": self.name, "fingerprint": fingerprint}, then
        )

    def wait(self, timeout: float = 10.0) -> List[Note]:
        """Waits until every edit was sent and the newest revision is judged; gives its notes, :func:`in_order`.

        :raises TimeoutError: where that takes longer than ``timeout`` seconds
        :raises FeedGone: where the connection ends meanwhile
        """
        if self._lacks_document:
            self._send_document()
        self._client.wait_until(lambda: self.is_settled or self._failure is not None, timeout)
        with self._client.changed:
            failure, self._failure = self._failure, None
            if failure is not None:
                raise FeedError({"message": failure})
            return in_order(self.notes.values())

    def close(self) -> None:
        """Closes the shot; the feed says nothing more about it."""
        with self._client.changed:
            was, self._state = self._state, "closed"
            self._queue.clear()
            self._client.shots.pop(self.name, None)
        if was != "gone":
            self._client.request("keyside/closeShot", {"shot": self.name})

    def _content(self, document: Optional[Mapping[str, Any]], text: Optional[str]) -> Dict[str, Any]:
        if (document is None) == (text is None):
            raise ValueError("A shot is given as a document or as a text")
        if document is not None:
            return {"document": document}
        name = self._options.get("file_name")
        return {"text": text} if name is None else {"text": text, "fileName": name}

    def _content_now(self) -> Dict[str, Any]:
        now = self._options["document_now"]()
        return self._content(None, now) if isinstance(now, str) else self._content(now, None)

    def _open(self, content: Mapping[str, Any], then: Then) -> None:
        params: Dict[str, Any] = {"shot": self.name, "revision": self.revision, **content}
        more = (("config", self._config), ("folder", self._options.get("folder")))
        for key, value in (*more, ("waivers", self.waivers or None), ("review", self.review)):
            if value is not None:
                params[key] = value

        if self.on_so_far is not None:
            params["notesSoFar"] = True

        def opened(answer: Any, error: Optional[Exception]) -> None:
            if error is None and self._state == "opening":
                self._state = "open"
            elif error is not None:
                self._state = "gone"
            then(answer, error)

        self._nodes = _nodes_of(content)
        self._state = "opening"
        self._is_busy = False
        self._client._post("keyside/openShot", _encoded(params), opened)

    def _send_document(self) -> None:
        if not self._lacks_document or self._state == "gone":
            return
        content = self._content_now()
        with self._client.changed:
            self._lacks_document = False

        def refused(_: Any, error: Optional[Exception]) -> None:
            if isinstance(error, FeedError):
                self._refuse([], error)

        self.replace(content.get("document"), content.get("text"), refused)

    def _call(
        self,
        method: str,
        params: Any,
        then: Optional[Then],
        keep: Callable[[], None] = lambda: None,
        gives: Callable[[Any], Any] = lambda answer: answer["revision"],
    ) -> Any:
        encoded = params if isinstance(params, str) else _encoded(params)

        def start(done: Then) -> Callable[[], bool]:
            def answered(answer: Any, error: Optional[Exception]) -> None:
                if error is None:
                    keep()
                done(None if error is not None else gives(answer), error)

            call = _Call(method, encoded, answered)
            if self._state in ("gone", "closed"):
                raise _gone()
            self._queue.call(call)
            self._client.changed.notify_all()
            return lambda: self._queue.withdraw(call)

        return self._client._ask(start, then, self._client.timeout)

    def _next_message(self) -> Optional[Tuple[str, str, Then]]:
        """The next request that is to be sent, which makes the next revision; None where there is none yet."""
        if self._is_busy or self._state != "open":
            return None
        step = self._queue.next()
        if step is None:
            return None
        call = step if isinstance(step, _Call) else self._call_for(step)
        revision = self.revision + 1
        self._is_busy = True
        # Counted before it is sent: the feed may tell of it before it is answered.
        self.revision = revision

        def answered(answer: Any, error: Optional[Exception]) -> None:
            self._is_busy = False
            if isinstance(error, FeedError):
                self.revision = error.data.get("revision", revision - 1)
            call.then(answer, error)

        head = '{"shot":%s,"revision":%d' % (json.dumps(self.name), revision)
        return call.method, head + "," + call.params[1:], answered

    def _call_for(self, edits: List[KeyEdit]) -> _Call:
        def answered(_: Any, error: Optional[Exception]) -> None:
            # Where the feed has gone, the tool's own document holds the edits.
            if not isinstance(error, FeedError):
                return
            found = (re.match(r"edits/(\d+)", one.get("path") or "") for one in error.data.get("problems") or ())
            bad = {int(match.group(1)) for match in found if match}
            self._refuse([edit for at, edit in enumerate(edits) if not bad or at in bad], error)
            if bad:
                self._queue.put_back([edit for at, edit in enumerate(edits) if at not in bad])

        return _Call("keyside/editKeys", _encoded({"edits": edits}), answered)

    def _refuse(self, edits: Sequence[KeyEdit], error: FeedError) -> None:
        refusal = Refusal(edits, error)
        self._client._later(lambda: self.on_refused and self.on_refused(self, refusal))

    def _take(self, message: Mapping[str, Any]) -> None:
        before = self.notes
        notes = {} if self._is_afresh else dict(before)
        self._is_afresh = False
        for fingerprint in message["gone"]:
            notes.pop(fingerprint, None)
        for note in [*message["added"], *message["changed"]]:
            notes[note["fingerprint"]] = note
        self.notes = notes
        self.judged_revision = message["revision"]
        self.failures = message.get("failures", ())
        self._failure = None
        self._so_far = None
        if self._before is None:
            self._before = before
            self._client._later(self._tell)

    def _tell(self) -> None:
        with self._client.changed:
            before, self._before = self._before, None
            if before is None:
                return
            change = Change(before, self.notes, self.judged_revision)
        if self.on_change is not None:
            self.on_change(self, change)

    def _take_so_far(self, message: Mapping[str, Any]) -> None:
        is_told, self._so_far = self._so_far is not None, message
        if not is_told:
            self._client._later(self._tell_so_far)

    def _tell_so_far(self) -> None:
        with self._client.changed:
            so_far, self._so_far = self._so_far, None
        if so_far is not None and self.on_so_far is not None:
            self.on_so_far(self, so_far)

    def _take_review(self, remarks: Sequence[Mapping[str, Any]]) -> None:
        self.remarks = remarks
        self._client._later(lambda: self.on_review and self.on_review(self))

    def _fail(self, message: str) -> None:
        self._failure = message
        self._client._later(lambda: self.on_failure and self.on_failure(self, message))

    def _lose(self) -> List[_Call]:
        if self._state != "closed":
            self._state = "gone"
        self._is_busy = False
        return self._queue.clear()


_FIX_TIME = 60.0
_DEFAULT_LIMIT = 20_000


class _Wire:
    """One connection: a socket, and the threads that read and send on it."""

    def __init__(self, client: "Client", host: str, port: int) -> None:
        self.outgoing: "collections.deque[Tuple[str, str, int]]" = collections.deque()
        self.is_gone = False
        self._client = client
        self._socket = socket.create_connection((host, port), client.timeout)
        self._socket.settimeout(None)
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.reader = threading.Thread(target=self._read, name="keyside feed, reading", daemon=True)
        self.writer = threading.Thread(target=self._write, name="keyside feed, sending", daemon=True)

    def start(self) -> None:
        """Begins to read and to send."""
        self.reader.start()
        self.writer.start()

    def close(self) -> None:
        """Ends the connection; the threads end by themselves."""
        with self._client.changed:
            self.is_gone = True
            self._client.changed.notify_all()
        try:
            self._socket.shutdown(socket.SHUT_RDWR)
        except OSError:
            pass
        self._socket.close()

    def _write(self) -> None:
        client = self._client
        while True:
            with client.changed:
                message = client._next_message(self)
                while message is None and not self.is_gone:
                    client.changed.wait()
                    message = client._next_message(self)
                if message is None:
                    return
            method, params, own = message
            text = '{"jsonrpc":"2.0","id":%d,"method":%s,"params":%s}' % (own, json.dumps(method), params)
            body = text.encode("utf-8")
            try:
                self._socket.sendall(b"Content-Length: %d\r\n\r\n" % len(body) + body)
            except OSError:
                # The reading thread says so.
                return

    def _read(self) -> None:
        why = "The connection to the feed ended."
        try:
            with self._socket.makefile("rb") as stream:
                while True:
                    message = _read_message(stream)
                    if message is None:
                        break
                    self._client._dispatch(message)
        except (OSError, ValueError) as error:
            why = "The connection to the feed ended: %s" % error
        self._client._lost(self, why)


class Client:
    """A connection to a feed that listens on a socket (``keyside feed --socket PORT``)."""

    def __init__(
        self,
        port: int,
        token: str,
        host: str = "127.0.0.1",
        timeout: float = 10.0,
        callbacks: str = "poll",
        feed: Optional["Feed"] = None,
    ) -> None:
        """Connects and says hello.

        :param timeout: seconds that calls wait for an answer
        :param callbacks: ``"poll"``: callbacks are called by :meth:`poll`; ``"at once"``: on a thread of the client
        :param feed: the feed that :meth:`restart` starts again; None where somebody else starts it
        :raises OSError: where nobody listens there
        :raises FeedError: with reason ``wrong-token`` or ``unsupported-protocol``
        """
        if callbacks not in ("poll", "at once"):
            raise ValueError('callbacks are called by "poll" or "at once"')
        self.changed = threading.Condition()
        self.shots: Dict[str, Shot] = {}
        self.timeout = timeout
        self.on_gone: Optional[Callable[["Client", str], None]] = None
        """Called when the connection ended though nobody closed it, or could not be made again; with the reason."""
        self.on_back: Optional[Callable[["Client", List[str]], None]] = None
        """Called when :meth:`restart` has come through, with the names of shots that it had to close."""
        self._callbacks = callbacks
        self._due: "collections.deque[Callable[[], Any]]" = collections.deque()
        self._calling = threading.Lock()
        self._requests: Dict[int, Then] = {}
        self._sent = 0
        self._host, self._port, self._token, self._feed = host, port, token, feed
        self._wire: Optional[_Wire] = None
        self.server: Mapping[str, Any] = self._connect()
        """What the feed said of itself: its version and its checks."""

    def __enter__(self) -> "Client":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def is_gone(self) -> bool:
        """Whether there is no connection now."""
        return self._wire is None

    def close(self) -> None:
        """Ends the connection, and with it the feed's work on its shots; ``on_gone`` is not called."""
        with self.changed:
            wire, self._wire = self._wire, None
        if wire is None:
            return
        wire.close()
        self._drop("The client was closed.")
        for thread in (wire.reader, wire.writer):
            if threading.current_thread() is not thread:
                thread.join(self.timeout)

    def open_shot(
        self,
        name: str,
        document: Optional[Mapping[str, Any]] = None,
        text: Optional[str] = None,
        file_name: Optional[str] = None,
        config: Optional[Mapping[str, Any]] = None,
        folder: Optional[str] = None,
        waivers: Sequence[Mapping[str, Any]] = (),
        review: Optional[Mapping[str, Any]] = None,
        document_now: Optional[Callable[[], Content]] = None,
        queue_limit: int = _DEFAULT_LIMIT,
        on_so_far: Optional[Callable[[Shot, Mapping[str, Any]], None]] = None,
    ) -> Shot:
        """Opens a shot, as a document, as the text of a file, or as ``document_now`` gives it.

        :param name: what the shot is called on this connection
        :param file_name: by whose ending the kind of ``text`` is known; a curve document if left out
        :param config: settings, written as in a configuration file
        :param folder: a folder on the feed's machine whose configuration file holds for the shot
        :param waivers: waivers that the tool keeps
        :param review: what people say of it, as the JSON of a review file
        :param document_now: gives the shot as the tool holds it now, a document or a text: asked for when the feed
            was restarted, or when the queue is full; called as callbacks are
        :param queue_limit: most keys that wait in the queue
        :param on_so_far: called about every 100 ms while a judgement takes longer than that, with ``revision``, the
            ``share`` of the work that is done, and ``notes`` on the edited nodes, which are not final
        """
        shot = Shot(
            self,
            name,
            {
                "file_name": file_name, "config": config, "folder": folder, "waivers": waivers,
                "review": review, "document_now": document_now, "queue_limit": queue_limit,
                "on_so_far": on_so_far,
            },  # fmt: skip
        )
        is_given = document is not None or text is not None or document_now is None
        content = shot._content(document, text) if is_given else shot._content_now()
        with self.changed:
            if name in self.shots:
                raise ValueError("%s is open already" % name)
            self.shots[name] = shot

        def start(done: Then) -> Callable[[], bool]:
            shot._open(content, done)
            return lambda: False

        try:
            self._ask(start, None, self.timeout)
        except BaseException:
            with self.changed:
                self.shots.pop(name, None)
            raise
        return shot

    def explain(self, check: str) -> Mapping[str, Any]:
        """All that a check says of itself."""
        return self.request("keyside/explain", {"check": check})["check"]

    def poll(self) -> int:
        """Calls back what is due, on this thread; does not wait. Gives how many callbacks were called.

        Where a callback raises, the others are called by the next poll.
        """
        count = 0
        for _ in range(len(self._due)):
            try:
                callback = self._due.popleft()
            except IndexError:
                break
            count += 1
            callback()
        return count

    def restart(self, timeout: Optional[float] = None) -> None:
        """Starts the feed again where it has ended, connects, and opens each shot as its ``document_now`` gives it.

        Shots without one are closed. Does not wait unless ``timeout`` says so: ``on_back`` is called when all is
        open, ``on_gone`` where it does not succeed. With ``timeout`` it calls back what is due meanwhile.

        :raises TimeoutError: where it takes longer than ``timeout`` seconds
        """
        self.close()
        outcome: Dict[str, Any] = {}
        thread = threading.Thread(
            target=self._restart, args=(outcome,), name="keyside feed, restarting", daemon=True
        )
        thread.start()
        if timeout is None:
            return
        until = time.monotonic() + timeout
        while "why" not in outcome:
            if time.monotonic() > until:
                raise TimeoutError("The feed did not come back in time.")
            self.poll()
            time.sleep(0.005)
        if outcome["why"] is not None:
            raise FeedGone(outcome["why"])

    def request(
        self,
        method: str,
        params: Mapping[str, Any],
        then: Optional[Then] = None,
        timeout: Optional[float] = None,
    ) -> Any:
        """Sends a request and gives its answer; with ``then`` it does not wait.

        :raises FeedError: where the feed refuses it
        :raises FeedGone: where the connection ends first
        :raises TimeoutError: where no answer comes in time
        """
        encoded = _encoded(params)

        def start(done: Then) -> Callable[[], bool]:
            self._post(method, encoded, done)
            return lambda: False

        return self._ask(start, then, self.timeout if timeout is None else timeout)

    def wait_until(self, holds: Callable[[], bool], timeout: float) -> None:
        """Waits until something that the feed sends makes a condition hold."""
        wire = self._wire
        if wire is not None and threading.current_thread() is wire.reader:
            raise RuntimeError("A callback on the client's own thread cannot wait for the feed; use `then`.")
        until = time.monotonic() + timeout
        with self.changed:
            while not holds():
                if self._wire is None:
                    raise _gone()
                left = until - time.monotonic()
                if left <= 0:
                    raise TimeoutError("The feed did not answer in time.")
                self.changed.wait(left)

    def _ask(self, start: Callable[[Then], Callable[[], bool]], then: Optional[Then], timeout: float) -> Any:
        """Starts a request; waits for its answer, or has it told."""
        if then is not None:
            tell = then
            with self.changed:
                start(lambda answer, error: self._later(lambda: tell(answer, error)))
            return None
        outcome: List[Tuple[Any, Optional[Exception]]] = []

        def done(answer: Any, error: Optional[Exception]) -> None:
            outcome.append((answer, error))
            self.changed.notify_all()

        with self.changed:
            withdraw = start(done)
        try:
            self.wait_until(lambda: bool(outcome), timeout)
        except (TimeoutError, RuntimeError):
            with self.changed:
                withdraw()
            raise
        except FeedGone:
            if not outcome:
                raise
        answer, error = outcome[0]
        if error is not None:
            raise error
        return answer

    def _post(self, method: str, params: str, then: Then) -> None:
        with self.changed:
            if self._wire is None:
                raise _gone()
            self._sent += 1
            self._requests[self._sent] = then
            self._wire.outgoing.append((method, params, self._sent))
            self.changed.notify_all()

    def _next_message(self, wire: _Wire) -> Optional[Tuple[str, str, int]]:
        if wire is not self._wire:
            return None
        if wire.outgoing:
            return wire.outgoing.popleft()
        for shot in list(self.shots.values()):
            message = shot._next_message()
            if message is not None:
                method, params, then = message
                self._sent += 1
                self._requests[self._sent] = then
                return method, params, self._sent
        return None

    def _later(self, callback: Callable[[], Any]) -> None:
        self._due.append(callback)

    def _call_due(self) -> None:
        """Calls back on a thread of the client, where the tool asked for it."""
        if self._callbacks != "at once" or not self._calling.acquire(blocking=False):
            return
        try:
            while self._due:
                try:
                    self.poll()
                except Exception:  # The tool's own mistake must not end the connection.
                    traceback.print_exc()
        finally:
            self._calling.release()

    def _connect(self) -> Mapping[str, Any]:
        wire = _Wire(self, self._host, self._port)
        with self.changed:
            self._wire = wire
        wire.start()
        try:
            return self.request("keyside/hello", {"protocols": [PROTOCOL], "token": self._token})
        except BaseException:
            with self.changed:
                self._wire = None
            wire.close()
            raise

    def _restart(self, outcome: Dict[str, Any]) -> None:
        try:
            if self._feed is not None:
                self._feed.restart()
                self._port, self._token = self._feed.port, self._feed.token
            self.server = self._connect()
        except Exception as error:
            why = "The feed could not be started again: %s" % error
            self._later(lambda: self.on_gone and self.on_gone(self, why))
            outcome["why"] = why
        else:
            self._later(lambda: self._reopen(outcome))
        self._call_due()

    def _reopen(self, outcome: Dict[str, Any]) -> None:
        closed: List[str] = []
        left = set(self.shots)

        def opened(name: str) -> Then:
            def told(_: Any, error: Optional[Exception]) -> None:
                left.discard(name)
                if error is not None:
                    closed.append(name)
                    self.shots.pop(name, None)
                if not left:
                    finish()

            return told

        def finish() -> None:
            outcome["why"] = None
            self._later(lambda: self.on_back and self.on_back(self, closed))

        try:
            for name, shot in list(self.shots.items()):
                if shot._options.get("document_now") is None:
                    shot._state = "closed"
                    opened(name)(None, _gone())
                    continue
                content = shot._content_now()
                with self.changed:
                    shot._is_afresh, shot._lacks_document, shot.judged_revision = True, False, -1
                    shot._open(content, opened(name))
            if not self.shots and not closed:
                finish()
        except FeedGone as error:
            outcome["why"] = str(error)
        except BaseException as error:
            outcome["why"] = "The tool's document could not be had: %s" % error
            raise

    def _dispatch(self, message: Mapping[str, Any]) -> None:
        with self.changed:
            params = message.get("params") or {}
            shot = self.shots.get(params.get("shot", ""))
            method = message.get("method")
            if method == "keyside/notesChanged" and shot is not None:
                shot._take(params)
            elif method == "keyside/notesSoFar" and shot is not None:
                shot._take_so_far(params)
            elif method == "keyside/reviewChanged" and shot is not None:
                shot._take_review(params["remarks"])
            elif method == "keyside/judgingFailed" and shot is not None:
                shot._fail(params["message"])
            elif method is None and message.get("id") in self._requests:
                then = self._requests.pop(message["id"])
                error = FeedError(message["error"]) if "error" in message else None
                then(message.get("result"), error)
            self.changed.notify_all()
        self._call_due()

    def _lost(self, wire: _Wire, why: str) -> None:
        with self.changed:
            if wire is not self._wire:
                return
            self._wire = None
            # At once with the wire: a shot takes no edits for a connection that is not there.
            self._drop(why)
            self._later(lambda: self.on_gone and self.on_gone(self, why))
        wire.close()
        self._call_due()

    def _drop(self, why: str) -> None:
        """Tells all who wait that the connection has ended."""
        with self.changed:
            error = FeedGone(why)
            waiting = list(self._requests.values())
            self._requests.clear()
            for shot in self.shots.values():
                waiting.extend(call.then for call in shot._lose())
            for then in waiting:
                then(None, error)
            self.changed.notify_all()


class Feed:
    """A feed that runs as a process of its own, listening on a free port of this machine. It ends with this process."""

    def __init__(self, process: "subprocess.Popen[str]", port: int, token: str, command: Sequence[str] = ()) -> None:
        self.process = process
        self.port = port
        self.token = token
        self._command = list(command)

    def __enter__(self) -> "Feed":
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def connect(self, timeout: float = 10.0, callbacks: str = "poll") -> Client:
        """A new connection to the feed; its ``restart`` starts the feed again."""
        return Client(self.port, self.token, timeout=timeout, callbacks=callbacks, feed=self)

    def restart(self) -> None:
        """Starts the feed again, unless it still runs.

        :raises RuntimeError: where it does not start
        """
        try:
            # Its connections end a moment before the process does.
            self.process.wait(1.0)
        except subprocess.TimeoutExpired:
            return
        again = start_feed(self._command)
        self.process, self.port, self.token = again.process, again.port, again.token

    def stop(self, timeout: float = 10.0) -> int:
        """Stops the feed and gives its exit code."""
        self.process.terminate()
        try:
            return self.process.wait(timeout)
        except subprocess.TimeoutExpired:
            self.process.kill()
            return self.process.wait(timeout)


def start_feed(command: Sequence[str] = ("keyside",), timeout: float = 30.0) -> Feed:
    """Starts ``keyside feed`` on a free port; the token that it prints is read from it.

    The feed ends by itself when this process has ended, however that came.

    :param command: how Keyside is called, for example ``["node", "node_modules/.bin/keyside"]``
    :raises RuntimeError: where it does not start within ``timeout`` seconds
    """
    process = subprocess.Popen(
        [*command, "feed", "--socket", "0", "--clientProcessId", str(os.getpid())],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        text=True,
    )
    lines: "queues.Queue[Optional[str]]" = queues.Queue()
    threading.Thread(target=_read_lines, args=(process, lines), name="keyside feed, output", daemon=True).start()
    found: Dict[str, str] = {}
    until = time.monotonic() + timeout
    while True:
        try:
            line = lines.get(timeout=max(0.0, until - time.monotonic()))
        except queues.Empty:
            process.kill()
            process.wait()
            raise RuntimeError("%s feed did not listen in time" % " ".join(command)) from None
        if line is None:
            code = process.wait()
            raise RuntimeError("%s feed ended with %d before it listened" % (" ".join(command), code))
        name, _, value = line.strip().partition(": ")
        found[name] = value
        if name == "token":
            return Feed(process, int(found["listening"].rpartition(":")[2]), value, command)


def _read_lines(process: "subprocess.Popen[str]", lines: "queues.Queue[Optional[str]]") -> None:
    assert process.stdout is not None
    with process.stdout as output:
        for line in output:
            lines.put(line)
    lines.put(None)


def _encoded(params: Mapping[str, Any]) -> str:
    try:
        return json.dumps(params, allow_nan=False)
    except ValueError as error:
        raise EditError("A number in it is not finite, which no message can hold (%s)." % error) from error
    except TypeError as error:
        raise EditError("It holds something that no message can hold: %s." % error) from error


def _nodes_of(content: Mapping[str, Any]) -> Optional[frozenset]:
    """Ids of the nodes of a document; None for a text, which the feed reads."""
    nodes = (content.get("document") or {}).get("nodes")
    if not isinstance(nodes, (list, tuple)):
        return None
    return frozenset(node["id"] for node in nodes if isinstance(node, dict) and "id" in node)


def _gone() -> FeedGone:
    return FeedGone("The connection to the feed ended.")


def _read_message(stream: BinaryIO) -> Optional[Mapping[str, Any]]:
    """The next message; None at the end of the stream."""
    length: Optional[int] = None
    while True:
        line = stream.readline()
        if line == b"":
            return None
        if line == b"\r\n":
            break
        name, _, value = line.partition(b":")
        if name.strip().lower() == b"content-length":
            length = int(value)
    if length is None:
        raise ValueError("A message without its length")
    body = stream.read(length)
    return json.loads(body.decode("utf-8")) if len(body) == length else None


def main(arguments: Optional[Sequence[str]] = None) -> int:
    """Prints the notes of a shot."""
    parser = argparse.ArgumentParser(description="Prints Keyside's notes on a shot.")
    parser.add_argument("shot", help="file of the shot, for example jetty_0040.curves.json")
    parser.add_argument("--command", nargs="+", default=["keyside"], help="how Keyside is called")
    options = parser.parse_args(arguments)
    path = Path(options.shot)
    with start_feed(options.command) as feed, feed.connect() as client:
        shot = client.open_shot(path.name, text=path.read_text("utf-8"), file_name=path.name)
        for note in shot.wait(60):
            first, last = note["frames"]
            print("%s  %g-%g  %s; %s" % (note["tier"], first, last, note["message"], note["suggestion"]))
    return 0


if __name__ == "__main__":
    sys.exit(main())
