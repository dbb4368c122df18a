"""Drives the host channel with the client in Python, and prints what came of it as JSON.

    python3 host_session.py CLIENT_FOLDER SHOT COMMAND...
"""

import json
import sys
from pathlib import Path

sys.path.insert(0, sys.argv[1])
from keyside_client import FeedError, remove_key, set_key, start_feed  # noqa: E402

shot_path = Path(sys.argv[2])


def main() -> dict:
    result = {}
    with start_feed(sys.argv[3:]) as feed:
        try:
            type(feed)(feed.process, feed.port, "guess").connect()
        except FeedError as error:
            result["stranger"] = error.reason
        with feed.connect() as client, feed.connect() as other:
            text = shot_path.read_text("utf-8")
            shot = client.open_shot(shot_path.name, text=text, file_name=shot_path.name)
            result["notes"] = [note["fingerprint"] for note in shot.wait(60)]
            pop = next(note for note in shot.wait() if note["check"] == "pop")
            key = pop["keys"][0]
            result["pop"] = pop["fingerprint"]
            result["explained"] = shot.explain(pop["fingerprint"])["check"]["name"]
            gone = []
            shot.on_change = lambda _, change: gone.extend(change.gone)
            client.poll()
            shot.edit([remove_key(key["node"], key["channel"], key["frame"])])
            result["fixed"] = [note["fingerprint"] for note in shot.wait(60)]
            client.poll()
            result["gone"] = gone
            try:
                shot.edit([set_key("nobody", "rotation.x", 1, 0)])
            except FeedError as error:
                result["refused"] = error.reason
            told = []
            shot.on_change = lambda _, change: told.append(change.revision)
            for frame in range(1, 40):
                shot.edit([set_key(key["node"], key["channel"], key["frame"], frame)])
            shot.wait(60)
            client.poll()
            result["revision"] = shot.revision
            result["told"] = told
            result["other"] = len(other.shots)
            shot.close()
        result["code"] = feed.stop()
    return result


print(json.dumps(main()))
