"""A tool that starts a feed, says which process that is, and goes on until it is killed.

    python3 tool.py CLIENT_FOLDER COMMAND...
"""

import sys
import time

sys.path.insert(0, sys.argv[1])
from keyside_client import start_feed  # noqa: E402

feed = start_feed(sys.argv[2:])
client = feed.connect()
print(feed.process.pid, flush=True)
while True:
    time.sleep(1)
