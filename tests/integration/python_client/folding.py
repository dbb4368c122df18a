"""Folds edits as the client in Python does: reads calls as JSON, and prints the requests that come of them.

    python3 folding.py CLIENT_FOLDER < RUNS
"""

import json
import sys

sys.path.insert(0, sys.argv[1])
from keyside_client import KeyQueue, checked_edits  # noqa: E402


def requests_of(run):
    queue = KeyQueue(1000)
    requests = []
    for call in run:
        if call["sends"]:
            requests.append(queue.next())
        queue.add(checked_edits(call["edits"]))
    while not queue.is_empty:
        requests.append(queue.next())
    return requests


print(json.dumps([requests_of(run) for run in json.load(sys.stdin)]))
