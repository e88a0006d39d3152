"""One peer, so many packets; prints CPU seconds by packet and the peak of its memory in MB."""

import importlib
import json
import resource
import sys
import time

module, content, out, count = sys.argv[1:]
papers = json.load(open(content))
make = importlib.import_module(module).make
spent = []
for number in range(int(count)):
    before = time.process_time()
    for name, blocks in papers.items():
        # Another patient's name each time, as in a clinic.
        make([{**it, "text": f"{it['text']} {number}"} if "text" in it else it for it in blocks], f"{out}/{name}.pdf")
    spent.append(time.process_time() - before)
print(json.dumps({"cpu": spent, "peak": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000}))
