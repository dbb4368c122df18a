"""Does with the client in Python what tools do, and prints what came of it as JSON.

    python3 session.py CLIENT_FOLDER DOCUMENT COMMAND...
"""

import copy
import json
import math
import sys
import threading
import time
from pathlib import Path

sys.path.insert(0, sys.argv[1])
from keyside_client import (  # noqa: E402
    CHANNELS,
    INTERPOLATIONS,
    EditError,
    FeedError,
    FeedGone,
    QueueFull,
    in_order,
    move_key,
    remove_key,
    set_key,
    start_feed,
)

document = json.loads(Path(sys.argv[2]).read_text("utf-8"))
smooth = {frame: value for frame, value in document["curves"][0]["keys"]}
place = ("point", "translation.x")


def at(frame, value):
    return set_key(*place, frame, value)


def checks(shot):
    return [note["check"] for note in shot.notes.values()]


def pop_of(shot):
    return next(note for note in shot.notes.values() if note["check"] == "pop")


def sentence(call):
    try:
        call()
    except (EditError, FeedError, FeedGone, QueueFull) as error:
        return "%s: %s" % (type(error).__name__, error)
    return None


def queueing(client):
    shot = client.open_shot("queueing", document)
    shot.wait(60)
    longest = 0.0
    for step in range(1, 501):
        began = time.perf_counter()
        shot.queue([at(18, step / 100)])
        longest = max(longest, time.perf_counter() - began)
    shot.wait(60)
    found = {"checks": checks(shot), "revisions": shot.revision, "frame": pop_of(shot)["keys"][0]["frame"]}
    # Behind what is queued, and before what is queued afterwards.
    shot.queue([at(18, 5)])
    shot.edit([at(18, smooth[18])])
    shot.queue([at(19, smooth[19])])
    shot.wait(60)
    return {**found, "after": checks(shot)}


def odd(client):
    shot = client.open_shot("odd", document)
    edits = [
        at(18, math.nan), at(math.inf, 1), at(18, 1e13), {**at(18, 1), "channel": "translation.w"},
        {**at(18, 1), "node": "pint"}, {**at(18, 1), "node": ""}, {**at(18, 1), "kind": "sett"}, at(18, "3"),
        at(18, True), {**at(18, 1), "channel": "rotation"}, {**at(18, [0, 0, 0, 0]), "channel": "rotation"},
        set_key(*place, 18, 1, "wavy"), set_key(*place, 18, 1, handles={"in": [1, 2, 3]}),
        set_key(*place, 18, 1, handles={"out": [1, math.nan]}), move_key(*place, 18, math.nan),
    ]  # fmt: skip
    said = [sentence(lambda edit=edit: shot.queue([at(19, 1), edit])) for edit in edits]
    waited = [sentence(lambda edit=edit: shot.edit([edit])) for edit in edits]
    broken = {**document, "shot": {**document["shot"], "range": [1, math.nan]}}
    replaced = sentence(lambda: shot.replace(broken))
    before = (shot.revision, shot.waiting)
    shot.edit([at(18, 3)])
    return {"queue": said, "edit": waited, "replace": replaced, "before": before, "after": shot.revision}


def refused(client):
    shot = client.open_shot("refused", document)
    shot.wait(60)
    told = []
    shot.on_refused = lambda _, refusal: told.append([refusal.edits, refusal.error.reason])
    shot.queue([at(18, 3), remove_key(*place, 18.5)])
    shot.wait(60)
    early = len(told)
    client.poll()
    return {"early": early, "told": told, "revision": shot.revision, "checks": checks(shot)}


def full(client):
    shot = client.open_shot("full", document, queue_limit=2)
    said = sentence(lambda: shot.queue([at(1, 0), at(2, 0), at(3, 0)]))
    asked = []

    def document_now():
        asked.append(threading.current_thread() is threading.main_thread())
        now = copy.deepcopy(document)
        now["curves"][0]["keys"][17][1] = 3
        return now

    other = client.open_shot("full too", document, document_now=document_now, queue_limit=2)
    other.queue([at(1, 0), at(2, 0), at(18, 3)])
    client.poll()
    other.wait(60)
    return {"said": said, "asked": asked, "frame": pop_of(other)["keys"][0]["frame"]}


def polling(client):
    shot = client.open_shot("polling", document)
    told = []
    shot.on_change = lambda _, change: told.append([change.revision, threading.current_thread().name])
    shot.wait(60)
    shot.queue([at(18, 3)])
    shot.wait(60)
    early = len(told)
    client.poll()
    answers = []
    fingerprint = pop_of(shot)["fingerprint"]
    shot.explain(fingerprint, then=lambda answer, error: answers.append(answer["check"]["name"]))
    until = time.monotonic() + 60
    while not answers and time.monotonic() < until:
        client.poll()
        time.sleep(0.002)
    return {"early": early, "told": told, "answers": answers}


def at_once(feed):
    with feed.connect(callbacks="at once") as client:
        shot = client.open_shot("at once", document)
        told = []
        waits = []

        def changed(judged, change):
            told.append([change.revision, threading.current_thread().name])
            try:
                judged.edit([at(18, 3)])
            except RuntimeError as error:
                waits.append(str(error))

        shot.on_change = changed
        shot.queue([at(19, smooth[19])])
        until = time.monotonic() + 60
        while not waits and time.monotonic() < until:
            time.sleep(0.002)
        return {"told": told[-1], "waits": waits[0]}


# By tier, then by how plainly they are seen; "weight" numbers them.
shuffled = [
    {"tier": tier, "weight": weight, "rank": {"plainness": plainness}, "frames": [1, 2], "fingerprint": "a"}
    for tier, weight, plainness in [("minor", 0.9, 9), ("major", 0.8, 1), ("major", 0.7, 3)]
]


