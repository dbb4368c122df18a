"""A client of Keyside's host channel: notes on a shot while its keys are edited.

Needs Python 3.9 or newer and its standard library alone; copy this one file into a tool. The protocol is described in
docs/host-protocol.md. A first look, with a feed that the client starts itself::

    with start_feed() as feed, feed.connect() as client:
        shot = client.open_shot("jetty_0040", text=open("jetty_0040.curves.json").read())
        for note in shot.wait():
            print(note["tier"], note["frames"], note["message"], "->", note["suggestion"])
        shot.edit([set_key("head", "rotation.x", 1027, 4.5)])
        notes = shot.wait()

``python3 keyside_client.py SHOT.curves.json`` prints a shot's notes.
"""

from __future__ import annotations

import argparse
import json
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any, BinaryIO, Callable, Mapping, Optional, Sequence

PROTOCOL = 1
"""Version of the host channel that this client speaks."""

Note = Mapping[str, Any]
"""One find; docs/host-protocol.md lists what stands in it."""

KeyEdit = Mapping[str, Any]
"""One change of a key, as :func:`set_key`, :func:`move_key` and :func:`remove_key` make it."""


def set_key(
    node: str, channel: str, frame: float, value: Any, interpolation: Optional[str] = None
) -> KeyEdit:
    """Gives the key at a frame a value, in the document's units; makes the key where there is none."""
    edit = {"kind": "set", "node": node, "channel": channel, "frame": frame, "value": value}
    return edit if interpolation is None else {**edit, "interpolation": interpolation}


def move_key(node: str, channel: str, frame: float, to_frame: float) -> KeyEdit:
    """Moves the key at a frame in time, with its handles."""
    return {"kind": "move", "node": node, "channel": channel, "frame": frame, "toFrame": to_frame}


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


class Shot:
    """A shot that is open on a connection: it counts revisions and keeps the notes that the feed tells."""

    def __init__(self, client: "Client", name: str, revision: int) -> None:
        self.name = name
        self.revision = revision
        self.judged_revision = -1
        """The revision that :attr:`notes` judge."""
        self.notes: dict[str, Note] = {}
        """Notes by fingerprint."""
        self.gone: list[str] = []
        """Fingerprints of notes that went since the last edit was sent."""
        self.failure: Optional[str] = None
        self.on_change: Optional[Callable[["Shot"], None]] = None
        """Called whenever the feed has judged a revision; on the client's reading thread, so it must not wait for
        the feed itself."""
        self._client = client

    def edit(self, edits: Sequence[KeyEdit]) -> int:
        """Makes edits, all or none, and gives the shot's new revision.

        :raises FeedError: with reason ``bad-edit`` where one of them cannot be made
        """
        return self._next("keyside/editKeys", {"edits": list(edits)})

    def replace(self, document: Optional[Mapping[str, Any]] = None, text: Optional[str] = None) -> int:
        """Puts another version of the shot in place: nodes and curves that come and go."""
        return self._next("keyside/replaceShot", _content(document, text))

    def configure(self, config: Mapping[str, Any]) -> int:
        """Judges the shot by other settings, written as in a configuration file."""
        return self._next("keyside/configureShot", {"config": dict(config)})

    def wait(self, timeout: float = 10.0) -> list[Note]:
        """Waits until the newest revision is judged and gives its notes, the heaviest first.

        :raises TimeoutError: where that takes longer than ``timeout`` seconds
        :raises FeedGone: where the connection ends meanwhile
        """
        self._client.wait_until(
            lambda: self.judged_revision == self.revision or self.failure is not None, timeout
        )
        with self._client.changed:
            failure, self.failure = self.failure, None
            if failure is not None:
                raise FeedError({"message": failure})
            return sorted(self.notes.values(), key=lambda note: -note["weight"])

    def explain(self, fingerprint: str) -> Mapping[str, Any]:
        """All about a note: the check that found it, and the series behind it."""
        return self._client.request(
            "keyside/explain", {"shot": self.name, "fingerprint": fingerprint}
        )

    def close(self) -> None:
        """Closes the shot; the feed says nothing more about it."""
        self._client.request("keyside/closeShot", {"shot": self.name})
        with self._client.changed:
            self._client.shots.pop(self.name, None)

    def _next(self, method: str, params: Mapping[str, Any]) -> int:
        revision = self.revision + 1
        # Counted before it is sent: the feed may tell of it before it is answered.
        with self._client.changed:
            self.revision = revision
            self.gone.clear()
        try:
            self._client.request(method, {"shot": self.name, "revision": revision, **params})
        except FeedError as error:
            self.revision = error.data.get("revision", revision - 1)
            raise
        return revision

    def _take(self, message: Mapping[str, Any]) -> None:
        for fingerprint in message["gone"]:
            self.notes.pop(fingerprint, None)
            self.gone.append(fingerprint)
        for note in [*message["added"], *message["changed"]]:
            self.notes[note["fingerprint"]] = note
        self.judged_revision = message["revision"]
        self.failure = None


class Client:
    """A connection to a feed that listens on a socket (``keyside feed --socket PORT``)."""

    def __init__(self, port: int, token: str, host: str = "127.0.0.1", timeout: float = 10.0) -> None:
        """Connects and says hello.

        :raises OSError: where nobody listens there
        :raises FeedError: with reason ``wrong-token`` or ``unsupported-protocol``
        """
        self.changed = threading.Condition()
        self.shots: dict[str, Shot] = {}
        self.timeout = timeout
        self._answers: dict[int, Mapping[str, Any]] = {}
        self._sent = 0
        self._is_gone = False
        self._sending = threading.Lock()
        self._socket = socket.create_connection((host, port), timeout)
        self._socket.settimeout(None)
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._thread = threading.Thread(target=self._read, name="keyside feed", daemon=True)
        self._thread.start()
        self.server = self.request("keyside/hello", {"protocols": [PROTOCOL], "token": token})
        """What the feed said of itself: its version and its checks."""

    def __enter__(self) -> "Client":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Ends the connection, and with it the feed's work on its shots."""
        try:
            self._socket.shutdown(socket.SHUT_RDWR)
        except OSError:
            pass
        self._socket.close()
        if threading.current_thread() is not self._thread:
            self._thread.join(self.timeout)

    def open_shot(
        self,
        name: str,
        document: Optional[Mapping[str, Any]] = None,
        text: Optional[str] = None,
        file_name: Optional[str] = None,
        config: Optional[Mapping[str, Any]] = None,
        folder: Optional[str] = None,
    ) -> Shot:
        """Opens a shot, as a document or as the text of a file.

        :param name: what the shot is called on this connection
        :param file_name: by whose ending the kind of ``text`` is known; a curve document if left out
        :param config: settings, written as in a configuration file
        :param folder: a folder on the feed's machine whose configuration file holds for the shot
        """
        params: dict[str, Any] = {"shot": name, "revision": 0, **_content(document, text)}
        for key, value in (("fileName", file_name), ("config", config), ("folder", folder)):
            if value is not None:
                params[key] = value
        shot = Shot(self, name, 0)
        with self.changed:
            if name in self.shots:
                raise ValueError(f"{name} is open already")
            self.shots[name] = shot
        try:
            self.request("keyside/openShot", params)
        except BaseException:
            with self.changed:
                self.shots.pop(name, None)
            raise
        return shot

    def explain(self, check: str) -> Mapping[str, Any]:
        """All that a check says of itself."""
        return self.request("keyside/explain", {"check": check})["check"]

    def request(self, method: str, params: Mapping[str, Any]) -> Any:
        """Sends a request and gives its answer.

        :raises FeedError: where the feed refuses it
        :raises FeedGone: where the connection ends first
        :raises TimeoutError: where no answer comes in time
        """
        with self._sending:
            self._sent += 1
            own = self._sent
            self._send({"jsonrpc": "2.0", "id": own, "method": method, "params": params})
        self.wait_until(lambda: own in self._answers, self.timeout)
        with self.changed:
            answer = self._answers.pop(own)
        if "error" in answer:
            raise FeedError(answer["error"])
        return answer.get("result")

    def wait_until(self, holds: Callable[[], bool], timeout: float) -> None:
        """Waits until something that the feed sends makes a condition hold."""
        until = time.monotonic() + timeout
        with self.changed:
            while not holds():
                if self._is_gone:
                    raise FeedGone("The connection to the feed ended.")
                left = until - time.monotonic()
                if left <= 0:
                    raise TimeoutError("The feed did not answer in time.")
                self.changed.wait(left)

    def _send(self, message: Mapping[str, Any]) -> None:
        body = json.dumps(message, allow_nan=False).encode("utf-8")
        try:
            self._socket.sendall(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        except OSError as error:
            raise FeedGone(f"The connection to the feed ended: {error}") from error

    def _read(self) -> None:
        try:
            with self._socket.makefile("rb") as stream:
                while True:
                    message = _read_message(stream)
                    if message is None:
                        return
                    self._dispatch(message)
        except (OSError, ValueError):
            return
        finally:
            with self.changed:
                self._is_gone = True
                self.changed.notify_all()

    def _dispatch(self, message: Mapping[str, Any]) -> None:
        judged: Optional[Shot] = None
        with self.changed:
            params = message.get("params") or {}
            shot = self.shots.get(params.get("shot", ""))
            if message.get("method") == "keyside/notesChanged" and shot is not None:
                shot._take(params)
                judged = shot
            elif message.get("method") == "keyside/judgingFailed" and shot is not None:
                shot.failure = params["message"]
            elif "method" not in message and message.get("id") is not None:
                self._answers[message["id"]] = message
            self.changed.notify_all()
        if judged is not None and judged.on_change is not None:
            judged.on_change(judged)


class Feed:
    """A feed that runs as a process of its own, listening on a free port of this machine."""

    def __init__(self, process: "subprocess.Popen[str]", port: int, token: str) -> None:
        self.process = process
        self.port = port
        self.token = token

    def __enter__(self) -> "Feed":
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def connect(self, timeout: float = 10.0) -> Client:
        """A new connection to the feed."""
        return Client(self.port, self.token, timeout=timeout)

    def stop(self, timeout: float = 10.0) -> int:
        """Stops the feed and gives its exit code."""
        self.process.terminate()
        code = self.process.wait(timeout)
        if self.process.stdout is not None:
            self.process.stdout.close()
        return code


def start_feed(command: Sequence[str] = ("keyside",)) -> Feed:
    """Starts ``keyside feed`` on a free port; the token that it prints is read from it.

    :param command: how Keyside is called, for example ``["node", "node_modules/.bin/keyside"]``
    :raises RuntimeError: where it does not start
    """
    process = subprocess.Popen(
        [*command, "feed", "--socket", "0"], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    found: dict[str, str] = {}
    for line in process.stdout:
        name, _, value = line.strip().partition(": ")
        found[name] = value
        if name == "token":
            return Feed(process, int(found["listening"].rpartition(":")[2]), value)
    process.stdout.close()
    raise RuntimeError(f"{' '.join(command)} feed ended with {process.wait()} before it listened")


def _content(document: Optional[Mapping[str, Any]], text: Optional[str]) -> dict[str, Any]:
    if (document is None) == (text is None):
        raise ValueError("A shot is given as a document or as a text")
    return {"document": document} if document is not None else {"text": text}


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
            print(f"{note['tier']}  {first:g}-{last:g}  {note['message']}; {note['suggestion']}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