def fixing(client):
    shot = client.open_shot("fixing", document)
    before = sorted(note["fingerprint"] for note in shot.wait(60))
    shot.edit([at(18, 3)])
    shot.wait(60)
    pop = pop_of(shot)["fingerprint"]
    answer = shot.fix(pop)
    shot.queue(answer["fix"]["edits"])
    shot.wait(60)
    fixed = pop in shot.notes
    shot.queue([at(18, 3)])
    shot.wait(60)
    waiver = shot.waive(pop, "She hiccups.", "Ana")
    shot.wait(60)
    waived = pop in shot.notes
    shot.set_waivers([])
    shot.wait(60)
    back = pop in shot.notes
    # Undo is made of edits too.
    shot.queue([at(18, smooth[18])])
    shot.wait(60)
    return {
        "revision": answer["revision"], "fixed": fixed, "waiver": waiver, "waived": waived, "back": back,
        "ordered": [note["weight"] for note in in_order(shuffled)], "undone": sorted(shot.notes) == before, "check": client.explain("pop")["name"],
    }  # fmt: skip


def reviewing(client):
    shot = client.open_shot("reviewing", document)
    told = []
    shot.on_review = lambda told_shot: told.append(len(told_shot.remarks))
    shot.wait(60)
    target = {"node": "point", "frames": [10, 12]}
    plane = {"origin": [0, 0, 0], "normal": [0, 0, 1]}
    line = {"frame": 10, "plane": plane, "points": [[0, 0.2, 0], [2, 0.2, 0]], "target": target}
    remark = {"text": "Slower.", "weight": "must", "node": "point", "frames": [10, 12], "strokes": [line]}
    [made] = shot.change_review([{"kind": "add", "remark": remark}], by="Ana")
    client.wait_until(lambda: len(shot.remarks) == 1, 60)
    first = shot.remarks[0]
    shot.change_review([{"kind": "mark", "of": made, "state": "done"}], by="Ana")
    client.wait_until(lambda: shot.remarks[0]["state"] == "done", 60)
    refused = sentence(lambda: shot.change_review([{"kind": "remove", "id": "nothing"}], by="Ana"))
    kept = shot.review
    problems = shot.set_review({"format": "keyside.review", "version": 1, "entries": [None]})
    client.wait_until(lambda: len(shot.remarks) == 0, 60)
    client.poll()
    return {
        "isOwn": made == first["id"], "by": first["by"], "mean": first["targets"][0]["mean"],
        "frames": [key["frame"] for key in first["keys"]], "refused": refused, "problems": problems,
        "entries": len(kept["entries"]), "told": told[-1:],
    }  # fmt: skip


def so_far(client):
    """Opens so many points that judging them takes far longer than the time after which a client hears of it."""
    names = ["point%d" % index for index in range(600)]
    many = copy.deepcopy(document)
    many["nodes"] = [{**node, "id": name} for name in names for node in many["nodes"]]
    many["curves"] = [{**curve, "node": name} for name in names for curve in many["curves"]]
    heard = []
    shot = client.open_shot("so far", many, on_so_far=lambda _, found: heard.append(found))
    until = time.monotonic() + 60
    while not shot.is_settled and time.monotonic() < until:
        client.poll()
        time.sleep(0.002)
    client.poll()
    shares = [found["share"] for found in heard]
    shot.close()
    return {
        "revisions": sorted({found["revision"] for found in heard}),
        "grows": shares == sorted(shares) and len(set(shares)) == len(shares),
        "within": all(0 < share < 1 for share in shares),
        "settled": shot.judged_revision,
    }


def dying(command):
    feed = start_feed(command)
    client = feed.connect()
    value = smooth[18]

    def document_now():
        now = copy.deepcopy(document)
        now["curves"][0]["keys"][17][1] = value
        return now

    shot = client.open_shot("dying", document_now=document_now)
    other = client.open_shot("without", document)
    shot.wait(60)
    gone, back = [], []
    client.on_gone = lambda _, why: gone.append(why)
    client.on_back = lambda _, closed: back.append(closed)
    feed.process.kill()
    until = time.monotonic() + 60
    while not client.is_gone and time.monotonic() < until:
        time.sleep(0.002)
    early = len(gone)
    client.poll()
    value = 3
    shot.queue([at(18, value)])
    without = sentence(lambda: other.queue([at(18, value)]))
    waited = sentence(lambda: shot.edit([at(18, value)]))
    began = time.perf_counter()
    client.restart()
    returned = time.perf_counter() - began
    until = time.monotonic() + 60
    while not back and time.monotonic() < until:
        client.poll()
        time.sleep(0.002)
    shot.wait(60)
    found = {"early": early, "gone": list(gone), "back": list(back), "without": without, "waited": waited}
    found.update(frame=pop_of(shot)["keys"][0]["frame"], quick=returned < 60)
    feed.process.kill()
    feed.process.wait()
    client.restart(60)
    found["again"] = checks(shot) if shot.wait(60) else []
    client.close()
    feed.stop()
    return found


def main():
    command = sys.argv[3:]
    with start_feed(command) as feed, feed.connect() as client:
        result = {
            "queueing": queueing(client), "odd": odd(client), "refused": refused(client), "full": full(client),
            "polling": polling(client), "atOnce": at_once(feed), "fixing": fixing(client),
            "reviewing": reviewing(client), "soFar": so_far(client),
        }  # fmt: skip
    result["dying"] = dying(command)
    result["channels"] = CHANNELS
    result["interpolations"] = INTERPOLATIONS
    return result


print(json.dumps(main()))
